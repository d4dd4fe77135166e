import { describe, expect, it } from 'vitest'
import { presentOf, wayOf } from '../../src/state/drive.ts'
import { countedPit } from '../helpers/stations.ts'

const at = (minute: number) => Date.parse('2026-06-10T10:00:00Z') + 60_000 * minute
const utc = (minute: number) => new Date(at(minute)).toISOString()
const sighting = (minute: number, lower: number, more: object = {}) => ({
  ...{ id: `s${minute}`, utc: utc(minute), target: { type: 'sun' as const }, lower, upper: 500 },
  method: 'signal-peak' as const,
  ...more,
})
const typed = { lower: 120, upper: 400, atMs: at(0) }

describe('presentOf', () => {
  it('is what was typed, until a sighting is read after it', () => {
    const station = countedPit({ sightings: [sighting(-5, 110), sighting(3, 130), sighting(2, 125)] })
    expect(presentOf(station, typed, at(10))).toEqual({ lower: 130, upper: 500, atMs: at(3) })
    expect(presentOf(station, typed, at(2.5))).toMatchObject({ lower: 125 })
    expect(presentOf(countedPit({ sightings: [sighting(-5, 110)] }), typed, at(10))).toEqual(typed)
  })

  it('takes readings that wait for their time, and no scan', () => {
    const halfSightings = [{ id: 'h', utc: utc(4), time: 'about' as const, lower: 131, upper: 510 }]
    expect(presentOf(countedPit({ halfSightings }), typed, at(10))).toMatchObject({ lower: 131, upper: 510 })
    const scan = countedPit({ sightings: [sighting(3, 130, { method: 'cross-scan' })] })
    expect(presentOf(scan, typed, at(10))).toEqual(typed)
  })

  it('is nothing where nobody has said it, whatever was sighted', () => {
    expect(presentOf(countedPit({ sightings: [sighting(3, 130)] }), null, at(10))).toBeNull()
  })
})

describe('wayOf', () => {
  const drive = { readingsPerS: 2, overrun: 4, arriveFrom: '+' as const }
  const pit = countedPit()
  const station = countedPit({ mount: { ...pit.mount, upper: { ...pit.mount.upper, drive } } })
  const to = (reading: number) => ({ reading, perS: 0, runUp: 10 })

  it('arrives from the side that the station says, and to stow from either', () => {
    expect(wayOf(station, 'upper', 500, to(400)).pulls.map(p => p.side)).toEqual(['-', '+'])
    expect(wayOf(station, 'upper', 500, { ...to(400), side: 'any' }).pulls.map(p => p.side)).toEqual(['-'])
    // For stow what it runs on by is near enough.
    expect(wayOf(station, 'upper', 403, { ...to(400), side: 'any' }).pulls).toEqual([])
  })

  it('knows no limit that was only guessed', () => {
    expect(wayOf(station, 'upper', 800, to(1000)).stopped).toMatchObject({ kind: 'limit', at: 900 })
    const guessed = { ...station, guesses: { 'mount.upper.maxReading': true as const } }
    expect(wayOf(guessed, 'upper', 800, to(1000)).stopped).toBeNull()
  })

  it('is there within half a count, or a twentieth of a degree', () => {
    expect(wayOf(station, 'upper', 400.4, to(400)).pulls).toEqual([])
    expect(wayOf(station, 'lower', 100.04, to(100)).pulls).toEqual([])
    expect(wayOf(station, 'lower', 100.4, to(100)).pulls).toHaveLength(1)
  })
})
