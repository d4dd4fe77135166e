/**
 * Writing a field book: the text of its file. What was read by the intake is written unchanged, unknown fields too, and
 * a book that was read within the largest size is written within it.
 */
import type { FieldBook } from './fieldbook.ts'
import { LARGEST_FILE, utf8Bytes } from './jsontext.ts'

/** JSON; every number finite. */
function jsonOf(book: FieldBook, indent: number, leaveOutFirst: boolean): string {
  return JSON.stringify(
    book,
    (key, value: unknown) => {
      if (typeof value === 'number' && !Number.isFinite(value)) {
        throw new RangeError(`writeFieldBook: every number must be finite, got ${value} at ${key}`)
      }
      // A record without a number is taken for its first revision.
      return leaveOutFirst && key === 'revision' && value === 1 ? undefined : value
    },
    indent,
  )
}

/** A string, or a number that JSON writes out in zeros. */
const STRING_OR_ZEROS = /"[^"\\]*(?:\\.[^"\\]*)*"|(?<![\d.])([1-9]\d*?)(0{3,})(?![\d.eE])|(?<!\d)0\.(0{3,})(\d+)/g

/** 1000000 as 1e6: the file that was read may have had short numbers. */
const shortNumbers = (json: string): string =>
  json.replace(STRING_OR_ZEROS, (all, digits?: string, zeros?: string, small?: string, rest?: string) =>
    digits !== undefined
      ? `${digits}e${zeros!.length}`
      : small !== undefined
        ? `${rest}e-${small.length + rest!.length}`
        : all,
  )

const fits = (text: string, most: number): boolean => text.length * 3 <= most || utf8Bytes(text) <= most

/**
 * JSON indented by two, keys in their order, one newline at the end; without indents where the file would be too large with
 * them, and without what says nothing where it still would be. Lone surrogates leave as \uXXXX escapes, so the file is valid
 * UTF-8 whatever a name holds.
 *
 * @param most  bytes; a text that is larger all the same is returned as it is
 * @throws RangeError  a number is not finite: JSON would write null in its place, and the loss would go unseen
 */
export function writeFieldBook(book: FieldBook, most = LARGEST_FILE): string {
  const indented = `${jsonOf(book, 2, false)}\n`
  if (fits(indented, most)) return indented
  const compact = `${jsonOf(book, 0, false)}\n`
  return fits(compact, most) ? compact : shortNumbers(jsonOf(book, 0, true))
}
