import { describe, expect, it } from 'vitest'
import type { SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { openStormCheck, sightingsOfCheck, stormCheckHere } from '../../src/state/feed.ts'

const sighting = (id: string) => ({ id }) as SightingRecord
const check = { id: 'c', utc: '2026-05-02T10:00:00Z', kind: 'storm', feed: 'a', peak: 'p', shadow: 's' } as const
const station = (sightings: string[], checks: unknown[]): StationRecord =>
  ({ id: 'st', sightings: sightings.map(sighting), checks }) as unknown as StationRecord

describe('a check after a storm', () => {
  it('is found among other checks', () => {
    expect(stormCheckHere(station([], [{ id: 'c', kind: 'another' }, check]), 'c')).toEqual(check)
    expect(stormCheckHere(station([], [{ id: 'c', kind: 'another' }]), 'c')).toBeNull()
  })
  it('has its sightings, with or without a shadow', () => {
    expect(sightingsOfCheck(station(['p', 's'], []), check)).toMatchObject({ peak: { id: 'p' }, shadow: { id: 's' } })
    const { shadow: _, ...cloudy } = check
    expect(sightingsOfCheck(station(['p', 's'], []), cloudy)).toMatchObject({ peak: { id: 'p' }, shadow: null })
  })
  it('says nothing once one of its sightings was taken out', () => {
    expect(sightingsOfCheck(station(['p'], []), check)).toBeNull()
    expect(sightingsOfCheck(station(['s'], []), check)).toBeNull()
  })
  it('goes on until a change is noted, the one it led to included', () => {
    const later = { ...check, id: 'd', utc: '2026-06-02T10:00:00Z' } as const
    expect(openStormCheck(station(['p'], [later, check]))?.id).toBe('d')
    const noted = { ...station(['p'], [check]), changes: [{ id: 'x', utc: check.utc, what: ['lower-zero'] }] }
    expect(openStormCheck(noted)).toBeNull()
    const earlier = { ...noted, changes: [{ id: 'x', utc: '2026-05-01T00:00:00Z', what: ['all'] }] }
    expect(openStormCheck(earlier)?.id).toBe('c')
    expect(openStormCheck(station([], [check]))).toBeNull()
  })
})
