/**
 * 10 000 seeded mutants of field books through the intake, the merge, the book and its store and, where they are legal, the
 * solution: nothing may throw, nothing may be half taken in, as the store says when it is read again. At least 30 % must parse as JSON and 5 % be legal, or they test nothing.
 */
import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import { readdirSync, readFileSync } from 'node:fs'
import { solve, targets } from '../../src/core/questions.ts'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { readFieldBook } from '../../src/core/records/intake.ts'
import { merge, withArrivals } from '../../src/core/records/merge.ts'
import { recordsFromBook } from '../../src/core/records/revisions.ts'
import { bookFromRecords } from '../../src/core/records/stored.ts'
import { createBook } from '../../src/state/book.ts'
import { openStore } from '../../src/store/records.ts'
import { mutant } from '../helpers/mutants.ts'
import { seeded } from '../helpers/random.ts'
import { smallBook } from '../helpers/smallbook.ts'

const MUTANTS = 10_000
/** One in this many legal mutants is also solved. */
const SOLVE_EACH = 10
const NOW = '2026-11-25T12:00:00Z'

export default async function study() {
  const examples = readdirSync('tests/examples')
    .filter(name => name.endsWith('.fieldbook.json'))
    .map(name => JSON.parse(readFileSync(`tests/examples/${name}`, 'utf8')))
  const books = [smallBook(), ...examples]
  const random = seeded(20_261_125)
  const figures = { mutants: MUTANTS, parse: 0, legal: 0, solved: 0, uncaught: 0, halfImports: 0, notFinite: 0 }
  const first: string[] = []
  for (let k = 0; k < MUTANTS; k++) {
    const text = mutant(books[k % books.length], random)
    try {
      try {
        JSON.parse(text)
        figures.parse++
      } catch {
        // broken as text
      }
      const read = readFieldBook(text)
      if (!read.ok) {
        if (read.faults.length === 0 || read.faults.some(f => f.rule.includes('\n')))
          throw new Error('a refusal without one clear line')
        continue
      }
      figures.legal++
      if (!isWhole(read.value)) figures.halfImports++
      if (!(await isWholeInStore(read.value, `mutant-${k}`))) figures.halfImports++
      if (figures.legal % SOLVE_EACH !== 0 || read.value.stations.length === 0) continue
      const station = read.value.stations[0]!
      const one: FieldBook = { ...read.value, stations: [station] }
      const solved = solve(one, { now: NOW })
      const table = targets(one, { now: NOW, target: { type: 'moon' }, fromUtc: NOW, hours: 3, stepS: 1800 })
      figures.solved++
      if (!solved.ok || !table.ok || /null,|NaN|Infinity/.test(table.ok ? table.value : 'NaN')) figures.notFinite++
      else if (!isAllFinite(solved.value)) figures.notFinite++
    } catch (error) {
      figures.uncaught++
      if (first.length < 5) first.push(String(error))
    }
  }
  if (first.length > 0) console.error(first.join('\n'))
  const isGood =
    figures.uncaught === 0 &&
    figures.halfImports === 0 &&
    figures.notFinite === 0 &&
    figures.parse >= 0.3 * MUTANTS &&
    figures.legal >= 0.05 * MUTANTS
  if (!isGood) throw new Error(`mutants: ${JSON.stringify(figures)}`)
  return figures
}

/** Taken in by merge, into an empty book, and written out again: the same book, to the last unknown field. */
function isWhole(book: FieldBook): boolean {
  const merged = merge([], book)
  const records = withArrivals([], [...merged.added, ...merged.updated], 1, 'study')
  const back = bookFromRecords(records, book.exportedUtc)
  const again = recordsFromBook(back)
  return JSON.stringify(again) === JSON.stringify(recordsFromBook(book)) && merged.conflicts.length === 0
}

/** Into an empty phone, read again from its store by another page, and out: the same book, and undo leaves nothing of it. */
async function isWholeInStore(book: FieldBook, name: string): Promise<boolean> {
  const open = () => openStore({ name, app: 'study', second: null })
  const [first, second] = [open(), open()]
  const page = createBook(first)
  await page.load()
  const brought = await bringIn(page, book)
  const later = createBook(second)
  await later.load()
  const wanted = recordsFromBook(book)
  const there = recordsFromBook(bookFromRecords(later.records.value, book.exportedUtc))
  const isThere = brought === wanted.length && JSON.stringify(there) === JSON.stringify(wanted)
  await page.undo()
  await later.load()
  const isGone = later.records.value.every(record => record.deleted)
  for (const store of [first, second]) store.close()
  return isThere && isGone
}

/** Every number in a plain value is finite. */
function isAllFinite(x: unknown): boolean {
  if (typeof x === 'number') return Number.isFinite(x)
  if (x === null || typeof x !== 'object') return true
  return Object.values(x).every(isAllFinite)
}
