/**
 * A page's formulas with its numbers, in both conventions: what to add to the command, and what to subtract from the reading. Plain
 * text with the keyboard's own signs. A is the axis angle in degrees that the program has worked out, R what the axis reads.
 */
import { AXES, type Axis } from '../mount/names.ts'
import type { AxisPage, Coefficient } from './numbers.ts'
import { asTyped } from './numbers.ts'

export interface AxisFormulas {
  /** What the axis is sent to. */
  command: string
  /** The same as what to add to the angle; null where the output is in counts. */
  add: string | null
  /** The angle that a reading means. */
  reading: string
  /** The same as what to subtract from the reading; null as above. */
  subtract: string | null
}
export type Formulas = Record<Axis, AxisFormulas>

interface Half {
  axes: Record<Axis, AxisPage>
  numbers: readonly Coefficient[]
}

/** "+ 0.998 A - 1.2e-5 A^2": terms that are 0 left out. */
function terms(c: readonly string[], of: string): string {
  const parts = c.flatMap((text, k) => {
    if (Number(text) === 0) return []
    const size = text.replace(/^-/, '')
    const power = k === 0 ? '' : k === 1 ? of : `${of}^${k}`
    const body = power === '' ? size : Number(size) === 1 ? power : `${size} ${power}`
    return [`${Number(text) < 0 ? '-' : '+'} ${body}`]
  })
  return parts.length === 0 ? '0' : parts.join(' ').replace(/^\+ /, '').replace(/^- /, '-')
}

const textsOf = (numbers: readonly Coefficient[], axis: Axis): string[] =>
  numbers.filter(n => n.axis === axis && /\.\d$/.test(n.id)).map(n => n.text)

/** A number with as many decimals as another has, as it would be printed itself. */
function asFineAs(value: number, like: string): string {
  const [mantissa = '', exponent = '0'] = like.split('e')
  const decimals = (mantissa.split('.')[1]?.length ?? 0) - Number(exponent)
  return asTyped(value, 1, 0.5 * 10 ** -decimals).text
}

/** The factors of P - x or x - P: what is beyond the angle itself. */
const beyond = (c: readonly string[], sign: 1 | -1): string[] =>
  c.map((text, k) => asFineAs(sign * (Number(text) - (k === 1 ? 1 : 0)), text))

const negative = (text: string): string =>
  text.startsWith('-') ? text.slice(1) : Number(text) === 0 ? text : `-${text}`

function polynomialFormulas(axis: Axis, command: Half, reading: Half): AxisFormulas {
  const forward = textsOf(command.numbers, axis)
  const back = textsOf(reading.numbers, axis)
  const isDegrees = command.axes[axis].unit === 'degrees'
  const out = isDegrees ? 'R' : 'counts'
  return {
    command: `${out} = ${terms(forward, 'A')}`,
    add: isDegrees ? terms(beyond(forward, 1), 'A') : null,
    reading: `A = ${terms(back, out)}`,
    subtract: isDegrees ? terms(beyond(back, -1), 'R') : null,
  }
}

function jackFormulas(axis: Axis, { numbers }: Half): AxisFormulas {
  const of = (what: string) => numbers.find(n => n.id === `${axis}.${what}`)!
  const squares = asTyped(of('baseArmMm').value ** 2 + of('rodArmMm').value ** 2, 1, 0.5).text
  const twice = asTyped(2 * of('baseArmMm').value * of('rodArmMm').value, 1, 0.5).text
  const phi = of('phiAtAngleZeroDeg').text
  const sense = of('direction').value === 1 ? '' : '-'
  const length = of('lengthAtReadingZeroMm').text
  const perMm = of('countsPerMm').text
  return {
    command: `counts = ${perMm} (sqrt(${squares} - ${twice} cos(${phi} ${sense === '' ? '+' : '-'} A)) - ${length})`,
    add: null,
    reading: `A = ${sense}(acos((${squares} - (${length} + counts / ${perMm})^2) / ${twice}) - ${phi})`,
    subtract: null,
  }
}

function axisFormulas(axis: Axis, command: Half, reading: Half): AxisFormulas {
  const { form, unit } = command.axes[axis]
  switch (form.form) {
    case 'poly':
      return polynomialFormulas(axis, command, reading)
    case 'offset': {
      const [b] = textsOf(command.numbers, axis)
      const isDegrees = unit === 'degrees'
      const entered = isDegrees ? 'A' : 'counts as entered'
      const signed = terms([b!], '')
      return {
        command: `${isDegrees ? 'R' : 'counts'} = ${entered} ${b!.startsWith('-') ? `- ${b!.slice(1)}` : `+ ${b}`}`,
        add: isDegrees ? signed : `${signed} counts`,
        reading: `${isDegrees ? 'A = R' : 'counts as entered = counts'} ${negative(b!).startsWith('-') ? `- ${negative(b!).slice(1)}` : `+ ${negative(b!)}`}`,
        subtract: isDegrees ? signed : `${signed} counts`,
      }
    }
    case 'jack':
      return jackFormulas(axis, command)
    case 'table': {
      const out = unit === 'degrees' ? 'R' : 'counts'
      return {
        command: `${out} from the table, by A`,
        add: null,
        reading: `A from the table, by ${out}`,
        subtract: null,
      }
    }
  }
}

/** @param one, other  the page in its way and in the other, in either order */
export function formulasOf(one: Half, other: Half): Formulas {
  const isReading = (h: Half) =>
    AXES.some(a => h.axes[a].form.form !== 'offset' && 'way' in h.axes[a].form && h.axes[a].form.way === 'reading')
  const [command, reading] = isReading(one) ? [other, one] : [one, other]
  return { lower: axisFormulas('lower', command, reading), upper: axisFormulas('upper', command, reading) }
}
