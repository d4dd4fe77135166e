/**
 * Whether an instrument's bias, as a reversal found it, may be taken off a reading now: for a day, on the phone that it
 * was found with, lying the same way, in the same clamping. A bias that may not be taken off is returned with the reason. Radians.
 */
import type { LevelRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import type { InstrumentRecord } from '../records/instruments.ts'
import { DAY_MS, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import type { PhoneAxis } from './upvector.ts'

export const BIAS_LASTS_MS = DAY_MS

export type BiasUse =
  /** No reversal was ever made with it. */
  | { kind: 'none' }
  | { kind: 'valid'; bias: Rad; sigma: Rad; foundAt: Rad; ageMs: number }
  | { kind: 'old'; bias: Rad; ageMs: number }
  /** It was clamped again since, or is in another clamping now. */
  | { kind: 'clamped-anew'; bias: Rad; ageMs: number }
  /** The phone lies on another side than when the bias was found. */
  | { kind: 'lies-otherwise'; bias: Rad; ageMs: number }
  | { kind: 'other-phone' }

interface BiasWanted {
  nowMs: UtcMs
  /** Id of the present clamping; null: laid on by hand. */
  clamping: string | null
  /** A phone's: the axis that a half turn would go about now, and which phone it is. */
  about?: PhoneAxis
  phone?: string
}

export function biasFor(
  instrument: InstrumentRecord | null,
  levels: readonly LevelRecord[] | undefined,
  wanted: BiasWanted,
): BiasUse {
  const found = instrument?.bias
  if (!instrument || !found) return { kind: 'none' }
  if (instrument.type === 'phone' && instrument.phone !== wanted.phone) return { kind: 'other-phone' }
  const ageMs = wanted.nowMs - msFromUtc(found.utc)
  const bias = radFromDeg(found.biasDeg)
  // An age below 0: the clock was set back, or a level was typed in for an earlier day.
  if (ageMs > BIAS_LASTS_MS || ageMs < 0) return { kind: 'old', bias, ageMs }
  const own = found.clamping ?? null
  const since = (levels ?? []).some(
    l =>
      l.instrument === instrument.id &&
      l.clamping !== undefined &&
      l.clamping !== own &&
      msFromUtc(l.utc) > msFromUtc(found.utc) &&
      msFromUtc(l.utc) <= wanted.nowMs,
  )
  if (own !== wanted.clamping || since) return { kind: 'clamped-anew', bias, ageMs }
  if (found.about !== undefined && wanted.about !== undefined && found.about !== wanted.about)
    return { kind: 'lies-otherwise', bias, ageMs }
  return { kind: 'valid', bias, sigma: radFromDeg(found.sigmaDeg), foundAt: radFromDeg(found.atDeg ?? 0), ageMs }
}
