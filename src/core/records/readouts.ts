/**
 * Readouts as the file has them, and as the core uses them: millimetres, degrees and counts per degree there,
 * radians here.
 */
import type { Readout } from '../readout/readout.ts'
import { degFromRad, radFromDeg } from '../units.ts'
import { rounded } from './digits.ts'
import type { ReadoutRecord } from './fieldbook.ts'

type Type = Readout['type']
type RecordOf<T extends Type> = Extract<ReadoutRecord, { type: T }>
type ReadoutOf<T extends Type> = Extract<Readout, { type: T }>

interface Ways<T extends Type> {
  /** The numbers of its record, in the order in which a form asks for them. */
  numbers: readonly Exclude<keyof RecordOf<T>, 'type' | 'direction'>[]
  read(record: RecordOf<T>): ReadoutOf<T>
  /** As the file has it; far finer than anything measured. */
  write(readout: ReadoutOf<T>): RecordOf<T>
  /** The other sense; null where the readings themselves must be turned. */
  reversed(record: RecordOf<T>): RecordOf<T> | null
}

const WAYS: { readonly [T in Type]: Ways<T> } = {
  degrees: {
    numbers: [],
    read: () => ({ type: 'degrees' }),
    write: () => ({ type: 'degrees' }),
    reversed: () => null,
  },
  'linear-counts': {
    numbers: ['zeroCounts', 'countsPerDeg'],
    read: r => ({ type: 'linear-counts', zeroCounts: r.zeroCounts, countsPerRad: r.countsPerDeg * (180 / Math.PI) }),
    write: r => ({
      type: 'linear-counts',
      zeroCounts: rounded(r.zeroCounts, 3),
      countsPerDeg: rounded(1 / degFromRad(1 / r.countsPerRad), 6),
    }),
    reversed: r => ({ ...r, countsPerDeg: -r.countsPerDeg }),
  },
  jack: {
    numbers: ['baseArmMm', 'rodArmMm', 'lengthAtReadingZeroMm', 'countsPerMm', 'phiAtAngleZeroDeg'],
    read: r => ({
      type: 'jack',
      baseArm: r.baseArmMm,
      rodArm: r.rodArmMm,
      lengthAtReadingZero: r.lengthAtReadingZeroMm,
      countsPerMm: r.countsPerMm,
      phiAtAngleZero: radFromDeg(r.phiAtAngleZeroDeg),
      direction: r.direction,
    }),
    write: r => ({
      type: 'jack',
      baseArmMm: rounded(r.baseArm, 3),
      rodArmMm: rounded(r.rodArm, 3),
      lengthAtReadingZeroMm: rounded(r.lengthAtReadingZero, 3),
      countsPerMm: r.countsPerMm,
      phiAtAngleZeroDeg: rounded(degFromRad(r.phiAtAngleZero), 5),
      direction: r.direction,
    }),
    reversed: r => ({ ...r, direction: r.direction === 1 ? -1 : 1 }),
  },
}

/** The ways of a record's own type: the types cannot express that they match. */
const waysOf = (type: Type) => WAYS[type] as unknown as Ways<Type>

/** In the order in which a person is asked. */
export const READOUT_TYPES = Object.keys(WAYS) as readonly Type[]

export const readoutNumbers = (type: Type): readonly string[] => waysOf(type).numbers

export const readoutFromRecord = (r: ReadoutRecord): Readout => waysOf(r.type).read(r)

export const recordFromReadout = (readout: Readout): ReadoutRecord => waysOf(readout.type).write(readout)

/** The other sense of a readout's record; null for degrees, where the readings themselves must be turned. */
export const reversedReadout = (record: ReadoutRecord): ReadoutRecord | null => waysOf(record.type).reversed(record)
