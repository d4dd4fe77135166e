/**
 * What can be fitted of one axis's law, and how it is printed: the law as a function of a few numbers near 1, their
 * slopes, and the numbers as typed. Degrees, counts.
 */

import type { Axis } from '../mount/names.ts'
import { AXIS_SLOTS, readingAt, trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Station } from '../records/station.ts'
import { type Deg, degFromRad, radFromDeg } from '../units.ts'
import { enteredOutput, outputBy, outputOfReading } from './axislaw.ts'
import { type AxisForm, type AxisPage, asTyped, type CarryWish, type Coefficient, type Numbers } from './numbers.ts'

/** One axis of a page before its numbers are fitted. */
export interface Shape {
  start: number[]
  /** The output at an angle, and its slope by each number; null where there is none. */
  at(angle: Deg, p: readonly number[]): { output: number; by: number[] } | null
  /** Linear in its numbers: the start is found by least squares. */
  basis?(angle: Deg, output: number): { row: number[]; value: number }
  finish(p: readonly number[]): { form: AxisForm; coefficients: Coefficient[] }
}

type Frame = Omit<AxisPage, 'form'>

const DEGREE = { line: 1, quadratic: 2, cubic: 3 } as const
/** Half a last digit moves an output by no more than this: degrees, counts. */
const LEAST = { degrees: 0.001, counts: 0.02 } as const

/** Powers of (x - middle)/half to powers of x. */
function rawPowers(p: readonly number[], middle: number, half: number): number[] {
  const raw = p.map(() => 0)
  let term = [1]
  p.forEach((pk, k) => {
    for (let i = 0; i <= k; i++) raw[i]! += pk * term[i]!
    const next = new Array<number>(term.length + 1).fill(0)
    term.forEach((t, i) => {
      next[i]! += (-middle / half) * t
      next[i + 1]! += t / half
    })
    term = next
  })
  return raw
}

const powers = (u: number, degree: number): number[] => Array.from({ length: degree + 1 }, (_, k) => u ** k)
const sum = (p: readonly number[], row: readonly number[]): number => row.reduce((a, r, k) => a + r * p[k]!, 0)

function polynomialShape(axis: Axis, frame: Frame, degree: 1 | 2 | 3, way: CarryWish['way']): Shape {
  const isCommand = way === 'command'
  const [from, to] = isCommand ? [frame.fromDeg, frame.toDeg] : [frame.leastOutput, frame.mostOutput]
  const middle = (from + to) / 2
  const half = Math.max(1e-6, (to - from) / 2)
  const normal = (v: number) => (v - middle) / half
  const form: AxisForm = { form: 'poly', degree, way }
  const coefficients = (p: readonly number[]): Coefficient[] =>
    rawPowers(p, middle, half).map((c, k) => ({
      id: `${axis}.${k}`,
      axis,
      // The largest factor of the coefficient; the result from a reading is an angle.
      ...asTyped(c, Math.max(Math.abs(from), Math.abs(to)) ** k, isCommand ? LEAST[frame.unit] : LEAST.degrees),
      unit: 'coefficient',
      unset: frame.unit === 'degrees' ? (k === 1 ? 1 : 0) : k === 0 || k > 1 ? 0 : null,
    }))
  return {
    start: powers(0, degree).map(() => 0),
    basis: (angle, output) =>
      isCommand
        ? { row: powers(normal(angle), degree), value: output }
        : { row: powers(normal(output), degree), value: angle },
    at(angle, p) {
      if (isCommand) {
        const row = powers(normal(angle), degree)
        return { output: sum(p, row), by: row }
      }
      const raw = rawPowers(p, middle, half)
      const n: Numbers = Object.fromEntries(raw.map((c, k) => [`${axis}.${k}`, c]))
      const output = outputBy(axis, { ...frame, form }, n)(angle)
      if (output === null) return null
      const row = powers(normal(output), degree)
      const perOutput = raw.reduce((a, c, k) => (k === 0 ? a : a + k * c * output ** (k - 1)), 0)
      return perOutput === 0 ? null : { output, by: row.map(r => -r / perOutput) }
    },
    finish: p => ({ form, coefficients: coefficients(p) }),
  }
}

function offsetShape(station: Station, axis: Axis, frame: Frame): Shape {
  const { readout } = station.model[axis]
  return {
    start: [0],
    basis(angle, output) {
      const plain = enteredOutput(readout, frame.unit, angle)
      return { row: [1], value: plain === null ? 0 : output - plain }
    },
    at(angle, p) {
      const plain = enteredOutput(readout, frame.unit, angle)
      return plain === null ? null : { output: plain + p[0]!, by: [1] }
    },
    finish: p => ({
      form: { form: 'offset' },
      coefficients: [
        {
          id: `${axis}.0`,
          axis,
          ...asTyped(p[0]!, 1, frame.unit === 'counts' ? 0.1 : 0.005),
          unit: frame.unit === 'counts' ? 'counts' : 'deg',
          unset: 0,
        },
      ],
    }),
  }
}

/** The readout as built, behind slope and offset of the angle (a table), or an offset alone (a jack's own dimensions). */
function builtShape(station: Station, built: Built, axis: Axis, frame: Frame, wish: CarryWish): Shape {
  const { model } = station
  const { readout } = model[axis]
  const isJack = wish.law === 'jack'
  const outputAt = (trueDeg: Deg): number | null => {
    const reading = readingAt(model, built, axis, radFromDeg(trueDeg))
    return reading === null ? null : outputOfReading(readout, frame.unit, reading)
  }
  const middle = (frame.fromDeg + frame.toDeg) / 2
  /** Angle → true angle. */
  const trueOf = (angle: Deg, p: readonly number[]): Deg => angle + p[0]! + (isJack ? 0 : p[1]! * (angle - middle))
  return {
    start: isJack ? [0] : [0, 0],
    at(angle, p) {
      const trueDeg = trueOf(angle, p)
      const output = outputAt(trueDeg)
      const next = outputAt(trueDeg + 0.01)
      if (output === null || next === null) return null
      const per = (next - output) / 0.01
      return { output, by: isJack ? [per] : [per, per * (angle - middle)] }
    },
    finish: p => (isJack ? jackFinish(station, built, axis, p[0]!) : tableFinish(frame, wish, p)),
  }

  function tableFinish(of: Frame, { way, step }: CarryWish, p: readonly number[]) {
    const rows: [number, number][] = []
    const even = (from: number, to: number): number[] => {
      const out = [from]
      for (let k = Math.floor(from / step) + 1; k * step < to - 1e-9 * step; k++) out.push(k * step)
      return [...out, to]
    }
    if (way === 'command') {
      for (const angle of even(of.fromDeg, of.toDeg)) {
        const output = outputAt(trueOf(angle, p))
        if (output !== null) rows.push([angle, tidyOutput(output, of.unit)])
      }
    } else {
      for (const output of even(of.leastOutput, of.mostOutput)) {
        const reading = frame.unit === 'counts' ? output : enteredOutput(readout, 'counts', output)
        const at = reading === null ? null : trueAngle(model, built, axis, reading)
        if (at?.kind !== 'angle') continue
        const trueDeg = degFromRad(at.angle)
        rows.push([Number(((trueDeg - p[0]! + p[1]! * middle) / (1 + p[1]!)).toFixed(3)), output])
      }
    }
    return { form: { form: 'table' as const, way, rows }, coefficients: [] }
  }
}

const tidyOutput = (x: number, unit: AxisPage['unit']): number => Number(x.toFixed(unit === 'counts' ? 1 : 3)) + 0

/** Both arms, the length, the angle at zero as they must be for angles that are `z` short of the true ones. */
function jackFinish({ model }: Station, built: Built, axis: Axis, z: Deg) {
  const { readout } = model[axis]
  const slots = AXIS_SLOTS[axis]
  if (readout.type !== 'jack') throw new RangeError(`jackFinish: the ${axis} axis must have a jack`)
  const one = (what: string, value: number, least: number, unit: Coefficient['unit'], unset: number): Coefficient => ({
    id: `${axis}.${what}`,
    axis,
    ...asTyped(value, 1, least),
    unit,
    unset,
  })
  const d = readout.direction
  const entered = degFromRad(readout.phiAtAngleZero)
  const phi = entered + d * (z - degFromRad(built[slots.zero]!))
  return {
    form: { form: 'jack' as const },
    coefficients: [
      one('baseArmMm', readout.baseArm + built[slots.base]!, 0.005, 'mm', readout.baseArm),
      one('rodArmMm', readout.rodArm + built[slots.rod]!, 0.005, 'mm', readout.rodArm),
      one(
        'lengthAtReadingZeroMm',
        readout.lengthAtReadingZero + built[slots.shift]! / readout.countsPerMm,
        0.005,
        'mm',
        readout.lengthAtReadingZero,
      ),
      {
        id: `${axis}.countsPerMm`,
        axis,
        ...exactly(readout.countsPerMm),
        unit: 'counts/mm' as const,
        unset: readout.countsPerMm,
      },
      one('phiAtAngleZeroDeg', phi, 0.001, 'deg', entered),
      { id: `${axis}.direction`, axis, value: d, text: String(d), unit: 'sense' as const, unset: d },
    ],
  }
}

const exactly = (x: number): Pick<Coefficient, 'value' | 'text'> => ({ value: x, text: String(x) })

/** What an axis can take of what the program can: one that reads degrees has no triangle and no table, one that counts evenly no need. */
export function shapeOf(station: Station, built: Built, axis: Axis, frame: Frame, wish: CarryWish): Shape {
  const { readout } = station.model[axis]
  switch (wish.law) {
    case 'offset':
      return offsetShape(station, axis, frame)
    case 'jack':
    case 'table':
      return readout.type === 'jack'
        ? builtShape(station, built, axis, frame, wish)
        : polynomialShape(axis, frame, 1, wish.way)
    default:
      return polynomialShape(axis, frame, DEGREE[wish.law], wish.way)
  }
}

/** The unit in which a program puts an axis out. */
export const unitFor = ({ model }: Station, axis: Axis, wish: CarryWish): AxisPage['unit'] => {
  const { readout } = model[axis]
  if (!countsSteps(readout)) return 'degrees'
  return wish.law === 'jack' && readout.type === 'jack' ? 'counts' : wish.unit
}
