/**
 * From a level's form to its record and back: angle, σ, what it was made from, clamping and instrument. Pure. Degrees, and
 * readings as the counters show them.
 */
import { round6 } from '../../core/records/digits.ts'
import type { LevelRaw, LevelRecord, MountRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import { degFromRad } from '../../core/units.ts'
import { KINDS } from '../kit/kinds.ts'
import { notYet, type Ready } from '../kit/mount/notyet.ts'
import { numberOf, numberOr } from '../kit/numberfield.ts'
import { readingKind } from '../kit/readings.ts'
import { utcOf } from '../kit/utcfield.ts'
import {
  asksSits,
  correctedDeg,
  emptyMeasure,
  leanOf,
  leanRows,
  type MeasureForm,
  reversalOf,
  reversedSigmaDeg,
  usualFineness,
  usualSigmaDeg,
  valueKind,
} from './form.ts'
import { NO_OWN, type OwnError, phoneElevation } from './phoneform.ts'

/** The form of a level that is in the book. @param known  ids of the station's instruments */
export function formOfLevel(level: LevelRecord, known: readonly string[] = []): MeasureForm {
  const raw = level.raw
  const text = (x: number | undefined) => (x === undefined ? '' : String(x))
  const reversed = raw?.firstDeg !== undefined && raw.secondDeg !== undefined
  return {
    ...emptyMeasure(instantMs(level.utc)),
    how: reversed ? 'reversal' : 'one',
    value: level.what === 'mast-lean' ? '' : text(raw?.shownDeg ?? level.valueDeg),
    sigma: text(level.sigmaDeg),
    shows: raw?.shows ?? 'quarter',
    first: text(raw?.firstDeg),
    second: text(raw?.secondDeg),
    step: text(raw?.stepDeg),
    noise: text(raw?.noiseDeg),
    lower: 'lower' in level ? text(level.lower) : '',
    upper: 'upper' in level ? text(level.upper) : '',
    around: (raw?.around ?? []).map(a => ({
      heading: text(a.headingDeg),
      reading: text(a.readingDeg),
      ...(a.taken && { taken: a.taken }),
    })),
    taken: {
      value: reversed ? null : (raw?.taken?.[0] ?? null),
      first: reversed ? (raw?.taken?.[0] ?? null) : null,
      second: reversed ? (raw?.taken?.[1] ?? null) : null,
    },
    end: raw?.end ?? 'top',
    sits: level.clamping === undefined ? 'once' : 'same',
    instrumentId: level.instrument !== undefined && known.includes(level.instrument) ? level.instrument : '',
    instrument: level.instrument !== undefined && !known.includes(level.instrument) ? level.instrument : '',
    note: level.note ?? '',
  }
}

/** Angle, σ and what they were made from, of anything but a mast's lean. */
function elevationOf(
  form: MeasureForm,
  what: LevelWhat,
  own: OwnError,
): Ready<{ valueDeg: number; sigmaDeg: number; raw?: LevelRaw }> {
  if (form.how === 'one') {
    const valueDeg = correctedDeg(form, what, own)
    if (valueDeg === null) return notYet('value')
    const sigmaDeg = numberOr(form.sigma, KINDS.sigma, round6(usualSigmaDeg(form, own)))
    if (sigmaDeg === null) return notYet('sigma')
    const raw = rawOfOne(form, what, own)
    return { kind: 'ready', record: { valueDeg: round6(valueDeg), sigmaDeg, ...(raw && { raw }) } }
  }
  const reversal = reversalOf(form)
  if (reversal === null) return notYet('readings')
  if (reversal.kind !== 'reversed') return notYet('reversal')
  const sigmaDeg = reversedSigmaDeg(form, reversal.left, own)
  if (sigmaDeg === null) return notYet('step')
  const angleDeg = round6(degFromRad(reversal.angle))
  if (Math.abs(angleDeg) > 90) return notYet('reversal')
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const raw: LevelRaw = {
    shows: form.shows,
    firstDeg: numberOf(form.first, kind)!,
    secondDeg: numberOf(form.second, kind)!,
    ...finenessOf(form, own),
    biasDeg: round6(degFromRad(reversal.bias)),
    ...(form.taken.first && form.taken.second && { end: form.end, taken: [form.taken.first, form.taken.second] }),
  }
  const valueDeg = what === 'upper-axis-elevation' ? Math.abs(angleDeg) : angleDeg
  return { kind: 'ready', record: { valueDeg, sigmaDeg: round6(sigmaDeg), raw } }
}

const finenessOf = (form: MeasureForm, own: OwnError): { stepDeg: number; noiseDeg: number } => {
  const usual = usualFineness(own)
  return {
    stepDeg: numberOr(form.step, KINDS.step, usual.stepDeg)!,
    noiseDeg: numberOr(form.noise, KINDS.step, usual.noiseDeg)!,
  }
}

/** What one reading was made from, where that is more than its value. */
function rawOfOne(form: MeasureForm, what: LevelWhat, own: OwnError): LevelRaw | null {
  const { value: taken } = form.taken
  const biasDeg = own.use.kind === 'valid' ? round6(degFromRad(own.use.bias)) : null
  if (taken === null && biasDeg === null) return null
  const shownDeg = taken
    ? round6(degFromRad(phoneElevation(taken.up, form.end, { kind: 'none' })))
    : numberOf(form.value, valueKind(what))!
  return {
    shownDeg,
    ...(biasDeg !== null && { biasDeg }),
    ...(taken && { end: form.end, taken: [taken] }),
  }
}

/**
 * The level that the form says.
 *
 * @param old       the record being edited; what it holds beyond the form stays
 * @param clamping  ids: a fresh one, and that of the clamping before
 * @param own       the instrument that it names, and whether its bias is taken off
 */
export function levelFromForm(
  form: MeasureForm,
  what: LevelWhat,
  mount: MountRecord,
  old: LevelRecord | null,
  id: string,
  clamping: { fresh: string; last: string | null },
  own: OwnError = NO_OWN,
): Ready<LevelRecord> {
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const { raw: _, clamping: __, instrument: ___, note: ____, ...kept } = (old ?? {}) as Partial<LevelRecord>
  const shared =
    asksSits(form, what) && form.sits !== 'once' ? (form.sits === 'new' ? clamping.fresh : clamping.last) : null
  const common = {
    ...kept,
    id,
    utc,
    ...(own.id !== null
      ? { instrument: own.id }
      : form.instrument.trim() !== '' && { instrument: form.instrument.trim() }),
    ...(shared !== null && { clamping: shared }),
    ...(form.note.trim() !== '' && { note: form.note.trim() }),
  }
  if (what === 'mast-lean') {
    if (old?.what === 'mast-lean' && form.around.length === 0)
      return {
        kind: 'ready',
        record: { ...common, what, northDeg: old.northDeg, eastDeg: old.eastDeg, sigmaDeg: old.sigmaDeg },
      }
    const lean = leanOf(form, own)
    if (lean === null) return notYet('step')
    if (lean.kind !== 'lean') return notYet('around')
    const raw: LevelRaw = {
      ...finenessOf(form, own),
      biasDeg: round6(degFromRad(lean.bias)),
      around: leanRows(form).map(({ reading: r, taken }) => ({
        headingDeg: round6(degFromRad(r.heading)),
        readingDeg: round6(degFromRad(r.reading)),
        ...(taken && { taken }),
      })),
    }
    const [northDeg, eastDeg] = [round6(degFromRad(lean.north)), round6(degFromRad(lean.east))]
    return {
      kind: 'ready',
      record: { ...common, what, northDeg, eastDeg, sigmaDeg: round6(degFromRad(lean.sigma)), raw },
    }
  }
  const elevation = elevationOf(form, what, own)
  if (elevation.kind !== 'ready') return elevation
  if (what === 'lower-axis-elevation') return { kind: 'ready', record: { ...common, what, ...elevation.record } }
  const lower = numberOf(form.lower, readingKind(mount, 'lower'))
  if (lower === null) return notYet('lower')
  if (what === 'upper-axis-elevation') return { kind: 'ready', record: { ...common, what, lower, ...elevation.record } }
  const upper = numberOf(form.upper, readingKind(mount, 'upper'))
  if (upper === null) return notYet('upper')
  return { kind: 'ready', record: { ...common, what, lower, upper, ...elevation.record } }
}
