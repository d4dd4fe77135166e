/**
 * A readout calibrated by gravity: from pairs of reading and angle, its slope and zero, or the triangle of a jack with the
 * taped lengths as priors. Radians, millimetres, readings as the readout shows them.
 *
 * angle = readout(reading; corrections) + zero + side · play/2 + the constant of the pair's group + what all angles share.
 * Least squares with priors; exact derivatives, Gauss-Newton.
 */
import { chiSquare99 } from '../chance.ts'
import { inverseScaled, square } from '../matrices.ts'
import type { Jack } from '../readout/jack.ts'
import { angleFromReading, countsSteps, READOUTS, type Readout } from '../readout/readout.ts'
import { type Mm, type Rad, radFromDeg } from '../units.ts'

export interface CalibrationPair {
  reading: number
  angle: Rad
  /** 1 σ, > 0, of this angle alone. */
  sigma: Rad
  /** From which side of the reading the axis arrived; 0 or left out: not said. */
  side?: 1 | -1 | 0
  /** Index of the constant that it shares with others; left out: none, the angle is the axis's own. */
  group?: number
  /** How it moves with each of the errors in `shared`. */
  shared?: readonly number[]
}

export interface CalibrationGiven {
  /** 1 σ of each taped length, mm. */
  tape?: Mm
  /** 1 σ of each group's constant; null where nothing is known of it, so that no zero follows from the group. */
  constants?: readonly (Rad | null)[]
  /** 1 σ of each error that angles share otherwise. */
  shared?: readonly number[]
  /** 1 σ of the axis's zero before. */
  zero?: Rad
}

export interface Estimate {
  value: number
  sigma: number
}

export type Calibration =
  | Calibrated
  | { kind: 'too-few'; have: number; need: number }
  /** The angle falls where the readout says that it rises. */
  | { kind: 'backward' }
  /** No triangle closes at a pair's reading. */
  | { kind: 'outside'; pair: number; min: number; max: number }
  /** The lengths would have to be further off than a triangle allows. */
  | { kind: 'no-triangle' }

export interface Calibrated {
  kind: 'calibrated'
  /** With the corrections in it; for `degrees` as it was, its correction being a scale and a zero. */
  readout: Readout
  /** Whether they are in it. */
  isInReadout: boolean
  /** True angle = reading angle × (1 + scale) + zero, of degrees and linear counts. Null for a jack. */
  scale: Estimate | null
  /** Null where every angle carries a constant of which nothing is known. For jack and counts it is in `readout` already. */
  zero: Estimate | null
  /** What was added to the taped lengths; of a jack. */
  lengths: { base: Estimate; rod: Estimate; atReadingZero: Estimate } | null
  /** Lost motion between arriving from the two sides; null where pairs arrived from one side only. */
  play: Estimate | null
  /** Measured minus calibrated angle. */
  left: Rad[]
  /** Root mean square of `left`. */
  rms: Rad
  /** True where the pairs disagree by more than chance gives in 1 of 100; every σ is then enlarged. */
  misfits: boolean
  /** 1 σ of the axis angle at a reading, what is common to all readings left out: what the shape of the readout costs. */
  shapeSigma: (reading: number) => Rad
}

const TAPE_SIGMA: Mm = 5
/** Priors where nothing is stated: as in the solution for degrees; counts have no prior. */
const scaleSigma = (readout: Readout): number =>
  countsSteps(readout) ? Number.POSITIVE_INFINITY : (READOUTS[readout.type].scaleSigma ?? 0)
const zeroSigma = (readout: Readout): Rad =>
  countsSteps(readout) ? Number.POSITIVE_INFINITY : radFromDeg(READOUTS[readout.type].zeroSigmaDeg)
const PLAY_SIGMA: Rad = radFromDeg(0.5)

const needed = (readout: Readout): number => (readout.type === 'jack' ? 3 : 2)

/** Angle of the readout with corrections, and its slopes by them. */
function modelAt(readout: Readout, x: readonly number[], reading: number): { angle: Rad; by: number[] } | null {
  if (readout.type === 'jack') {
    const jack: Jack = { ...readout, lengthAtReadingZero: readout.lengthAtReadingZero + x[2]! }
    const at = angleFromReading(jack, reading, x[0], x[1])
    return at.kind === 'angle'
      ? { angle: at.angle, by: [at.perBase, at.perRod, at.perReading * readout.countsPerMm] }
      : null
  }
  const at = angleFromReading(readout, reading)
  return at.kind === 'angle' ? { angle: at.angle * (1 + x[0]!), by: [at.angle] } : null
}

const sumOf = (list: readonly number[]): number => list.reduce((s, v) => s + v, 0)

/** @throws RangeError  a σ that is not > 0, an angle or reading that is not finite */
export function calibrate(
  readout: Readout,
  pairs: readonly CalibrationPair[],
  given: CalibrationGiven = {},
): Calibration {
  for (const p of pairs)
    if (!(p.sigma > 0 && Number.isFinite(p.angle) && Number.isFinite(p.reading)))
      throw new RangeError(`calibrate: a pair needs finite numbers and σ > 0, got ${JSON.stringify(p)}`)
  const have = new Set(pairs.map(p => p.reading)).size
  if (have < needed(readout)) return { kind: 'too-few', have, need: needed(readout) }
  for (const [pair, p] of pairs.entries()) {
    const at = angleFromReading(readout, p.reading)
    if (at.kind !== 'angle') return { kind: 'outside', pair, min: at.min, max: at.max }
  }
  if (isBackward(readout, pairs)) return { kind: 'backward' }

  const shape = readout.type === 'jack' ? 3 : 1
  const constants = given.constants ?? []
  const shared = given.shared ?? []
  // An angle without a group is the axis's own: then, or with a constant of known σ, a zero follows.
  const hasZero = pairs.some(p => p.group === undefined || constants[p.group] != null)
  const hasPlay = pairs.some(p => p.side === 1) && pairs.some(p => p.side === -1)
  const at = { zero: shape, play: shape + 1, constant: shape + 2, shared: shape + 2 + constants.length }
  const sigmas = [
    ...(readout.type === 'jack' ? [1, 1, 1].map(k => k * (given.tape ?? TAPE_SIGMA)) : [scaleSigma(readout)]),
    hasZero ? (given.zero ?? zeroSigma(readout)) : 0,
    hasPlay ? PLAY_SIGMA : 0,
    ...constants.map(s => s ?? Number.POSITIVE_INFINITY),
    ...shared,
  ]
  const n = sigmas.length
  const x: number[] = new Array(n).fill(0)
  const rowOf = (p: CalibrationPair, by: readonly number[]): number[] => {
    const row: number[] = new Array(n).fill(0)
    for (const [k, d] of by.entries()) row[k] = d
    row[at.zero] = 1
    row[at.play] = (p.side ?? 0) / 2
    if (p.group !== undefined) row[at.constant + p.group] = 1
    for (const [k, d] of (p.shared ?? []).entries()) row[at.shared + k] = d
    return row
  }
  /** Residuals and rows; null where a triangle does not close. */
  const look = (v: readonly number[]) => {
    const rows: number[][] = []
    const left: number[] = []
    for (const p of pairs) {
      const m = modelAt(readout, v, p.reading)
      if (m === null) return null
      const row = rowOf(p, m.by)
      left.push(p.angle - m.angle - sumOf(row.slice(shape).map((d, k) => d * v[shape + k]!)))
      rows.push(row)
    }
    const data = sumOf(left.map((r, k) => (r / pairs[k]!.sigma) ** 2))
    const prior = sumOf(v.map((value, k) => (sigmas[k]! > 0 ? (value / sigmas[k]!) ** 2 : 0)))
    return { rows, left, objective: data + prior }
  }
  // What has no prior spread stays at 0: a stiff row holds it.
  const stiff = sigmas.map(s => (s > 0 ? s : 1e-12))
  let now = look(x)
  if (now === null) return { kind: 'no-triangle' }
  let inverse = square(n)
  for (let round = 0; round < 40; round++) {
    const h = square(n)
    const g: number[] = new Array(n).fill(0)
    for (let i = 0; i < n; i++) {
      h.a[i * n + i] = 1 / stiff[i]! ** 2 + TINY[scaleOf(i, shape)]
      g[i] = -x[i]! / stiff[i]! ** 2
    }
    for (const [k, row] of now.rows.entries()) {
      const w = 1 / pairs[k]!.sigma ** 2
      for (let i = 0; i < n; i++) {
        g[i] = g[i]! + w * row[i]! * now.left[k]!
        for (let j = 0; j < n; j++) h.a[i * n + j] = h.a[i * n + j]! + w * row[i]! * row[j]!
      }
    }
    inverse = inverseScaled(h)
    const step = x.map((_, i) => sumOf(g.map((v, j) => inverse.a[i * n + j]! * v)))
    let share = 1
    let next = look(x.map((v, i) => v + step[i]!))
    while ((next === null || next.objective > now.objective + 1e-9) && share > 1e-3) {
      share /= 2
      next = look(x.map((v, i) => v + share * step[i]!))
    }
    if (next === null) return { kind: 'no-triangle' }
    const gained = now.objective - next.objective
    for (let i = 0; i < n; i++) x[i] = x[i]! + share * step[i]!
    now = next
    if (Math.abs(gained) < 1e-10 * (1 + now.objective)) break
  }
  const free = sigmas.filter(s => s === Number.POSITIVE_INFINITY).length
  const dof = pairs.length - free
  const misfits = dof > 0 && now.objective > chiSquare99(dof)
  const enlarge = misfits ? now.objective / dof : 1
  const variance = (i: number, j = i): number => inverse.a[i * n + j]! * enlarge
  const estimate = (i: number): Estimate => ({ value: x[i]!, sigma: Math.sqrt(Math.max(0, variance(i))) })
  const middle = sumOf(pairs.map(p => p.reading)) / pairs.length
  const after = corrected(readout, x, hasZero ? x[at.zero]! : null, middle)
  return {
    kind: 'calibrated',
    readout: after,
    isInReadout: after !== readout,
    scale: readout.type === 'jack' ? null : estimate(0),
    zero: hasZero ? estimate(at.zero) : null,
    lengths: readout.type === 'jack' ? { base: estimate(0), rod: estimate(1), atReadingZero: estimate(2) } : null,
    play: hasPlay ? estimate(at.play) : null,
    left: now.left,
    rms: Math.sqrt(sumOf(now.left.map(r => r * r)) / pairs.length),
    misfits,
    shapeSigma: reading => {
      const here = modelAt(readout, x, reading)
      const there = modelAt(readout, x, middle)
      if (here === null || there === null) return Number.NaN
      const d = here.by.map((v, k) => v - there.by[k]!)
      return Math.sqrt(Math.max(0, sumOf(d.map((a, i) => sumOf(d.map((b, j) => a * b * variance(i, j)))))))
    },
  }
}

/** Least information, so that an unknown length or angle can still be inverted: 1 km, 1000 turns. */
const TINY = { length: 1e-12, angle: 1e-8 } as const
const scaleOf = (i: number, shape: number): keyof typeof TINY => (shape === 3 && i < 3 ? 'length' : 'angle')

/** Whether the measured angle falls where the readout's rises: by the correlation within each group. */
function isBackward(readout: Readout, pairs: readonly CalibrationPair[]): boolean {
  const groups = [...new Set(pairs.map(p => p.group))]
  return (
    sumOf(
      groups.map(group => {
        const own = pairs.filter(p => p.group === group)
        const told = own.map(p => {
          const at = angleFromReading(readout, p.reading)
          return at.kind === 'angle' ? at.angle : 0
        })
        const [a, b] = [sumOf(told) / own.length, sumOf(own.map(p => p.angle)) / own.length]
        return sumOf(own.map((p, k) => (told[k]! - a) * (p.angle - b)))
      }),
    ) < 0
  )
}

/**
 * The readout with the corrections in it. @param zero  null: nothing is known of it, and the angle at the middle of what
 * was measured stays what it was
 * @returns     the very readout where its kind has no numbers to correct, or none that are known here
 */
function corrected(readout: Readout, x: readonly number[], zero: Rad | null, middle: number): Readout {
  const angleNow = (r: Readout): Rad => {
    const at = angleFromReading(r, middle)
    return at.kind === 'angle' ? at.angle : 0
  }
  if (readout.type === 'linear-counts') {
    const countsPerRad = readout.countsPerRad / (1 + x[0]!)
    const angle = zero === null ? angleNow(readout) : angleNow(readout) * (1 + x[0]!) + zero
    return { ...readout, countsPerRad, zeroCounts: middle - angle * countsPerRad }
  }
  if (readout.type !== 'jack') return readout
  const jack: Jack = {
    ...readout,
    baseArm: readout.baseArm + x[0]!,
    rodArm: readout.rodArm + x[1]!,
    lengthAtReadingZero: readout.lengthAtReadingZero + x[2]!,
  }
  const turn = zero === null ? angleNow(readout) - angleNow(jack) : zero
  return { ...jack, phiAtAngleZero: jack.phiAtAngleZero - jack.direction * turn }
}

/** How far one reading turns the axis, along a range of readings. @param steps  points beyond the first */
export function perReadingAlong(
  readout: Readout,
  range: readonly [min: number, max: number],
  steps = 40,
): { reading: number; perReading: Rad }[] {
  return Array.from({ length: steps + 1 }, (_, k) => range[0] + ((range[1] - range[0]) * k) / steps).flatMap(
    reading => {
      const at = angleFromReading(readout, reading)
      return at.kind === 'angle' ? [{ reading, perReading: at.perReading }] : []
    },
  )
}

/** The coarsest count over a range; null for a readout in degrees. */
export const resolution = (readout: Readout, range: readonly [min: number, max: number]): Rad | null =>
  countsSteps(readout) ? Math.max(...perReadingAlong(readout, range).map(p => Math.abs(p.perReading))) : null
