import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { enuFromHaDec } from '../../../src/core/frames.ts'
import { poseAt } from '../../../src/core/mount/asbuilt.ts'
import { paperOf } from '../../../src/core/mount/kinds.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { angleBetween, azElFromEnu, cross, dot, enuFromAzEl, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { KINDS, mountOf } from './sample.ts'

const seeded = { seed: 20260501, numRuns: 400 }
const angle = (from: number, to: number) => fc.double({ min: from, max: to, noNaN: true })
const PAPER = onPaper()
const boresight = (mount: Parameters<typeof mountOf>[0], T: number, S: number): Vec3 =>
  poseAt(mountOf(mount), PAPER, T * DEG, S * DEG, 'boresight').b
const near = (a: Vec3, b: Vec3) => expect(angleBetween(a, b)).toBeLessThan(1e-13)

describe('paperOf', () => {
  it('gives every kind two axes at right angles and a dish seen from behind: right × up = -out', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...KINDS),
        angle(0, 360),
        angle(-90, 90),
        angle(-45, 45),
        (kind, heading, latitude, o) => {
          const p = paperOf({
            kind,
            heading: heading * DEG,
            latitude: latitude * DEG,
            offset: kind === 'az-over-el' ? o * DEG : 0,
          })
          for (const v of [p.a1, p.a2, p.b0, p.u0, p.r0, p.c0]) expect(Math.hypot(...v)).toBeCloseTo(1, 14)
          expect(dot(p.a1, p.a2)).toBeCloseTo(0, 14)
          expect(dot(p.b0, p.u0)).toBeCloseTo(0, 14)
          const out = cross(p.r0, p.u0)
          for (let i = 0; i < 3; i++) expect(out[i]).toBeCloseTo(-p.b0[i]!, 14)
        },
      ),
      seeded,
    )
  })
})

describe('the mounts on paper', () => {
  it('el-over-az reads azimuth and elevation, with the UP mark on top', () => {
    fc.assert(
      fc.property(angle(-360, 540), angle(-90, 180), (az, el) => {
        near(boresight({ kind: 'el-over-az' }, az, el), enuFromAzEl(az * DEG, el * DEG))
      }),
      seeded,
    )
    const level = poseAt(mountOf({ kind: 'el-over-az' }), PAPER, 90 * DEG, 0, 'boresight')
    near(level.u, [0, 0, 1])
    near(level.r, [0, -1, 0]) // facing east, the right hand points south
  })

  it('ha-dec reads hour angle, west +, and declination, from either hemisphere and both poles', () => {
    fc.assert(
      fc.property(
        angle(-180, 180),
        angle(-90, 90),
        fc.oneof(angle(-90, 90), fc.constantFrom(-90, 0, 90)),
        (H, d, p) => {
          near(boresight({ kind: 'ha-dec', latitude: p }, H, d), enuFromHaDec(H * DEG, d * DEG, p * DEG))
        },
      ),
      seeded,
    )
  })

  it('ha-dec at the meridian has its UP mark on the side of the zenith’s pole: north in the north, south in the south', () => {
    const north = poseAt(mountOf({ kind: 'ha-dec', latitude: 50 }), PAPER, 0, 0, 'boresight')
    expect(azElFromEnu(north.b).az / DEG).toBeCloseTo(180, 10)
    near(north.r, [-1, 0, 0]) // facing south, right is west
    const south = poseAt(mountOf({ kind: 'ha-dec', latitude: -50 }), PAPER, 0, 0, 'boresight')
    near(south.r, [1, 0, 0]) // facing north, right is east
    for (const pose of [north, south]) expect(pose.u[2]).toBeGreaterThan(0)
  })

  it('az-over-el without an offset is (f cos T + U sin T) cos S + r sin S', () => {
    fc.assert(
      fc.property(angle(0, 360), angle(-180, 180), angle(-180, 180), (heading, T, S) => {
        const h = heading * DEG
        const [cT, sT, cS, sS] = [Math.cos(T * DEG), Math.sin(T * DEG), Math.cos(S * DEG), Math.sin(S * DEG)]
        const want: Vec3 = [Math.sin(h) * cT * cS + Math.cos(h) * sS, Math.cos(h) * cT * cS - Math.sin(h) * sS, sT * cS]
        near(boresight({ kind: 'az-over-el', heading }, T, S), want)
      }),
      seeded,
    )
  })

  it('az-over-el with its axis at the pole and offset = declination reads the hour angle as its swing', () => {
    // The tilting polar mount: facing south with ψ = latitude, (swing, offset) are hour angle and declination. ψ is the elevation of
    // the swing axis, T that of the swing plane's centre: T = 90° - ψ.
    fc.assert(
      fc.property(angle(-90, 90), angle(-45, 45), angle(-180, 180), (latitude, offset, H) => {
        const got = boresight({ kind: 'az-over-el', heading: 180, offset }, 90 - latitude, H)
        near(got, enuFromHaDec(H * DEG, offset * DEG, latitude * DEG))
      }),
      seeded,
    )
  })

  it('az-over-el facing south, swing axis at 45°, offset -6.5°, swung 30° right, looks to 215.812944°, 31.896688°', () => {
    // Worked out by hand-derived formula apart from this program, not published; tolerance is the last printed digit.
    const { az, el } = azElFromEnu(boresight({ kind: 'az-over-el', heading: 180, offset: -6.5 }, 45, 30))
    expect(Math.abs(az / DEG - 215.812944)).toBeLessThan(1e-6)
    expect(Math.abs(el / DEG - 31.896688)).toBeLessThan(1e-6)
  })

  it('x-y points to the zenith at nought, tips to the right with +X and forward with +Y', () => {
    near(boresight({ kind: 'x-y', heading: 37 }, 0, 0), [0, 0, 1])
    near(boresight({ kind: 'x-y', heading: 0 }, 90, 0), [1, 0, 0])
    near(boresight({ kind: 'x-y', heading: 0 }, 0, 90), [0, 1, 0])
  })

  // Worked out apart from this program by the closed forms. Lower axis east-west: X = atan2(cos E cos A, sin E) toward north, Y = asin(cos E sin A) toward
  // east; lower axis north-south: X = atan2(cos E sin A, sin E) toward east, Y = asin(cos E cos A) toward north.
  for (const [az, el, ewX, ewY, nsX, nsY] of [
    [60, 30, 40.893395, 48.590378, 56.309932, 25.658906],
    [200, 70, -18.881721, -6.717713, -7.09597, -18.747237],
  ] as const) {
    it(`x-y looks to ${az}°, ${el}° at X ${ewX}°, Y ${ewY}° (lower axis east-west) and ${nsX}°, ${nsY}° (north-south)`, () => {
      const target = enuFromAzEl(az * DEG, el * DEG)
      // Heading 0: the axis runs north, right is east, forward north: both senses as published.
      expect(angleBetween(boresight({ kind: 'x-y', heading: 0 }, nsX, nsY), target) / DEG).toBeLessThan(1e-6)
      // Heading 270: the axis runs west, right is north (X as published), forward is west (Y the other way).
      expect(angleBetween(boresight({ kind: 'x-y', heading: 270 }, ewX, -ewY), target) / DEG).toBeLessThan(1e-6)
      // Heading 90: right is south (X the other way), forward is east (Y as published).
      expect(angleBetween(boresight({ kind: 'x-y', heading: 90 }, -ewX, ewY), target) / DEG).toBeLessThan(1e-6)
    })
  }
})
