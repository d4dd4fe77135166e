import { describe, expect, it } from 'vitest'
import { enuFromHaDec, haDecFromEnu } from '../../../src/core/frames.ts'
import { aim, midRange, nearestReach, reachesOf, truePoses } from '../../../src/core/mount/aim.ts'
import { axesAt, chainOf, type MountModel, poseAt, poseIn } from '../../../src/core/mount/asbuilt.ts'
import { trueAngle } from '../../../src/core/mount/readings.ts'
import { type Built, onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import type { Readout } from '../../../src/core/readout/readout.ts'
import { angleBetween, azElFromEnu, enuFromAzEl, scale, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import {
  between,
  COUNTS,
  DEGREES,
  directionOf,
  JACK,
  KINDS,
  LINES,
  mountOf,
  randomBuilt,
  randomMount,
  withoutJackScale,
} from './sample.ts'

const READOUTS: readonly Readout[] = [DEGREES, COUNTS, JACK, { ...JACK, direction: -1 }]
const PAPER = onPaper()

const angleAt = (model: MountModel, built: Built, axis: 'lower' | 'upper', reading: number): number => {
  const at = trueAngle(model, built, axis, reading)
  if (at.kind !== 'angle') throw new Error(`no angle at ${axis} ${reading}`)
  return at.angle
}
/** Where readings point. */
const directionAt = (model: MountModel, built: Built, line: (typeof LINES)[number], lower: number, upper: number) =>
  poseAt(model, built, angleAt(model, built, 'lower', lower), angleAt(model, built, 'upper', upper), line).b
const randomReading = (random: () => number, readout: Readout): number =>
  readout.type === 'degrees'
    ? between(random, -180, 540)
    : readout.type === 'jack'
      ? between(random, 20, 980)
      : between(random, -9000, 15000) // about a turn and a half either way

describe('reachesOf', () => {
  for (const kind of KINDS) {
    it(`finds the readings again that pointed ${kind} there, to 1e-9, over the whole sky, wraps and jacks included: 1000 states`, () => {
      const random = seeded(101 + KINDS.indexOf(kind))
      let worstPointing = 0
      let worstReading = 0
      let below = 0
      for (let k = 0; k < 1000; k++) {
        const [lower, upper] = [READOUTS[k % 4]!, READOUTS[(k >> 2) % 4]!]
        const model = randomMount(random, kind, lower, upper)
        const built = withoutJackScale(model, randomBuilt(random))
        const line = LINES[k % 4 === 0 ? (k >> 4) % 4 : k % 3]!
        const readings = { lower: randomReading(random, lower), upper: randomReading(random, upper) }
        const t = directionAt(model, built, line, readings.lower, readings.upper)
        if (t[2] < 0) below++
        const reaches = reachesOf(model, built, line, t)
        // Every answer is a true one: its readings point there.
        for (const r of reaches) {
          const back = directionAt(model, built, line, r.lower, r.upper)
          worstPointing = Math.max(worstPointing, angleBetween(back, t))
        }
        // A count is some thousandths of a degree: 1e-9 of the reading's own angle, in degrees, for every readout.
        const unit = (axis: 'lower' | 'upper') => {
          const at = trueAngle(model, built, axis, readings[axis])
          return at.kind === 'angle' ? Math.abs(at.perReading) / DEG : Number.NaN
        }
        const misses = reaches.map(r =>
          Math.max(
            Math.abs(r.lower - readings.lower) * unit('lower'),
            Math.abs(r.upper - readings.upper) * unit('upper'),
          ),
        )
        worstReading = Math.max(worstReading, Math.min(...misses))
      }
      expect(worstPointing).toBeLessThan(1e-12)
      expect(worstReading).toBeLessThan(1e-9)
      expect(below).toBeGreaterThan(200) // the whole sky, the half below the horizon too
      console.info(
        `${kind}: pointing within ${worstPointing.toExponential(1)} rad, reading within ${worstReading.toExponential(1)}°`,
      )
    })

    it(`reaches what ${kind} can reach: where a fine grid of poses comes near, there is an answer, and it is near`, () => {
      // The other way about, without the inverse's own algebra: brute force over both axes.
      const random = seeded(111 + KINDS.indexOf(kind))
      for (let k = 0; k < 4; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        const grid: Vec3[] = []
        for (let i = 0; i < 60; i++)
          for (let j = 0; j < 60; j++) grid.push(poseAt(model, built, i * 6 * DEG, j * 6 * DEG, 'beam').b)
        for (let j = 0; j < 40; j++) {
          const t = directionOf(random)
          const nearest = Math.min(...grid.map(g => angleBetween(g, t)))
          const poses = truePoses(model, built, 'beam', t)
          // Steps of 6° leave no reachable direction farther than 6° from a grid point; unreachable ones may be nearer.
          if (nearest > 6 * DEG) expect(poses).toHaveLength(0)
          if (poses.length === 0) expect(nearest).toBeGreaterThan(0)
          else expect(nearest).toBeLessThan(6 * DEG)
        }
      }
    })
  }

  it('gives two poses for nearly every direction, and both point there', () => {
    const random = seeded(121)
    for (const kind of KINDS) {
      for (let k = 0; k < 100; k++) {
        const model = mountOf({ kind, latitude: between(random, -80, 80), heading: between(random, 0, 360) })
        const t = directionOf(random)
        const poses = truePoses(model, PAPER, 'beam', t)
        expect(poses).toHaveLength(2)
        for (const p of poses) expect(angleBetween(poseAt(model, PAPER, p.T, p.S, 'beam').b, t)).toBeLessThan(1e-13)
        for (const p of poses) expect(Math.max(Math.abs(p.T), Math.abs(p.S))).toBeLessThanOrEqual(Math.PI * (1 + 1e-15))
      }
    }
  })
})

describe('the flipped pose', () => {
  // Limits that leave only the pose beyond the top: T half a turn away, S = 180° - S.
  const FLIPPED = {
    'el-over-az': {
      limits: { lower: [0, 90], upper: [95, 180] },
      at: enuFromAzEl(240 * DEG, 40 * DEG),
      want: [60, 140],
    },
    'ha-dec': {
      latitude: -35,
      limits: { lower: [-180, -100], upper: [91, 250] },
      at: enuFromHaDec(20 * DEG, -15 * DEG, -35 * DEG),
      want: [-160, 195],
    },
    'az-over-el': {
      heading: 180,
      offset: -6.5,
      limits: { lower: [90, 270], upper: [91, 250] },
      // As below: az 240, el 25, offset -6.5 is ψ 36.470346, H 52.182107, that is tilt 53.529654: its twin's swing
      // is 180 - H, and its tilt half a turn and 2 × atan2(sin o, cos o cos H) away.
      at: enuFromAzEl(240 * DEG, 25 * DEG),
      want: [
        53.529654 +
          180 +
          (2 * Math.atan2(Math.sin(-6.5 * DEG), Math.cos(-6.5 * DEG) * Math.cos(52.182107 * DEG))) / DEG,
        180 - 52.182107,
      ],
    },
    'x-y': {
      heading: 0,
      limits: { lower: [100, 260], upper: [91, 200] },
      at: enuFromAzEl(60 * DEG, 30 * DEG),
      want: [236.309932, 154.341094],
    },
  } as const

  for (const kind of KINDS) {
    it(`is the only one within the limits, and is found, on ${kind}`, () => {
      const { limits, at, want, ...rest } = FLIPPED[kind]
      const model = mountOf({ kind, ...rest, limits: { lower: [...limits.lower], upper: [...limits.upper] } })
      const inside = reachesOf(model, PAPER, 'beam', at).filter(r => r.inside)
      expect(inside).toHaveLength(1)
      const got = aim(model, PAPER, 'beam', at)!
      expect(got).toEqual(inside[0])
      expect(got.lower).toBeCloseTo(want[0], 5)
      expect(got.upper).toBeCloseTo(want[1], 5)
      expect(angleBetween(directionAt(model, PAPER, 'beam', got.lower, got.upper), at)).toBeLessThan(1e-12)
    })
  }
})

describe('wraps', () => {
  const azEl = (lower: [number, number], zero = 0) => {
    const built = onPaper()
    built[SLOT.lowerZero] = zero * DEG
    return { built, model: mountOf({ kind: 'el-over-az', limits: { lower, upper: [0, 90] } }) }
  }
  const insideLowers = (model: MountModel, built: Built, az: number) =>
    reachesOf(model, built, 'beam', enuFromAzEl(az * DEG, 30 * DEG))
      .filter(r => r.inside)
      .map(r => r.lower)
      .sort((a, b) => a - b)
  const close = (got: number[], want: number[]) => {
    expect(got).toHaveLength(want.length)
    got.forEach((x, i) => {
      expect(x).toBeCloseTo(want[i]!, 9)
    })
  }

  it('shows azimuth 10° as 10° and 370° on limits of -180° to 540°, and 200° as -160°, 200° and no other', () => {
    const { model, built } = azEl([-180, 540])
    close(insideLowers(model, built, 10), [10, 370])
    close(insideLowers(model, built, 200), [-160, 200])
    close(insideLowers(model, built, 180), [-180, 180, 540])
  })

  it('turns the true angle, not the reading: with a zero of -128° azimuth 10° reads 138° and 498°', () => {
    const { model, built } = azEl([-180, 540], -128)
    close(insideLowers(model, built, 10), [138, 498])
    close(insideLowers(model, built, 266), [34, 394])
    close(insideLowers(model, built, 60), [-172, 188])
  })

  it('stretches a turn by the scale: with 2 % a turn is 360°/1.02 of readings', () => {
    const { model, built } = azEl([-180, 540])
    built[SLOT.lowerScale] = 0.02
    close(insideLowers(model, built, 10), [10 / 1.02, 370 / 1.02])
    close(insideLowers(model, built, 185), [-175 / 1.02, 185 / 1.02, 545 / 1.02])
  })

  it('takes the turn nearest to where the mount stands', () => {
    const { model, built } = azEl([-180, 540])
    const t = enuFromAzEl(5 * DEG, 30 * DEG)
    expect(aim(model, built, 'beam', t, { T: 355 * DEG, S: 0.5 })!.lower).toBeCloseTo(365, 9)
    expect(aim(model, built, 'beam', t, { T: -5 * DEG, S: 0.5 })!.lower).toBeCloseTo(5, 9)
    // With nothing said, nearest to mid-range: 180° here, and 5° is nearer to it than 365°.
    expect(midRange(model, built).T / DEG).toBeCloseTo(180, 12)
    expect(aim(model, built, 'beam', t)!.lower).toBeCloseTo(5, 9)
  })

  it('offers one turn only on a jack: its triangle knows which', () => {
    const model = mountOf({
      kind: 'az-over-el',
      heading: 180,
      upper: JACK,
      limits: { lower: [0, 90], upper: [0, 1000] },
    })
    const t = poseAt(model, PAPER, 40 * DEG, 25 * DEG, 'beam').b
    const inside = reachesOf(model, PAPER, 'beam', t).filter(r => r.inside)
    expect(inside).toHaveLength(1)
    expect(inside[0]!.S / DEG).toBeCloseTo(25, 9)
  })
})

describe('limits', () => {
  it('count as inside when the reading is just on them, and a millionth of a degree beyond as outside', () => {
    const random = seeded(131)
    for (const kind of KINDS) {
      for (let k = 0; k < 50; k++) {
        const [lower, upper] = [between(random, -80, 80), between(random, -80, 80)]
        const isInside = (slack: number) => {
          const model = mountOf({
            kind,
            latitude: 40,
            limits: { lower: [-170, lower + slack], upper: [upper - slack, 89] },
          })
          const t = directionAt(model, PAPER, 'beam', lower, upper)
          return reachesOf(model, PAPER, 'beam', t).some(
            r => r.inside && Math.abs(r.lower - lower) < 1e-6 && Math.abs(r.upper - upper) < 1e-6,
          )
        }
        expect(isInside(0)).toBe(true)
        expect(isInside(-1e-6)).toBe(false)
      }
    }
  })

  it('hold for a jack at both ends of its counts', () => {
    for (const end of [0, 1000]) {
      const model = mountOf({ kind: 'az-over-el', upper: JACK, limits: { lower: [0, 90], upper: [0, 1000] } })
      const t = directionAt(model, PAPER, 'beam', 30, end)
      const got = aim(model, PAPER, 'beam', t)!
      expect(got.inside).toBe(true)
      expect(got.upper).toBeCloseTo(end, 9)
    }
  })

  it('do not hide an answer: a pose beyond them is told as outside, and comes after any pose inside', () => {
    const model = mountOf({ kind: 'el-over-az', limits: { lower: [0, 360], upper: [0, 45] } })
    const high = aim(model, PAPER, 'beam', enuFromAzEl(100 * DEG, 60 * DEG))!
    expect(high.inside).toBe(false)
    expect([high.lower, high.upper].map(x => Math.round(x * 1e6) / 1e6)).toEqual([100, 60])
    expect(nearestReach([], { T: 0, S: 0 })).toBeNull()
  })
})

describe('no pose is an answer', () => {
  // The tilting polar mount: s = cos δ (cos H n + sin H e) + sin δ k, k the swing axis of elevation ψ. Unreachable where
  // |s · e| > cos δ: a cone of half-angle |δ| round due east and west for A0 = 180°.
  const TILTING = {
    kind: 'az-over-el',
    heading: 180,
    offset: -6.5,
    limits: { lower: [0, 90], upper: [-90, 90] },
  } as const
  const limits = { lower: [0, 90] as [number, number], upper: [-90, 90] as [number, number] }

  it('az-over-el facing south with an offset of -6.5° cannot look to azimuth 268°, elevation 3°', () => {
    const model = mountOf({ ...TILTING, limits })
    const t = enuFromAzEl(268 * DEG, 3 * DEG)
    expect(truePoses(model, PAPER, 'beam', t)).toEqual([])
    expect(reachesOf(model, PAPER, 'beam', t)).toEqual([])
    expect(aim(model, PAPER, 'beam', t)).toBeNull()
  })

  for (const [az, el, offset, psi, H] of [
    [240, 25, -6.5, 36.470346, 52.182107],
    [120, 10, -6.5, 58.052734, -59.135884],
    [95, 50, 0, 4.182729, -39.817297],
    [180, 40, -6.5, 43.5, 0],
  ] as const) {
    it(`az-over-el with offset ${offset}° looks to ${az}°, ${el}° with its swing axis at ${psi}°, swung ${H}°`, () => {
      // ψ = atan2(s·u, s·z) + atan2(sin δ, cos δ cos H), sin H = s·e/cos δ, six decimals, worked out by hand-derived
      // formula apart from this program (nothing published gives figures). ψ is the elevation of the swing axis: our tilt is 90° - ψ.
      const model = mountOf({ ...TILTING, offset, limits })
      const got = aim(model, PAPER, 'beam', enuFromAzEl(az * DEG, el * DEG))!
      expect(got.inside).toBe(true)
      expect(Math.abs(got.lower - (90 - psi))).toBeLessThan(1e-6)
      expect(Math.abs(got.upper - H)).toBeLessThan(1e-6)
    })
  }

  it('the cone is |offset| wide about the lower axis and no wider, for every kind (offset, or collimation)', () => {
    const random = seeded(141)
    for (const kind of KINDS) {
      for (let k = 0; k < 100; k++) {
        const model = randomMount(random, kind)
        const built = onPaper()
        built[SLOT.axisA] = between(random, -20, 20) * DEG
        built[SLOT.axisB] = between(random, -20, 20) * DEG
        built[SLOT.collimation] = between(random, -9, 9) * DEG
        const cone = Math.abs(Math.asin(collimatedTowardUpper(model, built)))
        const { lower } = axesAt(model, built, 0)
        const side = axesAt(model, built, between(random, 0, 6)).upper
        const end = scale(lower, random() < 0.5 ? -1 : 1)
        const within = (angle: number): Vec3 => [
          end[0] * Math.cos(angle) + side[0] * Math.sin(angle),
          end[1] * Math.cos(angle) + side[1] * Math.sin(angle),
          end[2] * Math.cos(angle) + side[2] * Math.sin(angle),
        ]
        expect(truePoses(model, built, 'boresight', within(cone * 0.999))).toHaveLength(0)
        expect(truePoses(model, built, 'boresight', within(cone * 1.001))).toHaveLength(2)
      }
    }
  })

  it('x-y on paper reaches everything, the ends of its lower axis too', () => {
    const model = mountOf({ kind: 'x-y', heading: 20 })
    for (const az of [20, 200]) {
      const [pose] = truePoses(model, PAPER, 'beam', enuFromAzEl(az * DEG, 0))
      expect(Math.abs(Math.abs(pose!.S) - Math.PI / 2)).toBeLessThan(1e-12)
    }
  })

  it('a collimated el-over-az dish cannot look within its collimation of the zenith: 0.5° leaves 0.4° out, 0.6° in', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const built = onPaper()
    built[SLOT.collimation] = 0.5 * DEG
    expect(truePoses(model, built, 'boresight', enuFromAzEl(1, 89.6 * DEG))).toHaveLength(0)
    expect(truePoses(model, built, 'boresight', enuFromAzEl(1, 89.4 * DEG))).toHaveLength(2)
  })
})

/** Sine of the angle by which the boresight leaves the plane that the upper axis sweeps. */
function collimatedTowardUpper(model: MountModel, built: Built): number {
  const { upper } = axesAt(model, built, 0)
  const { b } = poseAt(model, built, 0, 0, 'boresight')
  return b[0] * upper[0] + b[1] * upper[1] + b[2] * upper[2]
}

describe('at the gimbal', () => {
  const poles: Record<(typeof KINDS)[number], (model: MountModel) => Vec3> = {
    'el-over-az': () => [0, 0, 1],
    'ha-dec': m => m.paper.a1,
    'az-over-el': m => m.paper.a1,
    'x-y': m => m.paper.a1,
  }

  for (const kind of KINDS) {
    it(`${kind} keeps the lower angle it has when it looks along its lower axis, either end, and nothing is NaN`, () => {
      for (const latitude of [52, -23, 90, -90]) {
        const model = mountOf({ kind, latitude, heading: 33 })
        for (const sign of [1, -1]) {
          const t = scale(poles[kind](model), sign)
          const poses = truePoses(model, PAPER, 'beam', t, 0.7)
          expect(poses.length).toBeGreaterThan(0)
          for (const p of poses) {
            expect(p.T).toBe(0.7)
            expect(angleBetween(poseAt(model, PAPER, p.T, p.S, 'beam').b, t)).toBeLessThan(1e-12)
          }
        }
      }
    })

    it(`${kind} points true to 1e-12 rad however near to its lower axis: 1e-1 to 1e-15 rad`, () => {
      const random = seeded(151 + KINDS.indexOf(kind))
      let worst = 0
      for (let e = 1; e <= 15; e++) {
        for (let k = 0; k < 16; k++) {
          const model = randomMount(random, kind)
          const built = onPaper()
          built[SLOT.axisA] = between(random, -20, 20) * DEG
          built[SLOT.axisB] = between(random, -20, 20) * DEG
          if (k % 2) built[SLOT.sag] = 1 * DEG
          // Half of them with a line off the plane of the upper axis, so that the gimbal is a cone's edge.
          if (k % 4 > 1) built[SLOT.collimation] = between(random, -2, 2) * DEG
          const away = 10 ** -e
          // The pose whose line is nearest to the lower axis, moved away from it.
          const { lower } = axesAt(model, built, 0)
          const chain = chainOf(model, built, 'boresight')
          const near = (s: number) => angleBetween(poseIn(chain, 0, s).b, lower)
          let S = 0
          for (let step = 1, i = 0; i < 60; i++, step = i < 12 ? step : step / 2) {
            const best = [S - step, S, S + step].reduce((a, b) => (near(b) < near(a) ? b : a))
            S = best
          }
          const T = between(random, -3, 3)
          const t = poseAt(model, built, T, S + (random() < 0.5 ? -away : away), 'boresight').b
          const poses = truePoses(model, built, 'boresight', t)
          expect(poses.length, `${away} rad`).toBeGreaterThan(0)
          for (const p of poses) {
            expect(Number.isFinite(p.T) && Number.isFinite(p.S)).toBe(true)
            worst = Math.max(worst, angleBetween(poseAt(model, built, p.T, p.S, 'boresight').b, t))
          }
        }
      }
      console.info(`${kind} near its lower axis: worst ${worst.toExponential(1)} rad`)
      expect(worst).toBeLessThan(1e-12)
    })
  }

  it('the zenith and the pole are reached by el-over-az and ha-dec at 90°', () => {
    const [up] = truePoses(mountOf({ kind: 'el-over-az' }), PAPER, 'beam', [0, 0, 1])
    expect(up!.S / DEG).toBeCloseTo(90, 9)
    const [pole] = truePoses(
      mountOf({ kind: 'ha-dec', latitude: 50 }),
      PAPER,
      'beam',
      enuFromHaDec(0, 90 * DEG, 50 * DEG),
    )
    expect(pole!.S / DEG).toBeCloseTo(90, 9)
  })
})

describe('on paper the inverse is the sky’s own coordinates', () => {
  it('el-over-az: azimuth and elevation; ha-dec: hour angle and declination, north and south', () => {
    const random = seeded(161)
    for (let k = 0; k < 500; k++) {
      const t = directionOf(random)
      const latitude = between(random, -90, 90)
      const { az, el } = azElFromEnu(t)
      const first = aim(
        mountOf({ kind: 'el-over-az', limits: { lower: [0, 360], upper: [-90, 90] } }),
        PAPER,
        'beam',
        t,
      )!
      expect(first.lower).toBeCloseTo(az / DEG, 8)
      expect(first.upper).toBeCloseTo(el / DEG, 8)
      const { ha, dec } = haDecFromEnu(t, latitude * DEG)
      const second = aim(
        mountOf({ kind: 'ha-dec', latitude, limits: { lower: [-180, 180], upper: [-90, 90] } }),
        PAPER,
        'beam',
        t,
      )!
      expect(second.lower).toBeCloseTo(ha / DEG, 8)
      expect(second.upper).toBeCloseTo(dec / DEG, 8)
    }
  })
})
