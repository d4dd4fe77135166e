/**
 * What a page for a tracking program is made of: what the program is given of the mount (its aiming), what of each axis (its
 * law), and the numbers that the person types. Degrees, counts, millimetres; the value of a number is that of its text.
 */
import type { Axis } from '../mount/names.ts'
import type { ReadoutRecord } from '../records/fieldbook.ts'
import type { Deg } from '../units.ts'

/** What a program can be given of the mount: where its axis points, a site elsewhere, the polar axis, or nothing. */
export type Aiming = 'geometry' | 'site' | 'pole' | 'paper'
/** What it can be given of an axis. A line is slope and offset. */
export type Law = 'jack' | 'table' | 'cubic' | 'quadratic' | 'line' | 'offset'
export type OutputUnit = 'counts' | 'degrees'
/** Whether it corrects what it commands (angle to reading) or what it reads (reading to angle). */
export type CorrectionWay = 'command' | 'reading'

/** From the most that a program may take to the least. */
export const AIMINGS: readonly Aiming[] = ['geometry', 'site', 'pole', 'paper']
export const LAWS: readonly Law[] = ['jack', 'table', 'cubic', 'quadratic', 'line', 'offset']

export interface CarryWish {
  aiming: Aiming
  law: Law
  /** Of the axes that count; a jack's own dimensions are in counts always. */
  unit: OutputUnit
  way: CorrectionWay
  /** Between the rows of a table: degrees of angle for commands, counts (or degrees) of reading otherwise. */
  step: number
}

/** The form of one axis's numbers. "As entered" is the readout as the book has it, which the program or its interface uses. */
export type AxisForm =
  /** Output = Σ c_k angle^k (command), or angle = Σ c_k output^k (reading). */
  | { form: 'poly'; degree: 1 | 2 | 3; way: CorrectionWay }
  /** Output = output by the readout as entered + c_0. */
  | { form: 'offset' }
  /** The triangle with the numbers of the page. */
  | { form: 'jack' }
  /** Straight lines between the rows, [angle, output], and beyond the ends. */
  | { form: 'table'; way: CorrectionWay; rows: [angleDeg: Deg, output: number][] }

export interface AxisPage {
  /** "tilt", "swing". */
  name: string
  /** Of what the program puts out for this axis. Degrees on a counted axis are those of its readout as entered. */
  unit: OutputUnit
  form: AxisForm
  /** The axis angle within its limits, as built; a program takes the pose inside, nearest the middle. */
  fromDeg: Deg
  toDeg: Deg
  /** The limits in the unit of the output, lesser first. */
  leastOutput: number
  mostOutput: number
  entered: ReadoutRecord
}

export type NumberUnit = 'deg' | 'mm' | 'counts' | 'counts/mm' | 'ratio' | 'coefficient' | 'sense'

/** One number to be typed. */
export interface Coefficient {
  /** `latDeg`, `headingDeg`, `lower.0` (a power's factor), `upper.baseArmMm`… */
  id: string
  axis: Axis | null
  value: number
  /** As typed: keyboard minus, decimal point, `1.23e-5` where decimals would be many. `value` is its value. */
  text: string
  unit: NumberUnit
  /** What a program has where nothing was typed; null: no sensible value. */
  unset: number | null
}

/** Values by id, as a program has them. */
export type Numbers = Readonly<Record<string, number>>

export const numbersOf = (coefficients: readonly Coefficient[]): Numbers =>
  Object.fromEntries(coefficients.map(c => [c.id, c.value]))

/** Rounded so that half of the last digit moves the output by no more than `least`. @param reach  largest factor of the number */
export function asTyped(value: number, reach: number, least: number): Pick<Coefficient, 'value' | 'text'> {
  const decimals = Math.max(0, Math.ceil(Math.log10((0.5 * Math.max(reach, 1e-12)) / least)))
  const plain = value.toFixed(Math.min(15, decimals))
  const isLong = decimals > 5 && Math.abs(value) < 1e-3
  const digits = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value))) + decimals
  const text = Number(plain) === 0 ? '0' : isLong && digits >= 0 ? value.toExponential(Math.min(8, digits)) : plain
  return { value: Number(text) + 0, text: text.replace('e+', 'e') }
}
