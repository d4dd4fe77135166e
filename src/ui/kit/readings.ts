/** A reading of an axis: as its field takes it, as a person would type it, and in words. Degrees or counts, as the axis shows them. */
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { angleStyle, NBSP } from './format.ts'
import { type NumberKind, typedDeg, typedNumber } from './numberfield.ts'
import { axisName, capital, dialled, keptReading, readingDecimals, readingUnit } from './phrases.ts'

export const readingKind = (mount: MountRecord, axis: Axis): NumberKind =>
  readingUnit(mount, axis) === 'degrees' ? { form: 'angle' } : { form: 'count', unit: 'counts' }

/** A reading as a person would type it, with all the digits of its axis: "31.0", not "31", so that the last is there to be typed over. */
export function typedReading(mount: MountRecord, axis: Axis, value: number | undefined): string {
  if (readingUnit(mount, axis) === 'counts') return typedNumber(value)
  const text = typedDeg(value)
  if (text === '' || angleStyle() !== 'decimal') return text
  const [whole, digits = ''] = text.split('.')
  const all = digits.padEnd(readingDecimals(mount, axis), '0')
  return all === '' ? text : `${whole}.${all}`
}

/** "34.6°", "412 counts" */
export function readingText(mount: MountRecord, axis: 'lower' | 'upper', value: number): string {
  const shown = dialled(mount, axis, value)
  return shown.unit === '' ? shown.value : `${shown.value}${NBSP}${shown.unit}`
}

/** "tilt, degrees" */
export const readingLabel = (mount: MountRecord, axis: 'lower' | 'upper'): string =>
  `${axisName(mount, axis)}, ${readingUnit(mount, axis)}`

/** "swing 410 counts", "tilt 30.0°" */
export const readingWords = (mount: MountRecord, axis: Axis, reading: number): string =>
  `${axisName(mount, axis)} ${keptReading(mount, axis, reading)}`

export const axisWord = (mount: MountRecord, axis: 'lower' | 'upper'): string => capital(axisName(mount, axis))
