import { describe, expect, it } from 'vitest'
import type { SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { readingSigmaMm, shadowsOfHour, sunStretches, trueMs } from '../../src/state/noon.ts'
import { gravelPit } from '../helpers/stations.ts'

const at = (minute: number) => new Date(Date.UTC(2026, 5, 10, 10, minute)).toISOString()
const shadow = (id: string, minute: number, more: Partial<SightingRecord> = {}): SightingRecord => ({
  id,
  utc: at(minute),
  target: { type: 'sun' },
  lower: 30,
  upper: 40,
  method: 'shadow',
  shadow: { rightMm: 0, upMm: 0 },
  ...more,
})
const station = (sightings: SightingRecord[], more: Partial<StationRecord> = {}): StationRecord =>
  gravelPit({
    feeds: [
      { id: 'a', name: 'ring', frequencyMHz: 1296 },
      { id: 'b', name: 'horn', frequencyMHz: 10368 },
    ],
    sightings,
    ...more,
  })
const ids = (list: SightingRecord[]) => list.map(s => s.id)

describe('shadowsOfHour', () => {
  it('takes the shadows of the hour before, in the order of time, and none from after', () => {
    const last = shadow('d', 70)
    const list = [last, shadow('c', 40), shadow('a', 5), shadow('b', 12), shadow('e', 75)]
    expect(ids(shadowsOfHour(station(list), last))).toEqual(['b', 'c', 'd'])
  })
  it('takes none through another feed, none by another method, none left out by hand', () => {
    const last = shadow('d', 30, { feed: 'a' })
    const list = [
      shadow('other feed', 20, { feed: 'b' }),
      shadow('peak', 21, { method: 'signal-peak', shadow: undefined } as never),
      shadow('out', 22, { use: 'never' }),
      shadow('no feed named is the first', 23),
      last,
    ]
    expect(ids(shadowsOfHour(station(list), last))).toEqual(['no feed named is the first', 'd'])
  })
  it('takes none from before the last change', () => {
    const last = shadow('d', 30)
    const changes = [
      { id: 'x', utc: at(15), what: ['dish'] },
      { id: 'y', utc: at(45), what: ['dish'] },
    ]
    expect(ids(shadowsOfHour(station([shadow('before', 10), shadow('after', 16), last], { changes }), last))).toEqual([
      'after',
      'd',
    ])
  })
  it('goes by true time where a clock was wrong', () => {
    const last = shadow('d', 70, { clockOffsetS: 600 })
    expect(trueMs(last)).toBe(Date.parse(at(60)))
    expect(ids(shadowsOfHour(station([shadow('a', 2), last]), last))).toEqual(['a', 'd'])
  })
})

describe('readingSigmaMm', () => {
  it('is 8 mm where nothing is said, else what was said, over the focal length', () => {
    const s = station([])
    expect(readingSigmaMm(s, [shadow('a', 1), shadow('b', 2)])).toBe(8)
    // f = 1.2 m: 0.5° is 10.47 mm.
    expect(readingSigmaMm(s, [shadow('a', 1, { sigmaDeg: 0.5 })])).toBeCloseTo(10.472, 3)
    expect(readingSigmaMm(s, [shadow('a', 1, { sigmaDeg: 0.5 }), shadow('b', 2)])).toBeCloseTo(9.318, 3)
  })
})

describe('sunStretches', () => {
  it('joins rows within reach to stretches, also where a mast or a stop parts the day', () => {
    const times = [0, 1, 1, 0, 1, 0, 0, 1, 1].map((inside, k) => ({ utc: `${k}`, elDeg: 10, inside: inside === 1 }))
    expect(sunStretches(times)).toEqual([
      { fromUtc: '1', toUtc: '2' },
      { fromUtc: '4', toUtc: '4' },
      { fromUtc: '7', toUtc: '8' },
    ])
    expect(sunStretches([])).toEqual([])
  })
})
