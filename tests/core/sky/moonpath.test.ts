import { Body, Equator, Horizon, Observer } from 'astronomy-engine'
import { describe, expect, it } from 'vitest'
import { haDecFromEnu } from '../../../src/core/frames.ts'
import { bodyAirless, instantAt } from '../../../src/core/sky/almanac.ts'
import { siteFrame, topocentric } from '../../../src/core/sky/earthfixed.ts'
import { MOON_PATH_POINTS, moonPath, moonPathDirectionsAt } from '../../../src/core/sky/moonpath.ts'
import type { Site } from '../../../src/core/sky/place.ts'
import { defaultAir } from '../../../src/core/sky/refraction.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { bodyTrack } from '../../../src/core/sky/track.ts'
import { angleBetween } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'
import { ARCSEC } from './reference.ts'

const T = Date.UTC(2026, 4, 1, 12)
const siteAt = (latDeg: number, lonDeg: number): Site => ({
  lat: latDeg * DEG,
  lon: lonDeg * DEG,
  heightM: 640,
  air: defaultAir(640),
})
const site = siteAt(47.1, 9.3)

describe('moonPath', () => {
  const path = moonPath(site, T)

  it('has a point every 30 minutes, k · 30 min < 27.3 days: 1311 of them', () => {
    expect(MOON_PATH_POINTS).toBe(1311)
    expect(path.length).toBe(1311)
    expect(path[0]!.utcMs).toBe(T)
    for (const [k, p] of path.entries()) expect(p.utcMs).toBe(T + k * 1_800_000)
    expect(path.at(-1)!.utcMs - T).toBeLessThan(27.3 * 86_400_000)
    expect(path.at(-1)!.utcMs + 1_800_000 - T).toBeGreaterThanOrEqual(27.3 * 86_400_000)
  })

  it('keeps what is below the horizon', () => {
    const below = path.filter(p => p.el < 0).length
    expect(below).toBeGreaterThan(500)
    expect(below).toBeLessThan(800)
  })

  it.each([siteAt(47.1, 9.3), siteAt(-33.9, 151.2), siteAt(21, -158), siteAt(90, 30)])(
    'is where apparentPlace puts the Moon, within 0.01″, from lat $lat rad, lon $lon rad',
    s => {
      for (const band of ['radio', 'optical'] as const)
        for (const p of someOf(moonPath(s, T, band).filter((_, k) => k % 37 === 0))) {
          const place = apparentPlace({ type: 'moon' }, p.utcMs, s, band)
          expect(angleBetween(p.direction, place.direction) / ARCSEC).toBeLessThan(0.01)
          expect(Math.abs(p.el - place.el) / ARCSEC).toBeLessThan(0.01)
          expect(Math.abs(p.distanceKm - place.distanceKm!)).toBeLessThan(0.01)
        }
    },
  )

  it("carries the airless declination, between -30° and 30° and covering the month's 50° or more", () => {
    for (const p of someOf(path.filter((_, k) => k % 100 === 0))) {
      const { direction } = bodyAirless('moon', instantAt(p.utcMs), siteFrame(site))
      expect(Math.abs(p.declination - haDecFromEnu(direction, site.lat).dec) / ARCSEC).toBeLessThan(0.01)
    }
    const decs = path.map(p => p.declination / DEG)
    // 2026 is just past the major standstill: ±28°.
    expect(Math.max(...decs) - Math.min(...decs)).toBeGreaterThan(50)
  })

  it('lets another site see the same moments without the almanac: within 0.01″ of its own path', () => {
    const elsewhere = siteAt(-12, 130)
    const there = moonPathDirectionsAt(path, elsewhere)
    const own = moonPath(elsewhere, T)
    for (let k = 0; k < path.length; k += 41)
      expect(angleBetween(there[k]!, own[k]!.direction) / ARCSEC).toBeLessThan(0.01)
    // and it is truly another place
    expect(angleBetween(there[0]!, path[0]!.direction)).toBeGreaterThan(1)
  })

  it('starts at any millisecond, whole or not', () => {
    const odd = moonPath(site, T + 0.4)
    expect(odd[0]!.utcMs).toBe(T + 0.4)
    expect(angleBetween(odd[7]!.direction, path[7]!.direction) / ARCSEC).toBeLessThan(0.01)
  })

  it('costs at most 1.3 times the raw library calls; printed', () => {
    const raw = () => {
      const observer = new Observer(47.1, 9.3, 640)
      for (let k = 0; k < MOON_PATH_POINTS; k++) {
        const t = new Date(T + k * 1_800_000)
        const e = Equator(Body.Moon, t, observer, true, true)
        Horizon(t, observer, e.ra, e.dec)
      }
    }
    const median = (run: () => unknown) => {
      const times = Array.from({ length: 9 }, () => {
        const start = performance.now()
        run()
        return performance.now() - start
      })
      return times.sort((a, b) => a - b)[4]!
    }
    median(raw)
    const rawMs = median(raw)
    const oursMs = median(() => moonPath(site, T))
    console.log(
      `Moon's path, 1311 points: ${oursMs.toFixed(2)} ms, raw calls ${rawMs.toFixed(2)} ms, ratio ${(oursMs / rawMs).toFixed(2)}`,
    )
    expect(oursMs / rawMs).toBeLessThan(1.3)
  })
})

describe('bodyTrack', () => {
  it.each(['sun', 'moon'] as const)('is the almanac within 0.005″ for the %s at odd moments, 1990 to 2060', body => {
    const frame = siteFrame(site)
    for (const year of [1990, 2026, 2060]) {
      const from = Date.UTC(year, 2, 3, 4, 5, 6, 789)
      const at = bodyTrack(body, from, from + 3 * 86_400_000)
      for (let k = 0; k <= 100; k++) {
        const t = from + k * 2_592_000
        const got = topocentric(at(t), frame).direction
        expect(angleBetween(got, bodyAirless(body, instantAt(t), frame).direction) / ARCSEC).toBeLessThan(0.005)
      }
    }
  })

  it('answers a span of no length, and refuses what is outside', () => {
    const at = bodyTrack('moon', T, T)
    const direct = bodyAirless('moon', instantAt(T), siteFrame(site)).direction
    expect(angleBetween(topocentric(at(T), siteFrame(site)).direction, direct)).toBeLessThan(1e-12)
    expect(() => at(T + 1)).toThrow(RangeError)
    expect(() => at(Number.NaN)).toThrow(RangeError)
    expect(() => bodyTrack('moon', T, T - 1)).toThrow(RangeError)
  })
})
