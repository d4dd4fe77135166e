/** What lies behind a target: galactic places against published ones, and the way from a site's sky to J2000. */
import { describe, expect, it } from 'vitest'
import { instantAt, sourceAirless } from '../../../src/core/sky/almanac.ts'
import { backgroundOf, fromBrightPlane, galactic, NOISY_WITHIN } from '../../../src/core/sky/background.ts'
import { siteFrame } from '../../../src/core/sky/earthfixed.ts'
import { defaultAir } from '../../../src/core/sky/refraction.ts'
import { findSource, SOURCE_NAMES } from '../../../src/core/sky/sources.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { angleBetween, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { sphere } from './reference.ts'

const j2000 = (ra: number, dec: number): Vec3<'J2000'> => {
  const [x, y, z] = sphere(ra, dec)
  return [x, y, z]
}

/** Galactic longitude and latitude, degrees, as catalogues give them (SIMBAD) [M]. */
const PUBLISHED: Record<string, [number, number]> = {
  'Cassiopeia A': [111.735, -2.13],
  'Cygnus A': [76.19, 5.755],
  'Taurus A': [184.557, -5.784],
  'Virgo A': [283.778, 74.491],
  'Sagittarius A*': [359.944, -0.046],
}

describe('galactic', () => {
  it('puts the five sources where catalogues have them, to 0.01°', () => {
    expect(Object.keys(PUBLISHED).sort()).toEqual([...SOURCE_NAMES].sort())
    for (const [name, [l, b]] of Object.entries(PUBLISHED)) {
      const { ra, dec } = findSource(name)!
      const found = galactic(j2000(ra, dec))
      expect(Math.abs(((found.l / DEG - l + 540) % 360) - 180)).toBeLessThan(0.01)
      expect(Math.abs(found.b / DEG - b)).toBeLessThan(0.01)
    }
  })
})

describe('fromBrightPlane', () => {
  it('is the latitude beside the bright part, and the distance from its end beyond it', () => {
    const from = (name: string) => {
      const { ra, dec } = findSource(name)!
      return fromBrightPlane(j2000(ra, dec)) / DEG
    }
    expect(from('Sagittarius A*')).toBeCloseTo(0.046, 2)
    // cos d = cos b cos(l - 40°): Cygnus A 36.19° on, Taurus A 144.56° back.
    expect(from('Cygnus A')).toBeCloseTo(Math.acos(Math.cos(5.755 * DEG) * Math.cos(36.19 * DEG)) / DEG, 1)
    expect(from('Taurus A')).toBeCloseTo(Math.acos(Math.cos(5.784 * DEG) * Math.cos(135.443 * DEG)) / DEG, 1)
  })
})

describe('backgroundOf', () => {
  const site = { lat: -34 * DEG, lon: 151 * DEG, heightM: 30, air: defaultAir(30) }
  const frame = siteFrame(site)

  it('finds a source where it stands on the sky of the day, at any hour: precession and the turn of the Earth undone', () => {
    for (let h = 0; h < 48; h += 5) {
      const ms = Date.UTC(2046, 2, 3, h)
      for (const name of SOURCE_NAMES) {
        const source = findSource(name)!
        const seen = backgroundOf(sourceAirless(source, instantAt(ms), frame), frame, ms)
        // Aberration is not undone: 20.5″.
        expect(Math.abs(seen.galaxy - fromBrightPlane(j2000(source.ra, source.dec))) / DEG).toBeLessThan(0.006)
        const sun = apparentPlace(
          { type: 'sun' },
          ms,
          { ...site, air: { ...site.air, pressureHPa: 0, humidity: 0 } },
          'radio',
        )
        expect(seen.sun).toBeCloseTo(angleBetween(sourceAirless(source, instantAt(ms), frame), sun.direction), 9)
      }
    }
  })

  it('the Sun stands before the bright part in December, and only then', () => {
    // The ecliptic meets the plane near the centre, at ecliptic longitude 270.0° (1998 to a few decades) [M]: the solstice.
    const near = Array.from({ length: 365 }, (_, day) => {
      const ms = Date.UTC(2026, 6, 1 + day, 12)
      const sun = apparentPlace(
        { type: 'sun' },
        ms,
        { ...site, air: { ...site.air, pressureHPa: 0, humidity: 0 } },
        'radio',
      )
      return backgroundOf(sun.direction, frame, ms).galaxy <= NOISY_WITHIN ? day : -1
    }).filter(day => day >= 0)
    const middle = (near[0]! + near[near.length - 1]!) / 2
    expect(new Date(Date.UTC(2026, 6, 1 + middle)).toISOString()).toMatch(/^2026-12-2[0-2]/)
    expect(near.length).toBe(near[near.length - 1]! - near[0]! + 1)
    expect(near.length).toBeGreaterThan(18)
    expect(near.length).toBeLessThan(26)
  })
})
