/** The kinds of readout in words, and the numbers that a person gives for each: the field's name, and what it takes. */
import type { Readout } from '../../core/readout/readout.ts'
import type { ReadoutRecord } from '../../core/records/fieldbook.ts'
import { RANGES, type Range } from '../../core/records/ranges.ts'
import { readoutNumbers } from '../../core/records/readouts.ts'
import { bounds, lengthKind, type NumberKind } from './numberfield.ts'

export interface NumberSpec {
  kind: NumberKind
  /** Kept in millimetres (or counts per millimetre) and written in the person's unit. */
  length?: 'mm' | 'per-mm'
}

export const lengthOf = (range: Range): NumberSpec => ({
  kind: lengthKind('mm', range),
  length: 'mm',
})

export const READOUT_WORDS: Readonly<Record<Readout['type'], { word: string; note: string }>> = {
  degrees: { word: 'Degrees', note: 'a scale, an encoder, an inclinometer' },
  'linear-counts': {
    word: 'Counts, evenly',
    note: 'a gear or worm with a pulse counter: the same counts for every degree',
  },
  jack: { word: 'Counts of a jack', note: 'a linear actuator across a pivot: a triangle' },
}

/** By the name that a number has in the file. */
export const READOUT_FIELDS: Readonly<Record<string, { label: string; hint?: string; spec: NumberSpec }>> = {
  zeroCounts: {
    label: 'Counts at axis angle zero',
    spec: { kind: { form: 'count', unit: 'counts', ...bounds(RANGES.measure) } },
  },
  countsPerDeg: {
    label: 'Counts per degree',
    hint: 'Negative if the counter runs down as the angle grows.',
    spec: { kind: { form: 'number', unit: 'counts per °', ...bounds(RANGES.measure) } },
  },
  baseArmMm: {
    label: 'A, fixed arm',
    hint: 'Pivot bolt to the pin at the fixed end of the jack, centre to centre.',
    spec: lengthOf(RANGES.jackMm),
  },
  rodArmMm: {
    label: 'B, rod arm',
    hint: 'Pivot bolt to the pin at the end of the rod, centre to centre.',
    spec: lengthOf(RANGES.jackMm),
  },
  lengthAtReadingZeroMm: {
    label: 'L, jack at reading zero',
    hint: 'Pin to pin, when the counter shows 0.',
    spec: lengthOf(RANGES.jackMm),
  },
  countsPerMm: {
    label: 'Counts of the jack',
    hint: 'How many pulses for each millimetre or inch that it grows. Given per inch: divide by 25.4, or choose inches under Settings.',
    spec: { kind: { form: 'number', unit: 'counts per mm', ...bounds(RANGES.countsPerMm) }, length: 'per-mm' },
  },
  phiAtAngleZeroDeg: {
    label: 'Angle at the pivot when the axis is at zero',
    hint: 'Between the two arms. Hard to measure between bolts: better found from a known angle, above.',
    spec: { kind: { form: 'angle', ...bounds(RANGES.phiAtAngleZeroDeg) } },
  },
}

/** The numbers of a readout by their fields: "Counts at axis angle zero 120, …". */
export const readoutWords = (r: ReadoutRecord): string =>
  readoutNumbers(r.type)
    .map(name => `${READOUT_FIELDS[name]!.label} ${(r as unknown as Record<string, number>)[name]}`)
    .join(', ')
