import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wrapPi } from '../../../src/core/angles.ts'
import { siteFrame, topocentric } from '../../../src/core/sky/earthfixed.ts'
import { elevationOver, geodesic, sightline } from '../../../src/core/sky/landmark.ts'
import { azElFromEnu } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'

const lines: number[][] = authority('sky/geodesics.json').rows
const spot = (latDeg: number, lonDeg: number, heightM = 0) => ({ lat: latDeg * DEG, lon: lonDeg * DEG, heightM })

describe('geodesic', () => {
  it.each(lines)('is the published line from %f, %f: azimuth %f° to %f, %f', (...row) => {
    const [lat1, lon1, azi1, lat2, lon2, , metres] = row as [number, number, number, number, number, number, number]
    const line = geodesic(spot(lat1, lon1), spot(lat2, lon2))
    expect(wrapPi(line.az - azi1 * DEG) / DEG).toBeCloseTo(0, 10)
    expect(line.distanceM).toBeCloseTo(metres, 6)
    expect(line.az).toBeGreaterThanOrEqual(0)
  })
})

describe('sightline', () => {
  const seen = (...[from, to]: Parameters<typeof sightline>) => {
    const line = sightline(from, to)
    if (line.kind !== 'sightline') throw new Error(line.kind)
    return line
  }

  it('without air is the straight line between the two ends, everywhere, to 0.002° at 2 to 60 km', () => {
    // The other way round: both ends as points in space, and the chord between them. The rest is that the Earth is no sphere.
    fc.assert(
      fc.property(
        fc.double({ min: -85, max: 85, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 2, max: 60, noNaN: true }),
        fc.integer({ min: 0, max: 2500 }),
        fc.integer({ min: 0, max: 3000 }),
        (lat, lon, way, km, h1, h2) => {
          const dLat = (km / 111.2) * Math.cos(way)
          const dLon = ((km / 111.2) * Math.sin(way)) / Math.cos(lat * DEG)
          const [from, to] = [spot(lat, lon, h1), spot(lat + dLat, lon + dLon, h2)]
          const line = seen(from, to)
          const chord = topocentric(siteFrame(to).position, siteFrame(from))
          const place = azElFromEnu(chord.direction)
          expect(Math.abs(wrapPi(line.az - place.az)) / DEG).toBeLessThan(0.002)
          expect(Math.abs(line.airlessEl - place.el) / DEG).toBeLessThan(0.002)
        },
      ),
      { seed: 7, numRuns: 300 },
    )
  })

  it('drops by s²/2kR below a level line: 24 m at 20 km by radio, 27 m by light', () => {
    const from = spot(47, 9)
    const to = { ...spot(47, 9), lat: (47 + 20 / 111.18) * DEG }
    const line = seen(from, to)
    const drop = (el: number) => -Math.tan(el) * line.distanceM
    expect(line.distanceM).toBeCloseTo(20_000, -2)
    // 20² km² / (2 · 4/3 · 6371 km) = 23.5 m, and with 7/6 26.9 m.
    expect(drop(line.radioEl)).toBeCloseTo(23.5, 0)
    expect(drop(line.opticalEl)).toBeCloseTo(26.9, 0)
  })

  it('says no direction to its own place, nor beyond 1000 km', () => {
    expect(sightline(spot(47, 9), spot(47, 9)).kind).toBe('too-near')
    expect(sightline(spot(47, 9), spot(57, 9)).kind).toBe('too-far')
  })

  it('goes over the date line the short way', () => {
    const line = seen(spot(-17, 179.95), spot(-17, -179.95))
    expect(line.az / DEG).toBeCloseTo(90, 1)
    expect(line.distanceM).toBeLessThan(11_000)
  })
})

describe('elevationOver', () => {
  it('is 45° for a point as high as it is far away', () => {
    expect(elevationOver(10, 0, 10, 1) / DEG).toBeCloseTo(45, 3)
  })
})
