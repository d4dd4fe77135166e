/** A reading of an axis: as its field takes it, as a person would type it, and in words. Degrees or counts, as the axis shows them. */
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { degrees, fixed, NBSP } from './format.ts'
import { type NumberKind, typedDeg, typedNumber } from './numberfield.ts'
import { axisName, capital, dialled, readingDecimals, readingUnit } from './phrases.ts'

export const readingKind = (mount: MountRecord, axis: Axis): NumberKind =>
  readingUnit(mount, axis) === 'degrees' ? { form: 'angle' } : { form: 'count', unit: 'counts' }

/** A reading as a person would type it. */
export const typedReading = (mount: MountRecord, axis: 'lower' | 'upper', value: number | undefined): string =>
  readingUnit(mount, axis) === 'degrees' ? typedDeg(value) : typedNumber(value)

/** "34.6°", "412 counts" */
export function readingText(mount: MountRecord, axis: 'lower' | 'upper', value: number): string {
  const shown = dialled(mount, axis, value)
  return shown.unit === '' ? shown.value : `${shown.value}${NBSP}${shown.unit}`
}

/** "tilt, degrees" */
export const readingLabel = (mount: MountRecord, axis: 'lower' | 'upper'): string =>
  `${axisName(mount, axis)}, ${readingUnit(mount, axis)}`

/** "swing 410 counts", "tilt 30.0°" */
export const readingWords = (mount: MountRecord, axis: Axis, reading: number): string => {
  const decimals = Number.isInteger(reading) ? 0 : readingDecimals(mount, axis) || 1
  const isDegrees = readingUnit(mount, axis) === 'degrees'
  return `${axisName(mount, axis)} ${isDegrees ? degrees(reading, decimals) : `${fixed(reading, decimals)}${NBSP}counts`}`
}

export const axisWord = (mount: MountRecord, axis: 'lower' | 'upper'): string => capital(axisName(mount, axis))
