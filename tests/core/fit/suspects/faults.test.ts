/**
 * Each fault that the fit suspects is named first in a book that has it, and nothing is in books without. A handful of seeds
 * each; the rates over 200 of each are in tests/studies/suspects.study.ts.
 */
import { describe, expect, it } from 'vitest'
import { answerFor, solutionJson, solveStation } from '../../../../src/core/fit/solution.ts'
import { withOffer } from '../../../../src/core/fit/suspects/offer.ts'
import { withDismissed } from '../../../../src/core/records/dismissed.ts'
import type { StationRecord } from '../../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../../src/core/records/intake.ts'
import type { SuspectKind } from '../../../../src/core/records/solution.ts'
import { stationFromRecord } from '../../../../src/core/records/stationintake.ts'
import { type Book, drawBook, FAULTS } from '../../../helpers/faultybooks.ts'
import { bookOf, START_MS, utcOf } from '../../../helpers/simulate.ts'
import { suspectsOf } from '../../../helpers/suspects.ts'

const known = new WeakMap<StationRecord, ReturnType<typeof suspectsOf>>()
/** Asked once of each record. */
function suspectsIn(record: StationRecord) {
  const suspects = known.get(record) ?? suspectsOf(solveStation(stationFromRecord(record)))
  known.set(record, suspects)
  return suspects
}

const drawn = new Map<string, Book>()
/** The first book of a fault from a seed on; drawn once. */
function bookWith(kind: SuspectKind, from: number): Book {
  const key = `${kind} ${from}`
  let book = drawn.get(key) ?? null
  for (let seed = from; book === null; seed++) book = FAULTS[kind](seed)
  drawn.set(key, book)
  return book
}

const SEEDS: [SuspectKind, number][] = [
  ['reading-sense', 100_000],
  ['east-west-swapped', 100_000],
  ['readings-swapped', 100_000],
  ['wrong-body', 100_000],
  ['lost-motion', 100_002],
  ['feed-moved', 100_002],
  ['scale-far', 100_003],
  ['marked-always', 100_002],
]

describe('a fault of the book', () => {
  it.each(SEEDS)('%s is named first', (kind, from) => {
    const { record, seed } = bookWith(kind, from)
    expect(suspectsIn(record)[0]?.kind, `seed ${seed}`).toBe(kind)
  })

  it.each(['reading-sense', 'east-west-swapped', 'readings-swapped', 'wrong-body', 'marked-always'] as const)(
    '%s accepted makes a legal book in which nothing is suspected any more',
    kind => {
      const { record } = bookWith(kind, 100_000)
      const [first] = suspectsIn(record)
      const mended = withOffer(record, first!.offer!, 'accepted')
      expect(checkFieldBook(bookOf(mended))).toEqual([])
      expect(suspectsIn(mended).map(s => s.kind)).toEqual([])
    },
  )

  it('is not suspected in six sound books, levels, marks, changes and a plain blunder among them', () => {
    let count = 0
    for (let seed = 200_000; count < 6; seed++) {
      const book = drawBook(seed)
      if (book === null) continue
      count++
      expect(suspectsIn(book.record), `seed ${seed}`).toEqual([])
    }
  })
})

describe('a suspect that stands', () => {
  const now = START_MS + 23 * 86_400_000
  const solved = (record: StationRecord) => solutionJson(answerFor(stationFromRecord(record), now), utcOf(now))
  const { record } = bookWith('wrong-body', 100_000)

  it('keeps the mount from being called within tolerance, and is the reason given', () => {
    const { sky } = solved({ ...record, tolerance: { echoLossDb: 50 } })
    expect(sky.within).toBe(false)
    expect(sky.whyNot[0]).toEqual({ kind: 'suspect', suspect: 'wrong-body' })
  })

  it('no longer does once the person has put it aside', () => {
    const [suspect] = suspectsIn(record)
    const { sky } = solved({ ...withDismissed(record, suspect!), tolerance: { echoLossDb: 50 } })
    expect(sky.whyNot).toEqual([])
    expect(sky.within).toBe(true)
  })
})
