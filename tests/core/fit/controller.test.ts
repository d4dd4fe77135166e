/** The numbers for a tracking program: slope and offset, and the virtual site, against brute force. */
import { describe, expect, it } from 'vitest'
import { virtualSiteOf } from '../../../src/core/fit/controller.ts'
import { answerFor, solveStation } from '../../../src/core/fit/solution.ts'
import type { Solved } from '../../../src/core/fit/solved.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { angleFromReading, readingFromAngle } from '../../../src/core/readout/readout.ts'
import type { Station } from '../../../src/core/records/station.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { moonPathDirectionsAt } from '../../../src/core/sky/moonpath.ts'
import { azElFromEnu } from '../../../src/core/vectors.ts'
import { rmsOf } from '../../helpers/judged.ts'
import {
  builtFromTruth,
  degreesAxis,
  deviationSigma,
  drawScene,
  KINDS,
  START_MS,
  sightMany,
} from '../../helpers/simulate.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

const D = Math.PI / 180

/** A station whose solution is a given truth: priors on it, so narrow that nothing moves. */
function answerWith(station: Station, truth: Truth) {
  const record = {
    ...station.record,
    priors: Object.entries(truth).map(([id, value]) => ({
      id,
      value,
      sigma: 1e-6 * deviationSigma(station.record, id.split(':')[0]!),
    })),
  }
  const fixed = stationFromRecord(record)
  const solved: Solved = solveStation(fixed)
  return answerFor(fixed, START_MS, solved)
}

describe('slope and offset', () => {
  it.each(KINDS)('on %s leave no more than any other four numbers do, by 300 random tries near them', kind => {
    const scene = drawScene(820, { kind, lower: 'degrees', upper: 'degrees', wild: false })
    const truth = scene.truths[0]!.truth
    const { sky, slopeOffset } = answerWith(stationFromRecord(scene.record), truth)
    const station = stationFromRecord(scene.record)
    const mount = trueMount(scene.record, truth)
    const points = sky.points.filter((_, k) => k % 6 === 0)
    const ideals = points.map(p => aim(station.model, onPaper(), 'beam', p.moon.direction)!)
    const rms = (x: readonly [number, number, number, number]): number =>
      rmsOf(
        points.map((p, k) => {
          // Readings are degrees: the ideal angle is the paper mount's reading.
          const lower = x[0] * ideals[k]!.lower + x[1]
          const upper = x[2] * ideals[k]!.upper + x[3]
          return apartDeg(mount.pose(lower, upper, 'beam').b, p.moon.direction)
        }),
      )
    const { lower, upper, remaining } = slopeOffset
    const best = [lower.slope, lower.offset / D, upper.slope, upper.offset / D] as const
    const least = rms(best)
    expect(Math.abs(least - remaining.rms / D) / least).toBeLessThan(0.1)
    for (let k = 0; k < 300; k++) {
      const c = scene.chance
      const size = 10 ** c.between(-3, 0)
      const other = rms([
        best[0] + c.normal(0.02) * size,
        best[1] + c.normal(1) * size,
        best[2] + c.normal(0.02) * size,
        best[3] + c.normal(1) * size,
      ])
      // The least over every sixth point is not quite the least over all.
      expect(other).toBeGreaterThan(least * 0.98)
    }
  })

  it('of a mount that has only a wrong zero and scale are exactly these', () => {
    const scene = drawScene(821, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees' })
    const { slopeOffset } = answerWith(stationFromRecord(scene.record), {
      lowerZero: 2,
      upperZero: -3,
      lowerScale: 0.01,
      upperScale: -0.02,
    })
    // true = reading × (1 + scale) + zero, so reading = true / (1 + scale) - zero / (1 + scale).
    expect(slopeOffset.lower.slope).toBeCloseTo(1 / 1.01, 6)
    expect(slopeOffset.lower.offset / D).toBeCloseTo(-2 / 1.01, 4)
    expect(slopeOffset.upper.slope).toBeCloseTo(1 / 0.98, 6)
    expect(slopeOffset.upper.offset / D).toBeCloseTo(3 / 0.98, 4)
    expect(slopeOffset.remaining.rms / D).toBeLessThan(1e-4)
  })
})

describe('the virtual site', () => {
  const leaning = (latDeg: number, north: number, east: number) => {
    const scene = drawScene(830, { kind: 'el-over-az', lower: 'degrees', upper: 'degrees', latDeg })
    scene.record.mount.lower = degreesAxis(-400, 400)
    const { sky, virtual } = answerWith(stationFromRecord(scene.record), { leanNorth: north, leanEast: east })
    if (virtual === null) throw new Error('no virtual site')
    return { scene, sky, virtual }
  }

  it.each([
    [47, 1.5, -2],
    [47, 0, 3],
    [-33, -1, 2],
    [-33, 3, 0],
  ])(
    'at latitude %i corrects a lean of %i° north, %i° east to within the Moon’s parallax, 0.017° per degree',
    (lat, north, east) => {
      const { virtual } = leaning(lat, north, east)
      const moved = Math.hypot(north, east)
      expect(virtual.fit.remaining.rms / D).toBeLessThan(Math.min(0.05, 0.017 * moved + 0.002))
      // The lean is in the place, not in slope and offset.
      expect(Math.abs(virtual.fit.upper.offset / D)).toBeLessThan(0.1)
    },
  )

  it.each([
    [47, 1.5, -2],
    [-33, -1, 2],
  ])(
    'at latitude %i: azimuth there + azimuthTurn is the azimuth from the base, put through by hand',
    (lat, north, east) => {
      const { scene, virtual, sky } = leaning(lat, north, east)
      const station = stationFromRecord(scene.record)
      const mount = trueMount(scene.record, { leanNorth: north, leanEast: east })
      const there = { ...station.site, lat: virtual.place.lat, lon: virtual.place.lon }
      const moons = sky.points.filter((_, k) => k % 10 === 0).map(p => p.moon)
      const misses = moonPathDirectionsAt(moons, there).map((t, k) => {
        const { az, el } = azElFromEnu(t)
        // The readings of a mount with no other error are its angles.
        const pose = mount.pose((az + virtual.place.azimuthTurn) / D, el / D, 'beam')
        return apartDeg(pose.b, moons[k]!.direction)
      })
      expect(rmsOf(misses)).toBeLessThan(0.06)
      // And the wrong sign would show: the turn is not small.
      expect(Math.abs(virtual.place.azimuthTurn / D)).toBeGreaterThan(0.5)
      // A base that leans north has its zenith further north; in both hemispheres the latitude grows by the lean.
      const moved = virtualSiteOf(station, builtFromTruth(scene.record, { leanNorth: 1 }))
      expect((moved.lat - station.site.lat) / D).toBeCloseTo(1, 6)
      expect(moved.azimuthTurn).toBeCloseTo(0, 9)
    },
  )

  it('of a lean to the east lies east by lean / cos latitude, and turns by lean × tan latitude', () => {
    const { scene, virtual } = leaning(47, 0, 1)
    expect(virtual.place.lon / D - scene.record.site.lonDeg).toBeCloseTo(1 / Math.cos(47 * D), 1)
    expect(Math.abs(virtual.place.azimuthTurn / D)).toBeCloseTo(Math.tan(47 * D), 1)
  })
})

describe('the polar axis as built, for an hour-angle program', () => {
  const displaced = (latDeg: number, east: number, up: number) => {
    const scene = drawScene(850, { kind: 'ha-dec', lower: 'degrees', upper: 'degrees', latDeg })
    return { scene, ...answerWith(stationFromRecord(scene.record), { poleEast: east, poleUp: up }) }
  }
  const DISPLACED = [
    [47, 2, -1],
    [47, -3, 0],
    [-33, 2, 1.5],
    [-33, 0, -3],
  ] as const

  it.each(DISPLACED)(
    'at latitude %i, displaced by %i° and %i°, leaves nothing, with slopes of one and no offset of the declination',
    (lat, east, up) => {
      const { pole, virtual, slopeOffset } = displaced(lat, east, up)
      expect(virtual).toBeNull()
      expect(pole!.fit.remaining.rms / D).toBeLessThan(1e-5)
      expect(slopeOffset.remaining.rms / D).toBeGreaterThan(0.1)
      expect(pole!.fit.lower.slope).toBeCloseTo(1, 6)
      expect(pole!.fit.upper.slope).toBeCloseTo(1, 6)
      expect(pole!.fit.upper.offset / D).toBeCloseTo(0, 5)
      // Counted from the vertical plane: a pole displaced along the meridian needs no zero, one beside it east × tan latitude.
      expect(Math.abs(pole!.fit.lower.offset / D)).toBeCloseTo(Math.abs(east * Math.tan(lat * D)), 0)
    },
  )

  it.each(DISPLACED)(
    'at latitude %i, displaced by %i° and %i°: hour angle and declination about that axis, put through by hand',
    (lat, east, up) => {
      const { scene, pole, sky } = displaced(lat, east, up)
      const mount = trueMount(scene.record, { poleEast: east, poleUp: up })
      const { az, el } = pole!.pole
      const sense = lat < 0 ? -1 : 1
      const end = [Math.cos(el) * Math.sin(az), Math.cos(el) * Math.cos(az), Math.sin(el)]
      const p = end.map(x => sense * x)
      const misses = sky.points
        .filter((_, k) => k % 20 === 0)
        .map(({ moon }) => {
          const [x, y, z] = moon.direction
          const along = x * p[0]! + y * p[1]! + z * p[2]!
          // What is left of target and zenith square to the axis, and the angle from one to the other, west +.
          const t = [x - along * p[0]!, y - along * p[1]!, z - along * p[2]!] as const
          const u = [-p[2]! * p[0]!, -p[2]! * p[1]!, 1 - p[2]! * p[2]!] as const
          const turn =
            p[0]! * (u[1] * t[2] - u[2] * t[1]) +
            p[1]! * (u[2] * t[0] - u[0] * t[2]) +
            p[2]! * (u[0] * t[1] - u[1] * t[0])
          const hourAngle = -Math.atan2(turn, u[0] * t[0] + u[1] * t[1] + u[2] * t[2])
          const { lower, upper } = pole!.fit
          const pose = mount.pose(
            (lower.slope * hourAngle + lower.offset) / D,
            (upper.slope * Math.asin(along) + upper.offset) / D,
            'beam',
          )
          return apartDeg(pose.b, moon.direction)
        })
      expect(Math.max(...misses)).toBeLessThan(1e-4)
    },
  )
})

describe('a jack under slope and offset', () => {
  it('is told in reading angles: the program’s angle through the paper readout gives the counts', () => {
    const scene = drawScene(840, { kind: 'az-over-el', lower: 'degrees', upper: 'jack' })
    const sightings = sightMany(scene, 14)
    const station = stationFromRecord({ ...scene.record, sightings })
    const { slopeOffset, sky } = answerFor(station, START_MS)
    const { readout } = station.model.upper
    const p = sky.points[Math.floor(sky.points.length / 2)]!
    const ideal = angleFromReading(readout, aim(station.model, onPaper(), 'beam', p.moon.direction)!.upper)
    if (ideal.kind !== 'angle') throw new Error('outside the triangle')
    const told = readingFromAngle(readout, slopeOffset.upper.slope * ideal.angle + slopeOffset.upper.offset)
    if (told.kind !== 'reading') throw new Error('outside the triangle')
    const perCount = Math.abs((angleFromReading(readout, told.reading) as { perReading: number }).perReading)
    expect(Math.abs(told.reading - p.reach.upper) * perCount).toBeLessThan(6 * slopeOffset.remaining.rms + 1 * D)
  })
})
