/**
 * What is suspected, over many invented field books: 200 with each fault and 200 without (tests/helpers/faultybooks.ts has
 * the sizes). Found: named first. Rival: named beside the first. Also a clock's found share by mount and size, and how well
 * a slipped counter is placed and mended by accepting what is offered.
 */
import { solveStation } from '../../src/core/fit/solution.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { type Accepted, acceptedTrial } from '../helpers/accepted.ts'
import { type Book, drawBook, FAULTS } from '../helpers/faultybooks.ts'
import type { ReadoutKind } from '../helpers/simulate.ts'
import { suspectsOf } from '../helpers/suspects.ts'

const BOOKS = 200
const SLIPS = 16
const FROM = 400_000

const share = (part: number, of: number): number => Number((part / Math.max(1, of)).toFixed(3))

interface Judged {
  book: Book
  first: string
  rivals: string[]
  count: number
}

function judged(draw: (seed: number) => Book | null, count: number): Judged[] {
  const out: Judged[] = []
  for (let seed = FROM; out.length < count; seed++) {
    const book = draw(seed)
    if (book === null) continue
    const suspects = suspectsOf(solveStation(stationFromRecord(book.record)))
    out.push({
      book,
      first: suspects[0]?.kind ?? 'nothing',
      rivals: suspects[0]?.rivals.map(r => r.kind) ?? [],
      count: suspects.length,
    })
  }
  return out
}

const table = (list: readonly Judged[]): Record<string, number> => {
  const named: Record<string, number> = {}
  for (const { first } of list) named[first] = (named[first] ?? 0) + 1
  return named
}

function placing(list: readonly Accepted[]) {
  const found = list.filter(t => t.found)
  const ratios = found.map(t => t.acceptedDeg / t.toldDeg).sort((a, b) => a - b)
  return {
    trials: list.length,
    found: found.length,
    intervalHoldsTruth: share(found.filter(t => t.holds).length, found.length),
    sightingsMisplaced: found.reduce((a, t) => a + t.misplaced, 0),
    goodSightingsAccused: found.reduce((a, t) => a + t.accused, 0),
    ratioToToldMedian: Number((ratios[ratios.length >> 1] ?? Number.NaN).toFixed(3)),
    ratioToToldWorst: Number((ratios.at(-1) ?? Number.NaN).toFixed(3)),
    above1point1: ratios.filter(r => r > 1.1).length,
  }
}

export default async () => {
  const confusion: Record<string, unknown> = {}
  const sound = judged(seed => drawBook(seed), BOOKS)
  confusion.sound = { falseAlarms: share(sound.filter(j => j.count > 0).length, sound.length), named: table(sound) }
  let clocks: Judged[] = []
  for (const [kind, draw] of Object.entries(FAULTS)) {
    const list = judged(draw, BOOKS)
    if (kind === 'clock-or-longitude') clocks = list
    const found = list.filter(j => j.first === kind)
    const rival = list.filter(j => j.first !== kind && j.rivals.includes(kind))
    confusion[kind] = {
      found: share(found.length, list.length),
      rival: share(rival.length, list.length),
      misnamed: share(list.filter(j => j.first !== kind && j.first !== 'nothing').length - rival.length, list.length),
      notFound: share(list.filter(j => j.first === 'nothing').length, list.length),
      named: table(list),
    }
  }
  const clock: Record<string, Record<string, string>> = {}
  for (const { book, first } of clocks) {
    const { kind } = book.record.mount
    const row = clock[kind] ?? {}
    clock[kind] = row
    const size = `${Math.abs(book.size)} s`
    const [found, of] = (row[size] ?? '0 of 0').split(' of ').map(Number) as [number, number]
    row[size] = `${found + (first === 'clock-or-longitude' ? 1 : 0)} of ${of + 1}`
  }
  const slips: Record<string, unknown> = {}
  for (const readout of ['degrees', 'linear-counts', 'jack'] as ReadoutKind[])
    for (const marks of [false, true]) {
      const list: Accepted[] = []
      for (const axis of ['lower', 'upper'] as const)
        for (let seed = FROM, n = 0; n < SLIPS; seed++) {
          const t = acceptedTrial(seed, readout, marks, axis)
          if (t === null) continue
          list.push(t)
          n++
        }
      slips[`${readout}, ${marks ? 'with' : 'without'} marks`] = placing(list)
    }
  return { booksEach: BOOKS, confusion, clock, slips }
}
