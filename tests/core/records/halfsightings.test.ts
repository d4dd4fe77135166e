import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import {
  type HalfSighting,
  halfOf,
  JOIN_WITHIN_MS,
  joinedHalf,
  joinHalves,
  waitingHalves,
} from '../../../src/core/records/halfsightings.ts'

const t0 = Date.parse('2026-05-01T20:14:05.120Z')
const at = (s: number) => new Date(t0 + 1000 * s).toISOString()
const stamped = (id: string, s: number, more: Partial<HalfSighting> = {}): HalfSighting => ({
  id,
  utc: at(s),
  time: 'stamped',
  target: { type: 'moon' },
  ...more,
})
const noted = (id: string, s: number, more: Partial<HalfSighting> = {}): HalfSighting => ({
  id,
  utc: at(s),
  time: 'about',
  lower: 31.2,
  upper: 410,
  ...more,
})
const idsOf = (halves: HalfSighting[]) => joinHalves(halves).map(p => [p.stamped.id, p.readings.id, p.laterMs])

describe('joinHalves', () => {
  it('pairs a stamp with readings noted 30 s before or after it, and not 30.001 s', () => {
    expect(JOIN_WITHIN_MS).toBe(30_000)
    expect(idsOf([stamped('s', 0), noted('r', 30)])).toEqual([['s', 'r', 30_000]])
    expect(idsOf([stamped('s', 0), noted('r', -30)])).toEqual([['s', 'r', -30_000]])
    expect(idsOf([stamped('s', 0), noted('r', 30.001)])).toEqual([])
  })

  it('gives each half to one pair only, the closest first, in whatever order they lie', () => {
    const halves = [stamped('s1', 0), stamped('s2', 20), noted('r1', 18), noted('r2', 25)]
    const pairs = [
      ['s2', 'r1', -2000],
      ['s1', 'r2', 25_000],
    ]
    expect(idsOf(halves)).toEqual(pairs)
    expect(idsOf(halves.toReversed())).toEqual(pairs)
  })

  it('keeps apart what was looked at differently, and takes readings whose target nobody noted', () => {
    expect(idsOf([stamped('s', 0), noted('r', 5, { target: { type: 'sun' } })])).toEqual([])
    expect(idsOf([stamped('s', 0), noted('r', 5, { target: { type: 'moon' } })])).toHaveLength(1)
    expect(idsOf([stamped('s', 0), noted('r', 5)])).toHaveLength(1)
  })

  it('leaves alone a stamp that has readings, two stamps, and two notes', () => {
    expect(idsOf([stamped('s', 0, { lower: 3 }), noted('r', 5)])).toEqual([])
    expect(idsOf([stamped('a', 0), stamped('b', 5)])).toEqual([])
    expect(idsOf([noted('a', 0), noted('b', 5)])).toEqual([])
  })
})

describe('joinedHalf', () => {
  it("has the stamp's id, time and suggestion and the second person's readings, both notes", () => {
    const s = stamped('s', 0, { monotonicMs: 7, dialled: { lower: 30, upper: 400 }, note: 'gusts' })
    const r = noted('r', 8, { arrivedFrom: { lower: '+' }, note: 'read twice' })
    expect(joinedHalf({ stamped: s, readings: r, laterMs: 8000 })).toEqual({
      ...s,
      lower: 31.2,
      upper: 410,
      arrivedFrom: { lower: '+' },
      note: 'gusts; read twice',
    })
  })
})

describe('halfOf', () => {
  it('reads back what it keeps, fields of every kind', () => {
    const half: HalfSighting = {
      ...stamped('s', 0),
      target: { type: 'geostationary', lonDeg: -13 },
      monotonicMs: 5,
      clockStepS: -2.5,
      method: 'signal-peak',
      feed: 'a',
      dialled: { lower: 1, upper: 2 },
      lower: 3,
      upper: 4,
      arrivedFrom: { lower: '+', upper: '-' },
      note: 'n',
    }
    expect(halfOf(JSON.parse(JSON.stringify(half)))).toEqual(half)
  })

  it('takes a half for stamped that does not say, and is null for what has no id or no time', () => {
    expect(halfOf({ id: 'x', utc: at(0), mine: 4 })).toEqual({ id: 'x', utc: at(0), time: 'stamped', mine: 4 })
    for (const bad of [null, 3, [], {}, { id: 'x' }, { id: 'x', utc: 'noon' }, { id: 1, utc: at(0) }])
      expect(halfOf(bad)).toBeNull()
  })
})

describe('waitingHalves', () => {
  const station = (halfSightings: unknown, sightings: object[] = []) =>
    ({ halfSightings, sightings }) as unknown as StationRecord

  it('lists the newest first', () => {
    const halves = waitingHalves(station([stamped('a', 0), stamped('b', 60), stamped('c', 30)]))
    expect(halves.map(h => h.id)).toEqual(['b', 'c', 'a'])
  })

  it('leaves out one that a sighting was made from, when an older book brings it back', () => {
    expect(waitingHalves(station([stamped('a', 0)], [{ id: 'z', halfId: 'a' }]))).toEqual([])
  })

  it('is empty where there is no list', () => {
    expect(waitingHalves(station(undefined))).toEqual([])
  })
})
