/**
 * Instruments of a station: the phone by each of its edges, and inclinometers read by hand. Degrees. Records of another
 * kind in the same list are left as they are: only a `type` named here is read and held to these rules.
 */
import * as v from 'valibot'
import { name, object, oneOf, sigmaDeg, text, utc, within } from './shapes.ts'

export type InstrumentType = 'phone' | 'inclinometer'

/** What a reversal found that the instrument shows too much, and when it may be taken off. */
export interface InstrumentBias {
  utc: string
  biasDeg: number
  sigmaDeg: number
  /** The tilt at which it was found: elsewhere it is known less well. */
  atDeg?: number
  /** Phone: the axis that the half turn went about, which tells how it lay. */
  about?: 'x' | 'y' | 'z'
  /** The clamping in which it was found; none: laid on by hand. */
  clamping?: string
}

export interface InstrumentRecord {
  id: string
  name: string
  type: InstrumentType
  /** Phone: what is measured by. */
  edge?: 'long' | 'short' | 'screen'
  /** Phone: which one, so that a book on another phone does not take this one's error off. */
  phone?: string
  /** Inclinometer: whether it shows the full circle. */
  shows?: 'circle' | 'quarter'
  stepDeg?: number
  noiseDeg?: number
  bias?: InstrumentBias
  note?: string
}

const opt = v.optional

const KnownSchema = object({
  id: name(),
  name: name(),
  type: oneOf(['phone', 'inclinometer']),
  edge: opt(oneOf(['long', 'short', 'screen'])),
  phone: opt(text()),
  shows: opt(oneOf(['circle', 'quarter'])),
  stepDeg: opt(within(0, 5)),
  noiseDeg: opt(within(0, 5)),
  bias: opt(
    object({
      utc: utc(),
      biasDeg: within(-45, 45),
      sigmaDeg: sigmaDeg(),
      atDeg: opt(within(-180, 180)),
      about: opt(oneOf(['x', 'y', 'z'])),
      clamping: opt(text()),
    }),
  ),
  note: opt(text()),
})

const typeOf = (x: unknown): unknown =>
  typeof x === 'object' && x !== null ? (x as { type?: unknown }).type : undefined

export const InstrumentSchema = v.lazy(x =>
  typeOf(x) === 'phone' || typeOf(x) === 'inclinometer' ? (KnownSchema as v.GenericSchema) : v.unknown(),
)

/** The instruments of a list that this program knows how to use, in the order of the list. */
export const instrumentsOf = (list: readonly unknown[] | undefined): InstrumentRecord[] =>
  (list ?? []).filter((x): x is InstrumentRecord => v.safeParse(KnownSchema, x).success)
