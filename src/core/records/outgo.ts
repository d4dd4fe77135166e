/**
 * A field book goes out: the text of its file. What came in through the intake goes out the same, unknown fields too.
 */
import type { FieldBook } from './fieldbook.ts'

/**
 * JSON indented by two, keys in their order, one newline at the end. Lone surrogates leave as \uXXXX escapes, so the
 * file is valid UTF-8 whatever a name holds.
 *
 * @throws RangeError  a number is not finite: JSON would write null in its place, and the loss would go unseen
 */
export function writeFieldBook(book: FieldBook): string {
  const text = JSON.stringify(
    book,
    (key, value: unknown) => {
      if (typeof value === 'number' && !Number.isFinite(value)) {
        throw new RangeError(`writeFieldBook: every number must be finite, got ${value} at ${key}`)
      }
      return value
    },
    2,
  )
  return `${text}\n`
}
