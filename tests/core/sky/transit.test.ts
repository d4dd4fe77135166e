import { describe, expect, it } from 'vitest'
import type { BodyName } from '../../../src/core/sky/almanac.ts'
import { nextTransit } from '../../../src/core/sky/transit.ts'
import { azElFromEnu } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'
import { rms, worst } from './reference.ts'

type Row = [BodyName, string, number, number, number, string, string, number, number, number]
const { rows } = authority('sky/sun-transit.json') as { rows: Row[] }
const found = (r: Row) =>
  nextTransit(r[0], { lat: r[2] * DEG, lon: r[3] * DEG, heightM: r[4] }, Date.parse(`${r[5]}T00:00:00Z`))

describe('nextTransit', () => {
  it.each([
    // 0.2 s is 3″ of hour angle, the library's worst for the Sun (2.2″) and the Moon against DE405 (2.4″).
    ['sun', 0.2],
    ['moon', 0.2],
  ] as const)('finds 20 upper transits of the %s from 12 sites within %s s of JPL DE405', (body, tolerance) => {
    const dt = rows.filter(r => r[0] === body).map(r => (found(r).utcMs - Date.parse(r[6])) / 1000 - r[9])
    console.log(`Transits of the ${body}: rms ${rms(dt).toFixed(3)} s, worst ${worst(dt).toFixed(3)} s`)
    expect(dt.length).toBe(20)
    expect(worst(dt)).toBeLessThan(tolerance)
  })

  it('says the elevation there within 0.001° (Sun) and 0.002° (Moon, moon98 reference), and which way to face', () => {
    for (const r of someOf(rows)) {
      const t = found(r)
      expect(Math.abs(t.el / DEG - r[8])).toBeLessThan(r[0] === 'sun' ? 0.001 : 0.002)
      expect(t.north).toBe(r[7] === 0)
      // Azimuth exactly 180 or 0: the sideways part is what a millisecond turns, 0.015″.
      expect(Math.abs(t.direction[0])).toBeLessThan(1e-7)
      expect(Math.abs(Math.sin(azElFromEnu(t.direction).az)) * Math.cos(t.el)).toBeLessThan(1e-7)
    }
  })

  it('gives a transit again when asked from that very millisecond, the next one a millisecond later', () => {
    for (const r of someOf(rows)) {
      const site = { lat: r[2] * DEG, lon: r[3] * DEG, heightM: r[4] }
      const first = found(r).utcMs
      expect(nextTransit(r[0], site, first).utcMs).toBe(first)
      expect(nextTransit(r[0], site, first - 1).utcMs).toBe(first)
      const gap = (nextTransit(r[0], site, first + 1).utcMs - first) / 3_600_000
      // Sun 24 h ± half a minute; Moon 24 h 38 min to 25 h 7 min [M], parallax and high latitude widen it a little.
      if (r[0] === 'sun') expect(Math.abs(gap - 24)).toBeLessThan(0.01)
      else expect(gap > 24.5 && gap < 25.3).toBe(true)
    }
  })

  it('works at the poles: the passage of the given meridian', () => {
    const noon = Date.UTC(2026, 5, 1)
    // Longitude 30° E: mean noon at 10:00 UTC, equation of time +2 min 10 s on 1 June [M]
    const t = nextTransit('sun', { lat: 90 * DEG, lon: 30 * DEG, heightM: 0 }, noon)
    expect(Math.abs(t.utcMs - Date.UTC(2026, 5, 1, 9, 57, 50))).toBeLessThan(15_000)
    expect(t.north).toBe(false)
  })
})
