/** With an offset feed shadow, rim and feed advice in millimetres are off, in the core too; the beam does the rest. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { dish, feedCheck, noonCheck, shadows, solve } from '../../src/core/questions.ts'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { answered } from '../helpers/answered.ts'
import { smallBook } from '../helpers/smallbook.ts'

const NOW = '2026-05-20T12:00:00Z'
const withFeed = (fed?: 'prime-focus' | 'offset', book: FieldBook = smallBook()): FieldBook => {
  const station = book.stations[0] as StationRecord
  if (fed) station.dish.fed = fed
  station.dish.measured = {
    utc: '2026-05-01T10:00:00Z',
    rims: [
      {
        utc: '2026-05-01T10:00:00Z',
        feed: station.feeds[0]!.id,
        seenFrom: 'front',
        distances: [1668, 1690, 1671, 1650].map((mm, k) => ({ clock: [12, 3, 6, 9][k]!, mm })),
      },
    ],
  }
  return book
}

describe('an offset-fed dish', () => {
  it('is refused its shadow and its feed in millimetres, by the key that says so', () => {
    const book = withFeed('offset')
    for (const answer of [
      noonCheck(book, { now: NOW }),
      feedCheck(book, { now: NOW }),
      shadows(book, { now: NOW, readings: [] }),
    ])
      expect(answer).toMatchObject({ ok: false, faults: [{ path: 'dish.fed' }] })
  })

  it('has no place of its feed from the rim, and solves by the beam, its shadows left out', () => {
    // A book of more than its shadows.
    const example = new URL('../examples/equatorial-south.fieldbook.json', import.meta.url)
    const book = withFeed('offset', JSON.parse(readFileSync(example, 'utf8')))
    const table = dish(book, {})
    expect(table.ok && table.value.feeds.every(f => f.place === null)).toBe(true)
    const solved = answered(solve(book, { now: NOW }))
    const methodOf = new Map(book.stations[0]!.sightings.map(s => [s.id, s.method]))
    const shadowsSaid = solved.sightings.filter(s => methodOf.get(s.id) === 'shadow')
    expect(shadowsSaid.length).toBeGreaterThan(0)
    expect(shadowsSaid.every(s => s.status === 'excluded')).toBe(true)
    expect(solved.next.every(n => n.method !== 'shadow')).toBe(true)
  })

  it('is not assumed: a file without the key is of a prime-focus dish, with the very answers of one that says so', () => {
    const [old, said] = [withFeed(), withFeed('prime-focus')].map(book => ({
      noon: noonCheck(book, { now: NOW }),
      feed: feedCheck(book, { now: NOW }),
      dish: dish(book, {}),
      solved: solve(book, { now: NOW }),
    }))
    expect(old!.noon.ok).toBe(true)
    expect(old).toEqual(said)
  })
})
