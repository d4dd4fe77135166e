import { describe, expect, it } from 'vitest'
import { instantAt } from '../../../src/core/sky/almanac.ts'
import { siteFrame } from '../../../src/core/sky/earthfixed.ts'
import type { Site, Target } from '../../../src/core/sky/place.ts'
import { apparentElevation, defaultAir } from '../../../src/core/sky/refraction.ts'
import { airlessPlace, apparentPlace } from '../../../src/core/sky/targets.ts'
import { azElFromEnu } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { published } from './reference.ts'

const site: Site = { lat: 47.1 * DEG, lon: 9.3 * DEG, heightM: 640, air: defaultAir(640) }
const T = Date.UTC(2026, 3, 27, 20, 14, 5)

const bent: Target[] = [
  { type: 'moon' },
  { type: 'sun' },
  { type: 'source', name: 'Cas A' },
  { type: 'geostationary', lon: 19.2 * DEG },
]

describe('apparentPlace', () => {
  it.each(bent)('lifts %o by the air of the band, azimuth as without air', target => {
    const airless = azElFromEnu(airlessPlace(target, instantAt(T), siteFrame(site)).direction)
    for (const band of ['radio', 'optical'] as const) {
      const place = apparentPlace(target, T, site, band)
      expect(place.el).toBeCloseTo(apparentElevation(airless.el, site.air, band), 12)
      expect(place.az).toBeCloseTo(airless.az, 12)
      expect(place.az).toBeGreaterThanOrEqual(0)
      expect(place.az).toBeLessThan(2 * Math.PI)
      expect(Math.hypot(...place.direction)).toBeCloseTo(1, 12)
    }
  })

  it('leaves a landmark where it was measured, whatever the band and the air', () => {
    for (const band of ['radio', 'optical'] as const) {
      const place = apparentPlace({ type: 'landmark', az: 359.5 * DEG, el: -0.4 * DEG }, T, site, band)
      expect(place.az / DEG).toBeCloseTo(359.5, 10)
      expect(place.el / DEG).toBeCloseTo(-0.4, 10)
      expect(place.distanceKm).toBeNull()
    }
  })

  it('wraps a landmark given west of north: -10° is 350°', () => {
    expect(apparentPlace({ type: 'landmark', az: -10 * DEG, el: 0 }, T, site, 'optical').az / DEG).toBeCloseTo(350, 10)
  })

  it('calls a hair west of north 0, not a whole turn', () => {
    expect(apparentPlace({ type: 'landmark', az: -1e-17, el: 0 }, T, site, 'optical').az).toBe(0)
  })

  it('knows how far Sun, Moon and satellites are, and not the sources', () => {
    const km = bent.map(t => apparentPlace(t, T, site, 'radio').distanceKm)
    expect(km[0]).toBeGreaterThan(350_000)
    expect(km[0]).toBeLessThan(410_000)
    expect(km[1]).toBeGreaterThan(1.47e8)
    expect(km[2]).toBeNull()
    expect(km[3]).toBeGreaterThan(35_786)
    expect(km[3]).toBeLessThan(41_680)
  })

  it("gives NREL's example with light and its own weather (820 hPa, 11 °C) within 0.0015°", () => {
    // The paper's refraction, 0.01633°, is Sæmundsson's; ours is 0.0007° smaller there. Sun itself 0.0009°.
    const { inputs, expected } = published('NREL SPA worked example')
    const place = apparentPlace(
      { type: 'sun' },
      Date.parse(inputs.utc),
      {
        lat: inputs.lat_deg * DEG,
        lon: inputs.lon_deg * DEG,
        heightM: inputs.elevation_m,
        air: { pressureHPa: inputs.pressure_hpa, temperatureC: inputs.temperature_c, humidity: 0.5 },
      },
      'optical',
    )
    expect(Math.abs(90 - place.el / DEG - expected.zenith_deg_with_refraction)).toBeLessThan(0.0015)
    expect(Math.abs(place.az / DEG - expected.azimuth_deg_from_north)).toBeLessThan(0.0015)
  })

  it('throws for an unknown source, naming it and the known ones', () => {
    expect(() => apparentPlace({ type: 'source', name: 'Nowhere X' }, T, site, 'radio')).toThrow(
      /"Nowhere X".*Cassiopeia A, Cygnus A/,
    )
  })
})
