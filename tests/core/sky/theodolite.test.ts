/**
 * The almanac against the real Sun: theodolite sights with GNSS azimuths (a surveying class, Czech Technical University,
 * github.com/fifi1ous/155VTTG_sk1, commit 1cf6697; tests/authorities/sky/sun-azimuth-theodolite.json says what was left
 * out). Residual: Sun's azimuth minus measured angle minus the target's azimuth.
 */
import { describe, expect, it } from 'vitest'
import { wrapPi } from '../../../src/core/angles.ts'
import { defaultAir } from '../../../src/core/sky/refraction.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'
import { rms, worst } from './reference.ts'

type StationRow = [string, number, number, number, Record<string, number>]
type SightRow = [string, string, string, number, string]
const data = authority('sky/sun-azimuth-theodolite.json') as { stations: StationRow[]; sights: SightRow[] }

const residuals = data.sights.map(([id, target, utc, angleDeg, quality]) => {
  const [, lat, lon, heightM, azimuths] = data.stations.find(s => s[0] === id)!
  const site = { lat: lat * DEG, lon: lon * DEG, heightM, air: defaultAir(heightM) }
  const { az } = apparentPlace({ type: 'sun' }, Date.parse(utc), site, 'optical')
  const deg = wrapPi(az - angleDeg * DEG - azimuths[target]! * DEG) / DEG
  return { id, target, deg, good: quality === 'good' }
})

describe("the Sun's azimuth, 40 sights from four stations on 2025-06-13", () => {
  it('agrees with each of the 22 good sights within 0.012°', () => {
    const good = residuals.filter(r => r.good).map(r => r.deg)
    console.log(
      `Theodolite: ${good.length} good sights, rms ${rms(good).toFixed(4)}°, worst ${worst(good).toFixed(4)}°`,
    )
    expect(good.length).toBe(22)
    // 0.3 s in the time of a limb is 5″ of azimuth at 60° elevation; plumb-line deflection a few arcseconds more.
    expect(worst(good)).toBeLessThan(0.012)
  })

  it.each(['1001', '1002', '1003a', '1004'])('agrees with the mean of the good sights at %s within 0.006°', id => {
    const good = residuals.filter(r => r.good && r.id === id).map(r => r.deg)
    expect(good.length).toBeGreaterThanOrEqual(4)
    expect(Math.abs(good.reduce((s, d) => s + d, 0) / good.length)).toBeLessThan(0.006)
  })

  it.each([
    ['1001', '1004'],
    ['1002', '1004'],
    ['1003a', '1001'],
    ['1004', '1002'],
  ])('agrees with the median of all sights from %s to %s, blunders in, within 0.01°', (id, target) => {
    const all = residuals
      .filter(r => r.id === id && r.target === target)
      .map(r => r.deg)
      .sort((a, b) => a - b)
    const median = (all[(all.length - 1) >> 1]! + all[all.length >> 1]!) / 2
    expect(all.length).toBeGreaterThanOrEqual(4)
    expect(Math.abs(median)).toBeLessThan(0.01)
  })

  it('tells the blunders: none of the 18 flagged lies within 0.0095°, all eight of 1003b are 0.19° to 0.27° off', () => {
    // The source flags what is more than 36″ off; 1003b as if that clock had been about 50 s wrong.
    for (const r of someOf(residuals.filter(r => !r.good))) expect(Math.abs(r.deg)).toBeGreaterThan(0.0095)
    const b = residuals.filter(r => r.id === '1003b')
    expect(b.length).toBe(8)
    for (const r of b) expect(Math.abs(r.deg) > 0.18 && Math.abs(r.deg) < 0.28).toBe(true)
  })
})
