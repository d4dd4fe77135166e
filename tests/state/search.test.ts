/** The sighting that a first search makes: one that the book takes, with the clock's check, the feed where there are several, its σ. */
import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { heardSighting } from '../../src/state/search.ts'
import { faultsOfSighting } from '../../src/state/sightings.ts'
import { gravelPit } from '../helpers/stations.ts'

const at = { lower: 180.6, upper: 42.8 }
const made = (station: StationRecord) => heardSighting(station, 'a', at, 7.302629, 'first', 'heard')

describe('a Sun that was heard', () => {
  it('is a sighting by signal that breaks no rule, as good as the step leaves it', () => {
    const station = gravelPit()
    const sighting = made(station)
    expect(faultsOfSighting(station, sighting)).toEqual([])
    expect(sighting).toMatchObject({ ...at, target: { type: 'sun' }, method: 'signal-peak', sigmaDeg: 7.3 })
    expect(sighting.feed).toBeUndefined()
    expect(sighting.clockOffsetS).toBeUndefined()
    expect(Math.abs(Date.parse(sighting.utc) - Date.now())).toBeLessThan(60_000)
  })

  it('names its feed where there are several, and counts by the clock check of the day', () => {
    const { feeds } = gravelPit()
    const station = gravelPit({
      feeds: [...feeds, { id: 'b', name: 'other', frequencyMHz: 5760 }],
      clockChecks: [{ id: 'c', utc: new Date(Date.now() - 3_600_000).toISOString(), offsetS: 12.345 }] as never,
    })
    const sighting = made(station)
    expect(faultsOfSighting(station, sighting)).toEqual([])
    expect(sighting).toMatchObject({ feed: 'a', clockOffsetS: 12.35 })
  })
})
