/** What a level's form needs from outside it: the instrument in use, and what is written along with the level. */
import { edgeOf, type PhoneEnd } from '../../core/level/upvector.ts'
import type { LevelRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { InstrumentRecord } from '../../core/records/instruments.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import type { Draft } from '../../core/records/stored.ts'
import { radFromDeg } from '../../core/units.ts'
import type { Vec3 } from '../../core/vectors.ts'
import { freshPhone, instrumentDraft, instrumentsAt, phoneInstrument, thisPhone } from '../../state/instruments.ts'
import { takeStamp } from '../../state/now.ts'
import { utcOf } from '../kit/utcfield.ts'
import { asksSits, isByPhone, type MeasureForm, reversalOf, reversedSigmaDeg } from './form.ts'
import { biasFromHand, biasFromPhone, type OwnError, ownError } from './phoneform.ts'
import { phoneName } from './phonewords.ts'

interface LevelIds {
  clamping: string
  /** For an instrument that is not in the book yet. */
  instrument: string
}

/** The clamping that the form says; null: put on for this reading alone. */
export const clampingOf = (form: MeasureForm, what: LevelWhat, ids: LevelIds, last: string | null): string | null =>
  !asksSits(form, what) || form.sits === 'once' ? null : form.sits === 'new' ? ids.clamping : last

export function ownOf(
  station: StationRecord,
  what: LevelWhat,
  form: MeasureForm,
  old: LevelRecord | null,
  ids: LevelIds,
  clamping: string | null,
): OwnError {
  const byPhone = isByPhone(form, what)
  const instrument = byPhone
    ? phoneInstrument(station, edgeOf(form.end))
    : (instrumentsAt(station).find(i => i.id === form.instrumentId) ?? null)
  const utc = utcOf(form.utc, old)
  const own = ownError(station, instrument, byPhone ? (instrument?.id ?? ids.instrument) : form.instrumentId || null, {
    nowMs: utc === null ? takeStamp().utcMs : instantMs(utc),
    clamping,
    phone: thisPhone(),
    taken: form.taken.value,
    end: form.end,
  })
  // A bias that was taken off then stays taken off, even if it has been found again since.
  const raw = old?.raw
  if (raw?.shownDeg === undefined || own.id !== old?.instrument) return own
  if (raw.biasDeg === undefined) return { ...own, use: { kind: 'none' } }
  const bias = radFromDeg(raw.biasDeg)
  return { ...own, use: { kind: 'valid', bias, sigma: radFromDeg(old!.sigmaDeg), foundAt: 0, ageMs: 0 } }
}

/** What is known of this phone while it is held so, before anything is taken. */
export const phoneOwn = (
  station: StationRecord,
  end: PhoneEnd,
  up: Vec3<'Phone'>,
  clamping: string | null,
): OwnError => {
  const instrument = phoneInstrument(station, edgeOf(end))
  return ownError(station, instrument, instrument?.id ?? null, {
    nowMs: takeStamp().utcMs,
    clamping,
    phone: thisPhone(),
    taken: { up: up as [number, number, number] },
    end,
  })
}

/** The instrument as it is after this level: new in the book, or with the bias that its reversal found. */
export function besides(
  station: StationRecord,
  what: LevelWhat,
  form: MeasureForm,
  own: OwnError,
  utc: string,
  clamping: string | null,
): Draft[] {
  const byPhone = isByPhone(form, what)
  const base: InstrumentRecord | null =
    own.instrument ??
    (byPhone && own.id !== null ? freshPhone(edgeOf(form.end), phoneName(edgeOf(form.end)), own.id) : null)
  if (base === null) return []
  const reversal = what !== 'mast-lean' && form.how === 'reversal' ? reversalOf(form) : null
  if (reversal?.kind !== 'reversed') return own.instrument === null ? [instrumentDraft(station, base)] : []
  const { first, second } = form.taken
  const bias =
    first && second
      ? biasFromPhone(reversal, first, second, form.end, clamping)
      : biasFromHand(reversal, reversedSigmaDeg(form, reversal.left, own) ?? 0.5, utc, clamping)
  const isNewer = base.bias === undefined || instantMs(bias.utc) > instantMs(base.bias.utc)
  if (!isNewer) return own.instrument === null ? [instrumentDraft(station, base)] : []
  return [instrumentDraft(station, { ...base, bias })]
}
