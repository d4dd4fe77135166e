import { describe, expect, it } from 'vitest'
import { noonDay, noonPose, poseWith, type ShadowReading, shadowsTogether } from '../../../src/core/check/noon.ts'
import { solveStation } from '../../../src/core/fit/solution.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { DEG } from '../../helpers/degrees.ts'
import { drawScene, KINDS, mountAt, type Scene, START_MS } from '../../helpers/simulate.ts'

const SUN = { type: 'sun' } as const

/** The true shadow by walking a ray from the true feed down to the true dish, in the dish's own axes; from behind. */
function trueShadow(scene: Scene, ms: number, at: { lower: number; upper: number }): { rightMm: number; upMm: number } {
  const { record } = scene
  const f = 1000 * record.dish.diameterM * record.dish.focalRatio
  const sun = apparentPlace(SUN, ms, stationFromRecord(record).site, 'optical').direction
  // Counted from the shadow line, as the shadow method has it: the vertex the origin, the feed straight out.
  const { b, r, u } = mountAt(scene, ms).pose(at.lower, at.upper, 'shadow', record.feeds[0]!.id)
  const dot = (v: readonly number[]) => v[0]! * sun[0] + v[1]! * sun[1] + v[2]! * sun[2]
  const s = [dot(r), dot(u), dot(b)] as const
  let a = 0
  let t = 3 * f
  for (let k = 0; k < 200; k++) {
    const m = (a + t) / 2
    if (f - m * s[2] > ((m * s[0]) ** 2 + (m * s[1]) ** 2) / (4 * f)) a = m
    else t = m
  }
  return { rightMm: -a * s[0], upMm: -a * s[1] }
}

const sceneOf = (seed: number, kind: (typeof KINDS)[number], latDeg: number): Scene =>
  drawScene(seed, { kind, latDeg, feeds: 1, frequencyMHz: 1296, wild: false })

describe('noonDay', () => {
  it("has the Sun's transit due south or north, at 90° less latitude plus declination", () => {
    for (const latDeg of [47, -33]) {
      const scene = sceneOf(2, 'el-over-az', latDeg)
      const solved = solveStation(stationFromRecord(scene.record))
      const day = noonDay(solved, solved.station.feeds[0]!, START_MS + 5 * 3_600_000)
      expect(Math.abs(day.transitUtcMs - START_MS - 5 * 3_600_000)).toBeLessThanOrEqual(43_200_000)
      const place = apparentPlace(SUN, day.transitUtcMs, solved.station.site, 'optical')
      expect(Math.min(Math.abs(place.az), Math.abs(place.az - Math.PI), Math.abs(place.az - 2 * Math.PI))).toBeLessThan(
        1e-4,
      )
      expect(day.north).toBe(latDeg < 0)
      // The Sun's declination on 1 May is 15.0° to 15.3° (any almanac).
      expect(Math.abs(day.el / DEG - (90 - Math.abs(latDeg) + Math.sign(latDeg) * 15.15))).toBeLessThan(0.3)
      expect(day.times.length).toBeGreaterThan(50)
    }
  })
})

describe('noonPose', () => {
  it('puts the shadow where the true mount throws it once the mount is known, on all mounts, both hemispheres', () => {
    let seen = 0
    for (const kind of KINDS)
      for (const latDeg of [47, -33]) {
        const scene = sceneOf(6, kind, latDeg)
        for (const truth of scene.truths) for (const key of Object.keys(truth.truth)) truth.truth[key] = 0
        if (scene.record.mount.headingDeg !== undefined) scene.record.mount.headingDeg = latDeg > 0 ? 180 : 0
        const id = scene.record.feeds[0]!.id
        Object.assign(scene.truths[0]!.truth, { [`feedRight:${id}`]: 12, [`feedUp:${id}`]: -7, collimation: 0.3 })
        scene.record.priors = [
          { id: 'feedRight', feed: id, value: 12, sigma: 0.01 },
          { id: 'feedUp', feed: id, value: -7, sigma: 0.01 },
          { id: 'collimation', value: 0.3, sigma: 0.001 },
        ]
        delete scene.cache
        const solved = solveStation(stationFromRecord(scene.record))
        const feed = solved.station.feeds[0]!
        for (const h of [-2, 0, 2.5]) {
          const pose = noonPose(solved, feed, noonDay(solved, feed, START_MS).transitUtcMs + h * 3_600_000)
          if (pose === null || !pose.inside || pose.shadow === null) continue
          seen++
          const truth = trueShadow(scene, pose.utcMs, pose)
          expect(
            Math.hypot(pose.shadow.centre.rightMm - truth.rightMm, pose.shadow.centre.upMm - truth.upMm),
          ).toBeLessThan(0.1)
          // Aimed by the beam with a feed 14 mm off: about (1 + BDF) times that, opposite.
          const { bdf } = solved.station.model
          expect(
            Math.hypot(pose.shadow.centre.rightMm - 12 * (1 + bdf), pose.shadow.centre.upMm + 7 * (1 + bdf)),
          ).toBeLessThan(14)
        }
      }
    expect(seen).toBeGreaterThan(10)
  })

  it('tells the roll: none on el-over-az, and on a polar mount to the west clockwise as the hour angle says', () => {
    const flat = solveStation(stationFromRecord(sceneOf(2, 'el-over-az', 47).record))
    expect(Math.abs(noonPose(flat, flat.station.feeds[0]!, START_MS + 10 * 3_600_000)?.roll ?? 0)).toBeLessThan(1e-9)
    const scene = sceneOf(2, 'ha-dec', 47)
    const solved = solveStation(stationFromRecord(scene.record))
    const feed = solved.station.feeds[0]!
    const noon = noonDay(solved, feed, START_MS).transitUtcMs
    const { mount } = scene.record
    expect(mount.kind).toBe('ha-dec')
    const pose = noonPose(solved, feed, noon + 3 * 3_600_000)!
    // The mark points to the pole: the parallactic angle, by the spherical triangle.
    const [lat, H, dec] = [solved.station.site.lat, 45 * DEG, 15.1 * DEG]
    const q = Math.atan2(Math.sin(H), Math.tan(lat) * Math.cos(dec) - Math.sin(dec) * Math.cos(H))
    expect(Math.abs(pose.roll! - q)).toBeLessThan(0.02)
  })
})

describe('shadowsTogether', () => {
  const setup = () => {
    const scene = sceneOf(4, 'el-over-az', 47)
    for (const key of Object.keys(scene.truths[0]!.truth)) scene.truths[0]!.truth[key] = 0
    Object.assign(scene.truths[0]!.truth, { lowerZero: 0.6, upperZero: -0.4 })
    delete scene.cache
    const solved = solveStation(stationFromRecord(scene.record))
    const feed = solved.station.feeds[0]!
    const pose = noonPose(solved, feed, noonDay(solved, feed, START_MS).transitUtcMs)!
    const read = (minutes: number, noise: number): ShadowReading => {
      const utcMs = pose.utcMs + minutes * 60_000
      const p = trueShadow(scene, utcMs, pose)
      return {
        utcMs,
        lower: pose.lower,
        upper: pose.upper,
        rightMm: p.rightMm + scene.chance.normal(noise),
        upMm: p.upMm + scene.chance.normal(noise),
      }
    }
    return { scene, solved, feed, pose, read }
  }

  it("averages six readings in an hour: the true miss within σ, the pace the Sun's", () => {
    const { scene, solved, feed, pose, read } = setup()
    const answer = shadowsTogether(
      solved,
      feed,
      [0, 10, 20, 30, 40, 50].map(m => read(m, 3)),
      3,
    )!
    const place = apparentPlace(SUN, pose.utcMs, solved.station.site, 'optical')
    const { b, r, u } = mountAt(scene, pose.utcMs).pose(pose.lower, pose.upper, 'shadow', feed.id)
    const dot = (v: readonly number[]) =>
      v[0]! * place.direction[0] + v[1]! * place.direction[1] + v[2]! * place.direction[2]
    const before = poseWith(solved, feed, pose.utcMs, pose)!
    const f = solved.station.model.focalLength
    // The model on paper throws the shadow near the vertex; the miss is the true offset less that one.
    const right = dot(r) / dot(b) - -before.shadow!.centre.rightMm / f
    const up = dot(u) / dot(b) - -before.shadow!.centre.upMm / f
    expect(Math.abs(answer.miss.right - right)).toBeLessThan(4 * answer.sigma)
    expect(Math.abs(answer.miss.up - up)).toBeLessThan(4 * answer.sigma)
    expect(answer.sigma).toBeCloseTo(answer.sigmaEach / Math.sqrt(6), 12)
    expect(answer.pace!.isRight).toBe(true)
    expect(answer.pace!.sigma).toBeLessThan(0.1)
    expect(Math.abs(answer.pace!.ratio - 1)).toBeLessThan(4 * answer.pace!.sigma)
    expect(answer.looksMirrored).toBe(false)
    expect(Math.hypot(answer.mean.rightMm - read(20, 0).rightMm, answer.mean.upMm - read(20, 0).upMm)).toBeLessThan(6)
  })

  it('notices when right and left were swapped, and when the clock of the readings ran wild', () => {
    const { solved, feed, read } = setup()
    const list = [0, 15, 30, 45].map(m => read(m, 3))
    const mirrored = shadowsTogether(
      solved,
      feed,
      list.map(r => ({ ...r, rightMm: -r.rightMm })),
      3,
    )!
    expect(mirrored.pace!.isRight).toBe(false)
    expect(mirrored.looksMirrored).toBe(true)
    const still = shadowsTogether(
      solved,
      feed,
      list.map(r => ({ ...r, rightMm: list[0]!.rightMm, upMm: list[0]!.upMm })),
      3,
    )!
    expect(still.pace!.isRight).toBe(false)
    expect(still.looksMirrored).toBe(false)
  })

  it('has the Sun to the left and up where the shadow lies to the right and down; one reading has no pace', () => {
    const { solved, feed, pose } = setup()
    const { utcMs, lower, upper } = pose
    const answer = shadowsTogether(solved, feed, [{ utcMs, lower, upper, rightMm: 40, upMm: -25 }])!
    expect(answer.readings[0]!.sun.right).toBeLessThan(0)
    expect(answer.readings[0]!.sun.up).toBeGreaterThan(0)
    expect(answer.pace).toBeNull()
  })
})
