/**
 * The batch command: the core's answers at the desk. A thin router over core/questions.ts; results on stdout and
 * nothing else, messages on stderr. Exit 0; 1 for a bad file or an unknown name; 2 for wrong usage.
 */
import { readFileSync, statSync } from 'node:fs'
import { version } from '../../package.json'
import { check, recipe, recipeText, report, reportText, solve, targets, windowsText } from '../core/questions.ts'
import { type Answer, lineFromFault, no } from '../core/records/answer.ts'
import type { FieldBook } from '../core/records/fieldbook.ts'
import { LARGEST_FILE, readFieldBook, tooLarge } from '../core/records/intake.ts'
import { quoted } from '../core/records/shown.ts'
import { type Command, parseArguments } from './arguments.ts'

interface Outcome {
  exit: 0 | 1 | 2
  stdout: string
  /** Lines without their ends. */
  stderr: string[]
}

const done = (stdout: string): Outcome => ({ exit: 0, stdout, stderr: [] })
const failed = (exit: 1 | 2, stderr: string[]): Outcome => ({ exit, stdout: '', stderr })

/** The text of a file. Size first: a huge one is not read at all. Bytes that are not UTF-8 are refused, not replaced. */
function textOfFile(file: string): Answer<string> {
  let bytes: Uint8Array
  try {
    const { size } = statSync(file)
    if (size > LARGEST_FILE) return { ok: false, faults: [tooLarge(size)] }
    bytes = readFileSync(file)
  } catch (error) {
    const code = (error as { code?: string }).code
    const why =
      { ENOENT: 'there is no such file', EISDIR: 'it is a folder', EACCES: 'no permission' }[code ?? ''] ??
      code ??
      'unknown cause'
    return no('', `cannot read ${quoted(file, 500)}: ${why}`)
  }
  try {
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(bytes) }
  } catch {
    return no('', 'the file is not text in UTF-8')
  }
}

/** `1 station, 18 sightings, 0 levels` */
const counted = (counts: Record<string, number>): string =>
  Object.entries(counts)
    .map(([what, n]) => `${n} ${n === 1 ? what.replace(/s$/, '') : what}`)
    .join(', ')

function answer(command: Command, text: string, now: string): Answer<string> {
  if (command.verb === 'check') {
    const checked = check(text)
    return checked.ok ? { ok: true, value: `ok: ${counted(checked.value.counts)}\n` } : checked
  }
  const book: Answer<FieldBook> = readFieldBook(text)
  if (!book.ok) return book
  const about = {
    now,
    ...(command.station !== undefined && { station: command.station }),
    ...(command.feed !== undefined && { feed: command.feed }),
  }
  if (command.table !== undefined) return targets(book.value, { ...about, ...command.table })
  if (command.windows !== undefined) return windowsText(book.value, { ...about, ...command.windows, as: 'csv' })
  if (command.verb === 'recipe' && command.asText) return recipeText(book.value, about)
  if (command.verb === 'report' && command.asText)
    return reportText(book.value, { ...about, program: `Moonplumb ${version}` })
  const found =
    command.verb === 'recipe'
      ? recipe(book.value, about)
      : command.verb === 'report'
        ? report(book.value, about)
        : solve(book.value, about)
  return found.ok ? { ok: true, value: `${JSON.stringify(found.value, null, 2)}\n` } : found
}

/**
 * Runs the command.
 *
 * @param args      the words after the command's own name
 * @param clockUtc  the machine's clock, asked only without --now
 */
export function run(args: readonly string[], clockUtc: () => string): Outcome {
  const parsed = parseArguments(args)
  if (parsed.kind !== 'command') return failed(parsed.kind === 'usage' ? 2 : 1, [parsed.why])
  const { command } = parsed
  const text = textOfFile(command.file)
  if (!text.ok) return failed(1, text.faults.map(lineFromFault))
  try {
    const result = answer(command, text.value, command.now ?? clockUtc())
    return result.ok ? done(result.value) : failed(1, result.faults.map(lineFromFault))
  } catch (error) {
    // A mistake in the program, not in the file. Still one line, for whoever pipes this.
    const message = error instanceof Error ? error.message : String(error)
    return failed(1, [`Moonplumb made a mistake, please report it: ${message.replace(/\s+/g, ' ')}`])
  }
}
