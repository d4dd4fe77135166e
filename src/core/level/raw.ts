/**
 * What a level was made from, as the program keeps it beside the file's own fields: `raw` of a level, and a reading by the phone.
 * Degrees; `up` is a unit vector in the Phone frame.
 */
import type { LevelRecord } from '../records/fieldbook.ts'
import type { Source } from './phone.ts'
import type { PhoneEnd } from './upvector.ts'

/** Source, rounding step and rate are kept with each reading. */
export interface Taken {
  utc: string
  source: Source
  stepDeg: number
  rateHz: number | null
  noiseDeg: number
  spreadDeg: number
  up: [number, number, number]
}

/** What a level was made from, kept beside the file's own fields. */
export interface LevelRaw {
  shows?: 'circle' | 'quarter'
  firstDeg?: number
  secondDeg?: number
  stepDeg?: number
  noiseDeg?: number
  biasDeg?: number
  /** One reading: what was shown before the instrument's own error was taken off. */
  shownDeg?: number
  /** By the phone: the end that counts, and its readings in order. */
  end?: PhoneEnd
  taken?: Taken[]
  around?: { headingDeg: number; readingDeg: number; taken?: Taken }[]
  /** By swinging: the positions (swingform.ts). */
  swing?: unknown
}

export type LevelWithRaw = LevelRecord & { raw?: LevelRaw }

/** True where the level was found by swinging an axis. */
export const isSwung = (level: LevelWithRaw): boolean => level.raw?.swing !== undefined
