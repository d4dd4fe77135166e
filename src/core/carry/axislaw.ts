/**
 * From an axis angle to what a program puts out for it, and to the reading that its axis comes to: the form of a page with its
 * numbers. Degrees, counts.
 */

import type { Axis } from '../mount/names.ts'
import { includedAngle, lengthFromIncludedAngle } from '../readout/jack.ts'
import { angleFromReading, type Readout, readingFromAngle } from '../readout/readout.ts'
import { readoutFromRecord } from '../records/readouts.ts'
import { type Deg, degFromRad, radFromDeg } from '../units.ts'
import type { AxisPage, Numbers, OutputUnit } from './numbers.ts'

/** The output of the readout as entered at an angle: counts, or the angle itself. Null outside a triangle. */
export function enteredOutput(readout: Readout, unit: OutputUnit, angle: Deg): number | null {
  if (unit === 'degrees') return angle
  const back = readingFromAngle(readout, radFromDeg(angle))
  return back.kind === 'reading' ? back.reading : null
}

/** The reading that an output stands for: degrees on a counted axis go through its readout as entered. */
export function readingOfOutput(readout: Readout, unit: OutputUnit, output: number): number | null {
  if (unit === 'counts' || readout.type === 'degrees') return output
  const back = readingFromAngle(readout, radFromDeg(output))
  return back.kind === 'reading' ? back.reading : null
}

export function outputOfReading(readout: Readout, unit: OutputUnit, reading: number): number | null {
  if (unit === 'counts' || readout.type === 'degrees') return reading
  const at = angleFromReading(readout, reading)
  return at.kind === 'angle' ? degFromRad(at.angle) : null
}

const polynomial = (c: readonly number[], x: number): number => c.reduceRight((sum, ck) => sum * x + ck, 0)
const slope = (c: readonly number[], x: number): number =>
  c.reduceRight((sum, ck, k) => (k === 0 ? sum : sum * x + k * ck), 0)

/** How far beyond the limits a reading still counts, as a share of the range. */
const BEYOND = 0.1

const turnsBack = (c: readonly number[], from: number, to: number): boolean => {
  const span = (1 + 2 * BEYOND) * (to - from)
  const slopes = Array.from({ length: 49 }, (_, k) => slope(c, from - BEYOND * (to - from) + (span * k) / 48))
  return slopes.some(s => s > 0) && slopes.some(s => s <= 0)
}

/** Where a polynomial of the output is the angle: Newton from the line between both ends. Null where it does not come there. */
function solved(c: readonly number[], angle: Deg, from: number, to: number): number | null {
  const [low, high] = [polynomial(c, from), polynomial(c, to)]
  const span = to - from
  let y = high === low ? from : from + ((angle - low) / (high - low)) * span
  for (let pass = 0; pass < 60; pass++) {
    const s = slope(c, y)
    if (s === 0) return null
    const step = (polynomial(c, y) - angle) / s
    y -= Math.max(-span / 4, Math.min(span / 4, step))
    if (Math.abs(step) < 1e-10 * span) return y >= from - BEYOND * span && y <= to + BEYOND * span ? y : null
  }
  return null
}

/** Straight lines between neighbouring rows, and on beyond the ends. @param k  column that is looked up */
function between(rows: readonly [number, number][], x: number, k: 0 | 1): number | null {
  const o = k === 0 ? 1 : 0
  if (rows.length < 2) return null
  const isRising = rows[rows.length - 1]![k] > rows[0]![k]
  let i = 0
  while (i < rows.length - 2 && (isRising ? x > rows[i + 1]![k] : x < rows[i + 1]![k])) i++
  const [a, b] = [rows[i]!, rows[i + 1]!]
  return b[k] === a[k] ? null : a[o] + ((x - a[k]) / (b[k] - a[k])) * (b[o] - a[o])
}

/** The factors of the powers of an axis. */
export const powersOf = (n: Numbers, axis: Axis, degree: number): number[] =>
  Array.from({ length: degree + 1 }, (_, k) => n[`${axis}.${k}`] ?? 0)

/** The counts of the triangle with a page's numbers. */
function jackCounts(n: Numbers, axis: Axis, angle: Deg): number | null {
  const of = (what: string) => n[`${axis}.${what}`]!
  const phi = radFromDeg(of('direction') * angle + of('phiAtAngleZeroDeg'))
  const [a, b] = [of('baseArmMm'), of('rodArmMm')]
  if (!(phi > 0 && phi < Math.PI)) return null
  const length = lengthFromIncludedAngle(phi, a, b)
  return includedAngle(length, a, b) === null ? null : (length - of('lengthAtReadingZeroMm')) * of('countsPerMm')
}

/** What a program puts out for an angle of one axis; null where its law has none. */
export function outputBy(axis: Axis, page: AxisPage, n: Numbers): (angle: Deg) => number | null {
  const { form, unit, leastOutput, mostOutput } = page
  const readout = readoutFromRecord(page.entered)
  switch (form.form) {
    case 'poly': {
      const c = powersOf(n, axis, form.degree)
      if (form.way === 'command') return angle => polynomial(c, angle)
      // A curve that turns back has one angle at two readings: no program can use it.
      return turnsBack(c, leastOutput, mostOutput) ? () => null : angle => solved(c, angle, leastOutput, mostOutput)
    }
    case 'offset': {
      const add = n[`${axis}.0`]!
      return angle => {
        const plain = enteredOutput(readout, unit, angle)
        return plain === null ? null : plain + add
      }
    }
    case 'jack':
      return angle => jackCounts(n, axis, angle)
    case 'table':
      // Read backward or forward it is the same straight lines.
      return angle => between(form.rows, angle, 0)
  }
}

/** The reading to which the axis goes for an output. */
export function readingBy(page: AxisPage): (output: number) => number | null {
  const readout = readoutFromRecord(page.entered)
  return output => readingOfOutput(readout, page.unit, output)
}
