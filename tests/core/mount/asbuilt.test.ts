import { describe, expect, it } from 'vitest'
import { haDecFromEnu } from '../../../src/core/frames.ts'
import {
  axesAt,
  lineAngles,
  lineInDish,
  lowerAxisToward,
  lowerAxisTurn,
  type MountModel,
  type Pose,
  poseAt,
  turningPoseAt,
} from '../../../src/core/mount/asbuilt.ts'
import { type Built, onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import { apply } from '../../../src/core/rotations.ts'
import { angleBetween, azElFromEnu, cross, dot, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import { someOf } from '../../helpers/some.ts'
import {
  between,
  directionOf,
  KINDS,
  LINES,
  mountOf,
  moved,
  randomBuilt,
  randomMount,
  SLOT_NAMES,
  type SlotName,
  slope,
} from './sample.ts'

const builtWith = (values: Partial<Record<SlotName, number>>): Built => {
  const built = onPaper()
  for (const [name, value] of Object.entries(values)) built[SLOT[name as SlotName]] = value
  return built
}
const wrapDeg = (a: number): number => a - 360 * Math.round(a / 360)

const STATES = 100
const READOUT_SLOTS = new Set<SlotName>(
  SLOT_NAMES.filter(n => /^(lower|upper)(Zero|Scale|BaseArm|RodArm|Play|Shift)$/.test(n)),
)
const flat = (p: Pose): number[] => [...p.b, ...p.r, ...p.u]
const turned = (w: Vec3, p: Pose): number[] => [...cross(w, p.b), ...cross(w, p.r), ...cross(w, p.u)]
const worstDifference = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((x, i) => Math.abs(x - b[i]!)))

describe('turningPoseAt', () => {
  for (const kind of KINDS) {
    it(`turns ${kind} about one axis per parameter: beam, right and up agree with central differences to 1e-8, 100 states`, () => {
      const random = seeded(11 + KINDS.indexOf(kind))
      const seen = new Map<string, number>()
      let most = 0
      const wrong: string[] = []
      for (let k = 0; k < STATES; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        const T = between(random, -180, 180) * DEG
        const S = between(random, -180, 180) * DEG
        for (const line of LINES) {
          const pose = turningPoseAt(model, built, T, S, line)
          expect(worstDifference(flat(pose), flat(poseAt(model, built, T, S, line)))).toBeLessThan(1e-14)
          const compare = (name: string, turn: Vec3, difference: number[]) => {
            const worst = worstDifference(turned(turn, pose), difference)
            most = Math.max(most, worst)
            if (!(worst < 1e-8)) wrong.push(`${line} ${name}: ${worst}`)
            seen.set(`${line} ${name}`, Math.max(seen.get(`${line} ${name}`) ?? 0, Math.hypot(...turn)))
          }
          for (const name of SLOT_NAMES) {
            if (READOUT_SLOTS.has(name)) continue
            const slot = SLOT[name]
            const turn: Vec3 = [pose.turns[3 * slot]!, pose.turns[3 * slot + 1]!, pose.turns[3 * slot + 2]!]
            const h = name.startsWith('feed') ? 1 : 1e-3 // mm, rad
            compare(
              name,
              turn,
              slope(by => flat(poseAt(model, moved(built, slot, by), T, S, line)), h),
            )
          }
          compare(
            'lower angle',
            pose.lowerTurn,
            slope(by => flat(poseAt(model, built, T + by, S, line)), 1e-3),
          )
          compare(
            'upper angle',
            pose.upperTurn,
            slope(by => flat(poseAt(model, built, T, S + by, line)), 1e-3),
          )
        }
      }
      expect(wrong).toEqual([])
      // What each line does not see, it does not turn by; everything else moved it, so nothing was compared with zero.
      const blind: Record<string, RegExp> = {
        boresight: /feed|squint|tube/,
        tube: /feed|squint/,
        shadow: /squint|tube/,
        beam: /tube/,
      }
      for (const [key, size] of someOf(seen)) {
        const [line, ...name] = key.split(' ')
        if (blind[line!]!.test(name.join(' '))) expect(size, key).toBe(0)
        else expect(size, key).toBeGreaterThan(1e-4)
      }
      console.info(`turningPoseAt ${kind}: worst difference ${most.toExponential(1)} over ${STATES} states`)
    })
  }

  it('leaves zero, scale, arms and play to the readouts: their turns are nought', () => {
    const random = seeded(5)
    const pose = turningPoseAt(randomMount(random, 'x-y'), randomBuilt(random), 0.4, 0.3, 'beam')
    for (const name of READOUT_SLOTS) for (let i = 0; i < 3; i++) expect(pose.turns[3 * SLOT[name] + i], name).toBe(0)
  })

  it('holds at no droop at all, where the droop’s own axis has no length', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const pose = turningPoseAt(model, onPaper(), 0.7, 0.5, 'boresight')
    const difference = slope(by => flat(poseAt(model, builtWith({ sag: by }), 0.7, 0.5, 'boresight')), 1e-3)
    const s = 3 * SLOT.sag
    expect(
      worstDifference(turned([pose.turns[s]!, pose.turns[s + 1]!, pose.turns[s + 2]!], pose), difference),
    ).toBeLessThan(1e-9)
  })
})

describe('axesAt', () => {
  for (const kind of KINDS) {
    it(`turns both axes of ${kind} as central differences say, to 1e-8, 100 states`, () => {
      const random = seeded(21 + KINDS.indexOf(kind))
      let most = 0
      for (let k = 0; k < STATES; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        const T = between(random, -180, 180) * DEG
        const at = (b: Built, angle = T): number[] => {
          const axes = axesAt(model, b, angle)
          return [...axes.lower, ...axes.upper]
        }
        const axes = axesAt(model, built, T)
        const both = (w: Vec3) => [...cross(w, axes.lower), ...cross(w, axes.upper)]
        const check = (w: Vec3, difference: number[], what: string) => {
          most = Math.max(most, worstDifference(both(w), difference))
          expect(worstDifference(both(w), difference), what).toBeLessThan(1e-8)
        }
        check(
          axes.turnA,
          slope(by => at(moved(built, SLOT.axisA, by)), 1e-3),
          'turnA',
        )
        check(
          axes.turnB,
          slope(by => at(moved(built, SLOT.axisB, by)), 1e-3),
          'turnB',
        )
        check(
          axes.lowerTurn,
          slope(by => at(built, T + by), 1e-3),
          'lowerTurn',
        )
        // Squareness moves the upper axis only.
        const upperOnly = slope(by => axesAt(model, moved(built, SLOT.squareness, by), T).upper, 1e-3)
        expect(worstDifference(cross(axes.squarenessTurn, axes.upper), upperOnly), 'squareness').toBeLessThan(1e-8)
      }
      console.info(`axesAt ${kind}: worst difference ${most.toExponential(1)} over ${STATES} states`)
    })
  }

  it('gives the axes about which the dish really turns: a line keeps its angle to each', () => {
    const random = seeded(31)
    for (const kind of KINDS) {
      for (let k = 0; k < 50; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        built[SLOT.sag] = 0 // droop is not a turn about an axis of the mount
        const T = between(random, -180, 180) * DEG
        const { lower, upper } = axesAt(model, built, T)
        const b = (t: number, s: number) => poseAt(model, built, t, s, 'boresight').b
        expect(dot(b(T, 0.3), upper)).toBeCloseTo(dot(b(T, 2.1), upper), 12)
        expect(dot(b(0.1, 0.3), lower)).toBeCloseTo(dot(b(1.7, 0.3), lower), 12)
      }
    }
  })
})

describe('poseAt', () => {
  it('is a frame seen from behind: right × up = -out, all of length one, whatever the deviations', () => {
    const random = seeded(41)
    for (const kind of KINDS) {
      for (let k = 0; k < 100; k++) {
        const model = randomMount(random, kind)
        const angles = [between(random, -180, 180) * DEG, between(random, -180, 180) * DEG] as const
        for (const line of LINES) {
          const { b, r, u } = poseAt(model, randomBuilt(random), ...angles, line)
          const out = cross(r, u)
          expect(worstDifference(out, [-b[0], -b[1], -b[2]])).toBeLessThan(1e-13)
          expect(Math.hypot(...b)).toBeCloseTo(1, 13)
          expect(Math.hypot(...u)).toBeCloseTo(1, 13)
        }
      }
    }
  })

  it('agrees with lineInDish turned by the bare axes when nothing droops', () => {
    const random = seeded(43)
    for (const kind of KINDS) {
      for (let k = 0; k < 50; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        built[SLOT.sag] = 0
        built[SLOT.feedDroop] = 0
        built[SLOT.squareness] = 0
        const c = lineInDish(model, built, 'beam')
        const { R } = lowerAxisTurn(model.paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
        expect(angleBetween(poseAt(model, built, 0, 0, 'beam').b, apply(R, c))).toBeLessThan(1e-14)
      }
    }
  })
})

describe('the chain, against published exact vectors', () => {
  // An exact rotation model worked out for (i_a, i_e, c, p, t_N, t_E) below, reading → true, six decimals.
  // Computed apart from this program, not published; its first-order form is Himwich 1993, from X-832-70-156
  // (wwwold.astro.umk.pl/~kb/Telescopes/Pointing/PointingModel.htm).
  // Its Δ is reading minus true, so true angle = reading - i: our zeros are -i. c: the beam lies toward + of the lower
  // axis, our collimation (toward a2). p: the right-hand end of the upper axis is low, our squareness is -p.
  const [iLower, iUpper, c, p, tilt1, tilt2] = [0.3, -0.2, 0.15, 0.1, 0.25, -0.12]
  const AZ_EL = [
    [130, 35, 129.872776, 35.451929],
    [220, 20, 219.989813, 20.314244],
    [10, 60, 9.895323, 59.973714],
  ] as const
  const HA_DEC = [
    [40, 15, 39.814327, 15.084607],
    [-70, -20, -70.247022, -19.997726],
    [0, 25, -0.143079, 24.949336],
  ] as const
  const lean = { squareness: -p * DEG }
  const read = (x: number, y: number) => [(x - iLower) * DEG, (y - iUpper) * DEG] as const
  // Their chain turns the beam before the crooked upper axis is mounted, ours after: the beam turned by c lies along
  // (right, out) = (sin c cos p, cos c), -sin c sin p up, in our dish. As a squint it is their chain to the last digit.
  const asSquint = {
    squintRight: Math.atan2(Math.sin(c * DEG) * Math.cos(p * DEG), Math.cos(c * DEG)),
    squintUp: -Math.asin(Math.sin(c * DEG) * Math.sin(p * DEG)),
  }

  for (const [x, y, az, el] of AZ_EL) {
    it(`el-over-az at reading ${x}°, ${y}° points to ${az}°, ${el}°`, () => {
      const model = mountOf({ kind: 'el-over-az' })
      const axis = { axisA: tilt1 * DEG, axisB: tilt2 * DEG, ...lean }
      const ours = azElFromEnu(poseAt(model, builtWith({ ...axis, collimation: c * DEG }), ...read(x, y), 'beam').b)
      // 0.003°: the order of the small turns matters at second order.
      expect(Math.abs(wrapDeg(ours.az / DEG - az))).toBeLessThan(3e-3)
      expect(Math.abs(ours.el / DEG - el)).toBeLessThan(3e-3)
      const theirs = azElFromEnu(poseAt(model, builtWith({ ...axis, ...asSquint }), ...read(x, y), 'beam').b)
      expect(Math.abs(wrapDeg(theirs.az / DEG - az))).toBeLessThan(1e-6)
      expect(Math.abs(theirs.el / DEG - el)).toBeLessThan(1e-6)
    })
  }

  for (const [x, y, ha, dec] of HA_DEC) {
    it(`ha-dec at reading ${x}°, ${y}° points to hour angle ${ha}°, declination ${dec}°, north and south`, () => {
      for (const latitude of [50, -33]) {
        const model = mountOf({ kind: 'ha-dec', latitude })
        // a_e: the axis's north-pole end toward Q (up, in the north) = poleUp; a_w: toward west = -poleEast.
        const axis = { axisA: -tilt2 * DEG, axisB: tilt1 * DEG, ...lean }
        // The UP mark of a southern dish is the other way: its right-hand side too.
        const g = latitude < 0 ? -1 : 1
        const squint = { squintRight: g * asSquint.squintRight, squintUp: g * asSquint.squintUp }
        const place = (built: Built) => haDecFromEnu(poseAt(model, built, ...read(x, y), 'beam').b, latitude * DEG)
        const ours = place(builtWith({ ...axis, collimation: c * DEG }))
        expect(Math.abs(ours.ha / DEG - ha)).toBeLessThan(3e-3)
        expect(Math.abs(ours.dec / DEG - dec)).toBeLessThan(3e-3)
        const theirs = place(builtWith({ ...axis, ...squint }))
        expect(Math.abs(theirs.ha / DEG - ha)).toBeLessThan(1e-6)
        expect(Math.abs(theirs.dec / DEG - dec)).toBeLessThan(1e-6)
      }
    })
  }

  it('drops a polar dish by g cos el: at 50° north, 0.3°: (60°, 20°) by -0.17751°, +0.18307° of reading minus true', () => {
    // The same exact model's gravity on a polar mount (P2 = P8 = g of the first-order form); tolerance is the last printed digit of ΔH and Δδ.
    const model = mountOf({ kind: 'ha-dec', latitude: 50 })
    const at = (H: number, d: number) =>
      haDecFromEnu(poseAt(model, builtWith({ sag: 0.3 * DEG }), H * DEG, d * DEG, 'beam').b, 50 * DEG)
    expect(60 - at(60, 20).ha / DEG).toBeCloseTo(-0.17751, 5)
    expect(20 - at(60, 20).dec / DEG).toBeCloseTo(0.18307, 5)
    expect(at(0, 20).ha / DEG).toBeCloseTo(0, 12)
    expect(20 - at(0, 20).dec / DEG).toBeCloseTo(0.15, 5)
  })
})

describe('the chain, to first order, for every kind of mount', () => {
  // The VLBI pointing model (Himwich 1993, from X-832-70-156), one form for all mounts: x lower, y upper axis angle,
  // φ elevation of the lower axis; reading minus true:
  //   Δx = P1 - P2 cos φ sin x sec y + P3 tan y - P4 sec y + P5 sin x tan y - P6 cos x tan y
  //   Δy = P5 cos x + P6 sin x + P7 - P8 (cos φ cos x sin y - sin φ cos y)
  // x-y turns the other way about its lower axis and dips with +Y; az-over-el's lower axis turns upward and the swing
  // dips the other way about "up": so (x, y) and the signs of the terms as below. Sizes: those of a published 20 m
  // antenna (P1 -0.614, P3 0.0027, P4 -0.0209, P5 0.0073, P6 0.0037, P7 -0.128, P8 -0.072 deg) with the zeros at 0.1°.
  const P = { P1: 0.1, P3: 0.0027, P4: -0.0209, P5: 0.0073, P6: 0.0037, P7: -0.128, P8: 0.072 }

  /** On-sky (cos y Δx, Δy) of the model. @param gx lower angle counted from where the zenith lies */
  const firstOrder = (x: number, y: number, phi: number, gx: number): [number, number] => {
    const dx =
      P.P1 -
      (P.P8 * Math.cos(phi) * Math.sin(gx)) / Math.cos(y) +
      P.P3 * Math.tan(y) -
      P.P4 / Math.cos(y) +
      P.P5 * Math.sin(x) * Math.tan(y) -
      P.P6 * Math.cos(x) * Math.tan(y)
    const dy =
      P.P5 * Math.cos(x) +
      P.P6 * Math.sin(x) +
      P.P7 -
      P.P8 * (Math.cos(phi) * Math.cos(gx) * Math.sin(y) - Math.sin(phi) * Math.cos(y))
    return [Math.cos(y) * dx, dy]
  }

  const LATITUDE = 40
  // sx, sy: our angles from the model's; lean: P5 (toward b0 at x = 0) and P6 (toward a2's positive end) as our slots.
  const AS_MODEL = {
    'el-over-az': { sx: 1, sy: 1, phi: 90, zenith: 0, lean: [P.P5, P.P6] },
    'ha-dec': { sx: 1, sy: 1, phi: LATITUDE, zenith: 0, lean: [-P.P6, P.P5] },
    // Model's lower axis is -a1 (left-hand end): it moves toward b0 (forward) when the right-hand end goes back, that is
    // clockwise, and toward a2 (up) when the right-hand end goes down.
    'az-over-el': { sx: 1, sy: -1, phi: 0, zenith: 90, lean: [P.P5, -P.P6] },
    // Model's lower axis is -a1 (rear end): toward b0 (up) when the forward end goes down, toward right when it goes left.
    'x-y': { sx: 1, sy: -1, phi: 0, zenith: 0, lean: [-P.P6, -P.P5] },
  } as const

  for (const kind of KINDS) {
    it(`${kind} departs from paper as the published one model for all mounts says, to 0.0005°`, () => {
      const { sx, sy, phi, zenith, lean } = AS_MODEL[kind]
      const model = mountOf({ kind, latitude: LATITUDE, heading: 25 })
      const built = builtWith({
        axisA: lean[0] * DEG,
        axisB: lean[1] * DEG,
        // P3 = -p: the upper axis leans toward the model's lower axis, which is ours or (s1 = +1) its other end.
        squareness: -model.paper.s1 * P.P3 * DEG,
        collimation: P.P4 * DEG,
        sag: P.P8 * DEG,
      })
      let worst = 0
      const random = seeded(51)
      for (let k = 0; k < 300; k++) {
        const x = between(random, -180, 180) * DEG
        const y = between(random, -70, 70) * DEG
        const T = sx * (x - P.P1 * DEG)
        const S = sy * (y - P.P7 * DEG)
        const truth = poseAt(model, built, T, S, 'boresight').b
        // Take the paper mount's own axes for naming the true place: its pose at (x, y), and small offsets from it.
        const { b } = poseAt(model, onPaper(), sx * x, sy * y, 'boresight')
        const alongX = cross(turningPoseAt(model, onPaper(), sx * x, sy * y, 'boresight').lowerTurn, b)
        const alongY = cross(turningPoseAt(model, onPaper(), sx * x, sy * y, 'boresight').upperTurn, b)
        const [mx, my] = firstOrder(x, y, phi * DEG, x - zenith * DEG)
        const cosY = Math.cos(y)
        const onSkyX = (-sx * dot(truth, alongX)) / cosY / DEG
        const onSkyY = (-sy * dot(truth, alongY)) / DEG
        worst = Math.max(worst, Math.abs(onSkyX - mx), Math.abs(onSkyY - my))
      }
      // Second order: 0.1° × 0.1° in radians, times tan y up to 2.7.
      expect(worst).toBeLessThan(5e-4)
      expect(worst).toBeGreaterThan(0)
      console.info(`${kind}: exact chain minus first-order model, worst ${worst.toExponential(1)}°`)
    })
  }
})

describe('what each parameter does, in plain words', () => {
  const small = 0.01
  const boresight = (model: MountModel, values: Partial<Record<SlotName, number>>, T = 0, S = 0) =>
    poseAt(model, builtWith(values), T, S, 'boresight').b
  const lowerAxis = (model: MountModel, a: number, b: number) =>
    axesAt(model, builtWith({ axisA: a, axisB: b }), 0).lower

  it('el-over-az: leanNorth and leanEast lean the azimuth axis by just that angle toward north and east', () => {
    const model = mountOf({ kind: 'el-over-az' })
    expect(worstDifference(lowerAxis(model, 0.3, 0), [0, Math.sin(0.3), Math.cos(0.3)])).toBeLessThan(1e-15)
    expect(worstDifference(lowerAxis(model, 0, 0.3), [Math.sin(0.3), 0, Math.cos(0.3)])).toBeLessThan(1e-15)
  })

  it('ha-dec: poleEast moves the north-pole end toward east by an arc, poleUp toward Q: up in the north', () => {
    for (const latitude of [50, -50]) {
      const model = mountOf({ kind: 'ha-dec', latitude })
      const p = latitude * DEG
      expect(lowerAxis(model, 0.1, 0)[0]).toBeCloseTo(Math.sin(0.1), 14)
      const up = lowerAxis(model, 0, 0.1)
      expect(worstDifference(up, [0, Math.cos(p + 0.1), Math.sin(p + 0.1)])).toBeLessThan(1e-14)
    }
  })

  it('az-over-el and x-y: heading turns clockwise seen from above, level raises the right-hand and the forward end', () => {
    for (const kind of ['az-over-el', 'x-y'] as const) {
      const model = mountOf({ kind, heading: 30 })
      const axis = kind === 'x-y' ? 30 : 120
      const at = azElFromEnu(lowerAxis(model, 10 * DEG, 4 * DEG))
      expect(at.az / DEG).toBeCloseTo(axis + 10, 12)
      expect(at.el / DEG).toBeCloseTo(4, 12)
    }
  })

  it('squareness leans the upper axis toward the lower, collimation turns the boresight toward the upper axis', () => {
    for (const kind of KINDS) {
      const model = mountOf({ kind, heading: 30 })
      const { paper } = model
      const { upper } = axesAt(model, builtWith({ squareness: small }), 0)
      expect(dot(upper, paper.a1)).toBeCloseTo(Math.sin(small), 14)
      const along = Math.asin(dot(boresight(model, { collimation: small }), paper.a2))
      expect(along - Math.asin(dot(paper.b0, paper.a2))).toBeCloseTo(small, 14)
    }
    // On az-over-el collimation is the dish's offset itself.
    const offset = mountOf({ kind: 'az-over-el', offset: 5 })
    const more = mountOf({ kind: 'az-over-el', offset: 7 })
    expect(
      angleBetween(boresight(offset, { collimation: 2 * DEG }, 0.6, 0.4), boresight(more, {}, 0.6, 0.4)),
    ).toBeLessThan(1e-14)
  })

  it('sag lowers the boresight by sag × cos el at unchanged azimuth, and does nothing at the zenith', () => {
    const random = seeded(61)
    for (const kind of KINDS) {
      for (let k = 0; k < 50; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        const angles = [between(random, -180, 180) * DEG, between(random, -180, 180) * DEG] as const
        const stiff = azElFromEnu(poseAt(model, moved(built, SLOT.sag, -built[SLOT.sag]!), ...angles, 'boresight').b)
        const sagged = azElFromEnu(poseAt(model, built, ...angles, 'boresight').b)
        expect(sagged.el).toBeCloseTo(stiff.el - built[SLOT.sag]! * Math.cos(stiff.el), 12)
        expect(Math.abs(Math.sin(sagged.az - stiff.az)) * Math.cos(stiff.el)).toBeLessThan(1e-12)
      }
    }
    const zenith = boresight(mountOf({ kind: 'x-y' }), { sag: 5 * DEG })
    expect(zenith).toEqual([0, 0, 1])
  })

  it('a feed 10 mm to the right of a 0.96 m focus: shadow line 0.5968° right, beam 0.4895° left (f/D 0.4)', () => {
    // Worked by hand: 10 mm lateral at f = 0.96 m, f/D = 0.4 → squint 0.4895°, on the opposite side (Lo 1960).
    const model = mountOf({ kind: 'x-y', heading: 77 })
    const built = builtWith({ feedRight: 10 })
    expect(lineAngles(model, built, 'shadow').x / DEG).toBeCloseTo(Math.atan(10 / 960) / DEG, 12)
    expect(lineAngles(model, built, 'beam').x / DEG).toBeCloseTo(-0.4895, 4)
    for (const kind of KINDS) {
      const m = mountOf({ kind, heading: 77, latitude: -35 })
      const dish = poseAt(m, onPaper(), 0.5, 0.4, 'boresight')
      const shadow = poseAt(m, built, 0.5, 0.4, 'shadow').b
      const beam = poseAt(m, built, 0.5, 0.4, 'beam').b
      expect(Math.atan2(dot(shadow, dish.r), dot(shadow, dish.b)) / DEG).toBeCloseTo(0.5968, 4)
      expect(Math.atan2(dot(beam, dish.r), dot(beam, dish.b)) / DEG).toBeCloseTo(-0.4895, 4)
      expect(dot(beam, dish.u)).toBeCloseTo(0, 14)
    }
  })

  it('beam minus shadow line is -(1 + BDF) d/f + squint: the factor that turns their difference into millimetres', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const built = builtWith({ feedUp: 12, squintUp: 0.1 * DEG })
    const difference = lineAngles(model, built, 'beam').y - lineAngles(model, built, 'shadow').y
    expect(difference).toBeCloseTo(-(1 + model.bdf) * Math.atan(12 / 960) + 0.1 * DEG, 15)
  })

  it('squint and tube move their own line right and up in the dish and no other', () => {
    const random = seeded(71)
    for (const kind of KINDS) {
      const model = randomMount(random, kind)
      const pose = poseAt(model, onPaper(), 0.3, 0.2, 'boresight')
      for (const [names, line] of [
        [['squintRight', 'squintUp'], 'beam'],
        [['tubeRight', 'tubeUp'], 'tube'],
      ] as const) {
        const built = builtWith({ [names[0]]: 0.02, [names[1]]: 0.03 })
        const { b } = poseAt(model, built, 0.3, 0.2, line)
        expect(Math.atan2(dot(b, pose.r), dot(b, pose.b))).toBeCloseTo(0.02, 14)
        expect(Math.asin(dot(b, pose.u))).toBeCloseTo(0.03, 14)
        for (const other of LINES) if (other !== line) expect(poseAt(model, built, 0.3, 0.2, other).b).toEqual(pose.b)
      }
    }
  })

  it('a sinking feed lowers the shadow line by feedDroop/f × cos el and lifts the beam by BDF times that', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const el = 30 * DEG
    const built = builtWith({ feedDroop: 3 })
    const at = (line: 'shadow' | 'beam') => azElFromEnu(poseAt(model, built, 1, el, line).b).el
    expect(at('shadow')).toBeCloseTo(el - (3 / 960) * Math.cos(el), 14)
    expect(at('beam')).toBeCloseTo(el + ((model.bdf * 3) / 960) * Math.cos(el), 14)
  })
})

describe('lowerAxisToward', () => {
  it('finds the two parameters that put the lower axis anywhere, for every kind, to 1e-12 rad', () => {
    const random = seeded(81)
    for (const kind of KINDS) {
      for (let k = 0; k < 200; k++) {
        const model = randomMount(random, kind)
        const n = directionOf(random)
        const [a, b] = lowerAxisToward(model.paper, n)
        expect(angleBetween(apply(lowerAxisTurn(model.paper, a, b).R, model.paper.a1), n)).toBeLessThan(1e-12)
      }
    }
  })

  it('finds nought and nought for the axis on paper', () => {
    for (const kind of KINDS) {
      const { paper } = mountOf({ kind, heading: 30, latitude: -20 })
      for (const x of lowerAxisToward(paper, paper.a1)) expect(Math.abs(x)).toBeLessThan(1e-15)
    }
  })
})
