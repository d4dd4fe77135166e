/** The feed's shadow: the parabola's own law, the solver's independent intersection, the Sun's width. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sunFromShadow } from '../../../src/core/dish/shadow.ts'
import { shadowOfPoint } from '../../../src/core/dish/shadowshape.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { offsetDeg, trueMount } from '../../../src/core/rehearse/mount.ts'
import { feedShadow, meets } from '../../../src/core/rehearse/shadow.ts'
import { mixed, normed, type V3 } from '../../../src/core/rehearse/turning.ts'
import { DEG } from '../../../src/core/units.ts'

const F = 1200
const record: StationRecord = {
  id: 's',
  name: 's',
  site: { latDeg: 47, lonDeg: 9, heightM: 0 },
  dish: { diameterM: 3, focalRatio: 0.4, feedDiameterMm: 180 },
  feeds: [{ id: 'a', name: 'a', frequencyMHz: 1296 }],
  mount: {
    kind: 'az-over-el',
    headingDeg: 180,
    lower: { readout: { type: 'degrees' }, minReading: 0, maxReading: 90 },
    upper: { readout: { type: 'degrees' }, minReading: -60, maxReading: 60 },
  },
  sightings: [],
}
/** The Sun at an offset from a pose's line, degrees right and up. */
const sunAt = (pose: { b: V3; r: V3; u: V3 }, right: number, up: number): V3 =>
  normed(mixed(mixed(pose.b, 1, pose.r, Math.tan(right * DEG)), 1, pose.u, Math.tan(up * DEG)))

describe('a shadow on the paraboloid', () => {
  it('falls 2f tan(θ/2) from the axis for a feed in the focus, on the side away from the Sun', () => {
    for (const theta of [0.5, 2, 8]) {
      const place = meets(F, [0, 0, F], [Math.sin(theta * DEG), 0, Math.cos(theta * DEG)])!
      expect(place[0]).toBeCloseTo(-2 * F * Math.tan((theta / 2) * DEG), 6)
      expect(place[1]).toBeCloseTo(0, 9)
    }
  })

  it('is where the closed intersection has it, to a micrometre, for feeds and Suns anywhere', () => {
    const small = fc.double({ min: -60, max: 60, noNaN: true })
    const tip = fc.double({ min: -0.2, max: 0.2, noNaN: true })
    fc.assert(
      fc.property(small, small, tip, tip, (x, y, sx, sy) => {
        const s = normed([sx, sy, 1])
        const [mine, theirs] = [meets(F, [x, y, F], s)!, shadowOfPoint(F, [x, y, F], s)!]
        expect(mine[0]).toBeCloseTo(theirs.rightMm, 3)
        expect(mine[1]).toBeCloseTo(theirs.upMm, 3)
      }),
    )
  })

  it('says nothing where the Sun is behind the dish', () => {
    expect(meets(F, [0, 0, F], [0, 1, -0.1])).toBeNull()
  })
})

describe("the feed's shadow as it is read", () => {
  it.each([
    [0, 0],
    [25, -10],
    [-30, 35],
  ])('gives a Sun within 0.03° of where it stands from the shadow line, the feed off by %i and %i mm', (right, up) => {
    const mount = trueMount(record, { 'feedRight:a': right, 'feedUp:a': up, sag: 0.2, collimation: 0.8, heading: 3 })
    for (const [l, u] of [
      [20, 30],
      [55, -40],
    ] as const) {
      const pose = mount.pose(l, u, 'boresight')
      const sun = sunAt(pose, 1.5, -1)
      const { centre } = feedShadow(mount, pose, 'a', sun, 180)!
      // What a reading of that place says to the solver, counted from the shadow line.
      const read = sunFromShadow(F, centre[0], centre[1])
      const [x, y] = offsetDeg(mount.pose(l, u, 'shadow'), sun)
      // The solver takes the feed back to the axis: right to second order, that is 0.03° for 46 mm and 2°.
      expect(Math.hypot(read.right / DEG - x, read.up / DEG - y)).toBeLessThan(0.03)
    }
  })

  it('has soft edges either side of the sharp one by the ray times the tangent of half the Sun', () => {
    const mount = trueMount(record, {})
    const pose = mount.pose(30, 0, 'boresight')
    const { sharp, umbra, penumbra } = feedShadow(mount, pose, 'a', pose.b, 180)!
    const radius = (of: readonly (readonly [number, number])[]) => Math.hypot(...of[0]!)
    expect(radius(sharp)).toBeCloseTo(90, 6)
    expect(radius(penumbra) - radius(sharp)).toBeCloseTo(F * Math.tan((0.533 / 2) * DEG), 1)
    expect(radius(sharp) - radius(umbra)).toBeCloseTo(F * Math.tan((0.533 / 2) * DEG), 1)
  })

  it('has no umbra under a feed narrower than the Sun throws', () => {
    const mount = trueMount(record, {})
    const pose = mount.pose(30, 0, 'boresight')
    expect(feedShadow(mount, pose, 'a', pose.b, 8)!.umbra).toEqual([])
  })
})
