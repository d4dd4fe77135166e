/**
 * Sources: places of the Sun by ERFA and JPL DE405 (tests/authorities/sky/sky.json), its transits (sun-transit.json). A
 * plumb line's shadow falls opposite to the Sun: azimuth + 180°.
 */
import { describe, expect, it } from 'vitest'
import type { Site } from '../../../src/core/sky/place.ts'
import { defaultAir } from '../../../src/core/sky/refraction.ts'
import { crossings, HIGHEST, LOWEST, shadowAt } from '../../../src/core/sky/sunline.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'
import { worst } from './reference.ts'

const siteOf = (lat: number, lon: number, heightM: number): Site => ({
  lat: lat * DEG,
  lon: lon * DEG,
  heightM,
  air: defaultAir(heightM),
})
const apart = (a: number, b: number): number => (((((a - b) / DEG + 540) % 360) + 360) % 360) - 180

describe('shadowAt', () => {
  const rows = (authority('sky/sky.json').rows as (string | number)[][]).filter(r => r[6] === 'sun')

  it('falls opposite to the Sun of ERFA and DE405 at every place where it is up, within 0.002°', () => {
    const off: number[] = []
    for (const r of someOf(rows)) {
      const site = siteOf(r[2] as number, r[3] as number, r[4] as number)
      const got = shadowAt(site, Date.parse(r[5] as string))
      const el = r[8] as number
      if (el < 2 || el > 86) expect(got.kind).toBe(el < 2 ? 'too-low' : 'too-high')
      if (got.kind !== 'shadow') continue
      expect(got.sunEl).toBeGreaterThanOrEqual(LOWEST)
      expect(got.perMetre).toBeCloseTo(1 / Math.tan(got.sunEl), 9)
      // On the ground: azimuth counts less near the zenith.
      off.push(apart(got.az, ((r[7] as number) + 180) * DEG) * Math.cos(got.sunEl))
    }
    console.info(`shadow: ${off.length} places, worst ${worst(off).toFixed(5)}°`)
    expect(off.length).toBeGreaterThan(20)
    expect(worst(off)).toBeLessThan(0.002)
  })

  it('turns clockwise in the north, the other way in the south, about a quarter of a degree a minute and more at noon', () => {
    const noon = Date.UTC(2026, 3, 27, 12)
    const north = shadowAt(siteOf(47, 0, 0), noon)
    const south = shadowAt(siteOf(-47, 0, 0), noon)
    expect(north.kind === 'shadow' && north.perMinute / DEG).toBeGreaterThan(0.25)
    expect(south.kind === 'shadow' && south.perMinute / DEG).toBeLessThan(-0.2)
  })
})

describe('crossings', () => {
  type Transit = [string, string, number, number, number, string, string, number, number, number]
  const transits = (authority('sky/sun-transit.json').rows as Transit[]).filter(r => r[0] === 'sun')

  it('meets the meridian when the Sun does, within 1 s of DE405, from every site where it is high enough', () => {
    const off: number[] = []
    for (const r of someOf(transits)) {
      const [, , lat, lon, height, , utc, az, el, dt] = r
      if (el * DEG < LOWEST || el * DEG > HIGHEST) continue
      const at = Date.parse(utc)
      const found = crossings(siteOf(lat, lon, height), 0, at - 3 * 3_600_000, at + 3 * 3_600_000)
      const near = found.sort((a, b) => Math.abs(a.utcMs - at) - Math.abs(b.utcMs - at))[0]!
      off.push((near.utcMs - at) / 1000 - dt)
      // The Sun in the south: the shadow itself points north.
      expect(near.end).toBe(az === 180 ? 'shadow' : 'sun')
    }
    console.info(`meridian: ${off.length} transits, worst ${worst(off).toFixed(2)} s`)
    expect(off.length).toBeGreaterThan(10)
    expect(worst(off)).toBeLessThan(1)
  })

  it('gives both ways round, in order of time, each with the shadow on the line', () => {
    const site = siteOf(47.1, 9.3, 640)
    const day = Date.UTC(2026, 3, 27)
    for (const bearingDeg of [0, 80, 170, 359.9]) {
      const found = crossings(site, bearingDeg * DEG, day, day + 86_400_000)
      expect(found.length).toBeGreaterThan(0)
      for (const c of found) {
        const s = shadowAt(site, c.utcMs)
        if (s.kind !== 'shadow') throw new Error(s.kind)
        expect(Math.abs(apart(s.az, (bearingDeg + (c.end === 'sun' ? 180 : 0)) * DEG))).toBeLessThan(0.002)
      }
      expect(found.map(c => c.utcMs)).toEqual(found.map(c => c.utcMs).sort((a, b) => a - b))
    }
    // East-west in April: the Sun stands above 80° in the morning and above 260° in the evening.
    expect(crossings(site, 80 * DEG, day, day + 86_400_000).map(c => c.end)).toEqual(['sun', 'shadow'])
  })

  it('says nothing of a bearing that the Sun never stands above by day', () => {
    const day = Date.UTC(2026, 11, 21)
    expect(crossings(siteOf(47.1, 9.3, 640), 90 * DEG, day, day + 86_400_000)).toEqual([])
  })
})
