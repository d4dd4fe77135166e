import { describe, expect, it } from 'vitest'
import type { DishMeasuresRecord } from '../../../src/core/records/dishmeasure.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const measured: DishMeasuresRecord = {
  utc: '2026-05-01T10:00:00Z',
  diameterMm: 3000,
  depthMm: 468,
  rims: [
    {
      utc: '2026-05-01T10:20:00Z',
      feed: 'a',
      seenFrom: 'front',
      distances: [
        { clock: 12, mm: 1671 },
        { clock: 4, mm: 1668 },
        { clock: 8, mm: 1675 },
      ],
      mouthDiameterMm: 180,
    },
  ],
  strings: [{ utc: '2026-05-01T10:40:00Z', pair: 'upright', seenFrom: 'behind', firstInFrontMm: 3, firstBehindMm: 0 }],
}
const faultsOf = (value: unknown) => {
  const book = smallBook()
  const station = book.stations[0]
  return checkFieldBook({ ...book, stations: [{ ...station, dish: { ...station.dish, measured: value } }] })
}
const at = 'stations[0].dish.measured'
const rim = measured.rims![0]!

describe('what was taped on a dish, in a field book', () => {
  it('is kept beside the dish, whole or in part', () => {
    expect(faultsOf(measured)).toEqual([])
    expect(faultsOf({ utc: measured.utc })).toEqual([])
    // What was taped to a feed that is gone stays on record.
    expect(faultsOf({ ...measured, rims: [{ ...rim, feed: 'gone' }] })).toEqual([])
  })
  it('is refused by path where it breaks a rule', () => {
    for (const [value, path] of [
      [{ ...measured, depthMm: 0 }, 'depthMm'],
      [{ ...measured, rims: [{ ...rim, seenFrom: 'above' }] }, 'rims[0].seenFrom'],
      [{ ...measured, rims: [{ ...rim, distances: [{ clock: 13, mm: 1 }] }] }, 'rims[0].distances[0].clock'],
      [{ ...measured, strings: [{ ...measured.strings![0], firstInFrontMm: -1 }] }, 'strings[0].firstInFrontMm'],
    ] as const)
      expect(faultsOf(value)).toMatchObject([{ path: `${at}.${path}` }])
  })
})
