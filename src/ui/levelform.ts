/**
 * The forms of the place "Level": what was typed, as text, and its reading as a record. Pure: time and ids are handed in.
 * Whatever measures (a hand, later the phone) fills the same forms. Degrees, and readings as the counters show them.
 */
import type { LevelWhat } from '../core/level/kinds.ts'
import { type LeanReading, type MastLean, mastLean } from '../core/level/mastlean.ts'
import { type Reversal, reversalOfElevations, reversalOnCircle, reversalSigma } from '../core/level/reversal.ts'
import { levelSigma, REVERSED_BIAS, UNREVERSED_BIAS } from '../core/level/sigma.ts'
import type { Axis, LevelRecord, MountRecord } from '../core/records/fieldbook.ts'
import { degFromRad, radFromDeg } from '../core/units.ts'
import { type NumberKind, parseNumber } from './numberfield.ts'
import { parseUtc } from './utcfield.ts'

/** How the instrument sits: put on for this reading alone, or clamped so that readings share an unknown constant. */
export type Sits = 'once' | 'new' | 'same'

export interface MeasureForm {
  how: 'one' | 'reversal'
  value: string
  sigma: string
  shows: 'circle' | 'quarter'
  first: string
  second: string
  step: string
  noise: string
  /** Where the axes stood. */
  lower: string
  upper: string
  /** Round the mast. */
  around: { heading: string; reading: string }[]
  sits: Sits
  instrument: string
  note: string
  utc: string
}

export const KINDS = {
  tilt: { form: 'angle', min: -90, max: 90 },
  /** The end that points up is the one that is told: never below nothing. */
  raised: { form: 'angle', min: 0, max: 90 },
  circle: { form: 'angle', min: -360, max: 360 },
  heading: { form: 'angle', min: 0, max: 360 },
  sigma: { form: 'number', unit: '°', min: 0.001, max: 45 },
  step: { form: 'number', unit: '°', min: 0, max: 5 },
  turn: { form: 'angle', min: -180, max: 180 },
  turnSigma: { form: 'number', unit: '°', min: 0.001, max: 180 },
  shift: { form: 'number', unit: 'mm', min: -1000, max: 1000 },
  shiftSigma: { form: 'number', unit: 'mm', min: 0.01, max: 1000 },
} as const satisfies Record<string, NumberKind>

export const readingKind = (mount: MountRecord, axis: Axis): NumberKind =>
  mount[axis].readout.type === 'degrees' ? { form: 'number', unit: '°' } : { form: 'count', unit: 'counts' }

export const valueKind = (what: LevelWhat): NumberKind => (what === 'upper-axis-elevation' ? KINDS.raised : KINDS.tilt)

/** What is taken where step and noise are left empty. */
export const USUAL_STEP_DEG = 0.1
export const USUAL_NOISE_DEG = 0.1

/** "2026-04-27 20:14:05", as the field wants it. */
export const utcText = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace('T', ' ')

/** The number typed, or null. */
export const typed = (text: string, kind: NumberKind): number | null => {
  const parsed = parseNumber(text, kind)
  return parsed.kind === 'value' ? parsed.value : null
}

/** The instant typed as it is kept; what was not touched keeps its fraction of a second. */
export function utcOf(text: string, old: { utc: string } | null): string | null {
  if (old && text === utcText(Date.parse(old.utc))) return old.utc
  const parsed = parseUtc(text)
  return parsed.kind === 'value' ? new Date(parsed.utcMs).toISOString().replace('.000Z', 'Z') : null
}

/** Empty counts as `usual`; what is typed and cannot be read is null. */
function typedOr(text: string, kind: NumberKind, usual: number): number | null {
  return text.trim() === '' ? usual : typed(text, kind)
}

export const emptyMeasure = (nowMs: number): MeasureForm => ({
  how: 'one',
  value: '',
  sigma: '',
  shows: 'quarter',
  first: '',
  second: '',
  step: '',
  noise: '',
  lower: '',
  upper: '',
  around: [0, 120, 240].map(heading => ({ heading: String(heading), reading: '' })),
  sits: 'once',
  instrument: '',
  note: '',
  utc: utcText(nowMs),
})

/** What a level was made from, kept beside the file's own fields. */
export interface Raw {
  shows?: 'circle' | 'quarter'
  firstDeg?: number
  secondDeg?: number
  stepDeg?: number
  noiseDeg?: number
  biasDeg?: number
  around?: { headingDeg: number; readingDeg: number }[]
}
export type LevelWithRaw = LevelRecord & { raw?: Raw }

/** The form of a level that is in the book. */
export function formOfLevel(level: LevelWithRaw): MeasureForm {
  const raw = level.raw
  const text = (x: number | undefined) => (x === undefined ? '' : String(x))
  const reversed = raw?.firstDeg !== undefined && raw.secondDeg !== undefined
  return {
    ...emptyMeasure(Date.parse(level.utc)),
    how: reversed ? 'reversal' : 'one',
    value: level.what === 'mast-lean' ? '' : text(level.valueDeg),
    sigma: text(level.sigmaDeg),
    shows: raw?.shows ?? 'quarter',
    first: text(raw?.firstDeg),
    second: text(raw?.secondDeg),
    step: text(raw?.stepDeg),
    noise: text(raw?.noiseDeg),
    lower: 'lower' in level ? text(level.lower) : '',
    upper: 'upper' in level ? text(level.upper) : '',
    around: (raw?.around ?? []).map(a => ({ heading: text(a.headingDeg), reading: text(a.readingDeg) })),
    sits: level.clamping === undefined ? 'once' : 'same',
    instrument: level.instrument ?? '',
    note: level.note ?? '',
  }
}

/** σ in degrees where the person states none. */
export const usualSigmaDeg = (sits: Sits): number =>
  degFromRad(
    levelSigma({
      noise: radFromDeg(USUAL_NOISE_DEG),
      step: radFromDeg(USUAL_STEP_DEG),
      // In a clamping the instrument's own error is the constant that the solution finds.
      bias: sits === 'once' ? UNREVERSED_BIAS : REVERSED_BIAS,
    }),
  )

/** The two readings as a reversal; null until both can be read. */
export function reversalOf(form: MeasureForm): Reversal | null {
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const [first, second] = [typed(form.first, kind), typed(form.second, kind)]
  if (first === null || second === null) return null
  const reverse = form.shows === 'circle' ? reversalOnCircle : reversalOfElevations
  return reverse(radFromDeg(first), radFromDeg(second))
}

const spreadOf = (form: MeasureForm): { step: number; noise: number } | null => {
  const step = typedOr(form.step, KINDS.step, USUAL_STEP_DEG)
  const noise = typedOr(form.noise, KINDS.step, USUAL_NOISE_DEG)
  return step === null || noise === null ? null : { step: radFromDeg(step), noise: radFromDeg(noise) }
}

/** σ of the reversal in degrees; null until it can be told. */
export function reversedSigmaDeg(form: MeasureForm, left: number): number | null {
  const spread = spreadOf(form)
  return spread && degFromRad(reversalSigma(left, spread))
}

/** The rows round the mast in which both are typed. */
export const leanReadings = (form: MeasureForm): LeanReading[] =>
  form.around.flatMap(row => {
    const [heading, reading] = [typed(row.heading, KINDS.heading), typed(row.reading, KINDS.tilt)]
    return heading === null || reading === null ? [] : [{ heading: radFromDeg(heading), reading: radFromDeg(reading) }]
  })

export function leanOf(form: MeasureForm): MastLean | null {
  const spread = spreadOf(form)
  return spread && mastLean(leanReadings(form), { ...spread, bias: REVERSED_BIAS })
}

/** What still keeps a form from being a record. */
export type NotYet =
  | 'time'
  | 'lower'
  | 'upper'
  | 'value'
  | 'sigma'
  | 'readings'
  | 'reversal'
  | 'around'
  | 'step'
  | 'mark'
  | 'reading'
  | 'what'
  | 'moved'

export type Ready<T> = { kind: 'ready'; record: T } | { kind: 'not-yet'; why: NotYet }
export const notYet = (why: NotYet): { kind: 'not-yet'; why: NotYet } => ({ kind: 'not-yet', why })

const rounded = (deg: number): number => Math.round(deg * 1e6) / 1e6

/** Angle, σ and what they were made from, of anything but a mast's lean. */
function elevationOf(form: MeasureForm, what: LevelWhat): Ready<{ valueDeg: number; sigmaDeg: number; raw?: Raw }> {
  if (form.how === 'one') {
    const valueDeg = typed(form.value, valueKind(what))
    if (valueDeg === null) return notYet('value')
    const sigmaDeg = typedOr(form.sigma, KINDS.sigma, rounded(usualSigmaDeg(form.sits)))
    return sigmaDeg === null ? notYet('sigma') : { kind: 'ready', record: { valueDeg, sigmaDeg } }
  }
  const reversal = reversalOf(form)
  if (reversal === null) return notYet('readings')
  if (reversal.kind !== 'reversed') return notYet('reversal')
  const sigmaDeg = reversedSigmaDeg(form, reversal.left)
  if (sigmaDeg === null) return notYet('step')
  const angleDeg = rounded(degFromRad(reversal.angle))
  if (Math.abs(angleDeg) > 90) return notYet('reversal')
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const raw: Raw = {
    shows: form.shows,
    firstDeg: typed(form.first, kind)!,
    secondDeg: typed(form.second, kind)!,
    stepDeg: typedOr(form.step, KINDS.step, USUAL_STEP_DEG)!,
    noiseDeg: typedOr(form.noise, KINDS.step, USUAL_NOISE_DEG)!,
    biasDeg: rounded(degFromRad(reversal.bias)),
  }
  const valueDeg = what === 'upper-axis-elevation' ? Math.abs(angleDeg) : angleDeg
  return { kind: 'ready', record: { valueDeg, sigmaDeg: rounded(sigmaDeg), raw } }
}

/** True where a clamping's constant can matter: a single reading, or the dish, against which the instrument sits askew. */
export const asksSits = (form: MeasureForm, what: LevelWhat): boolean =>
  what !== 'mast-lean' && (form.how === 'one' || what === 'dish-elevation')

/**
 * The level that the form says.
 *
 * @param old       the record being edited; what it holds beyond the form stays
 * @param clamping  ids: a fresh one, and that of the clamping before
 */
export function levelFromForm(
  form: MeasureForm,
  what: LevelWhat,
  mount: MountRecord,
  old: LevelRecord | null,
  id: string,
  clamping: { fresh: string; last: string | null },
): Ready<LevelWithRaw> {
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const { raw: _, clamping: __, instrument: ___, note: ____, ...kept } = (old ?? {}) as Partial<LevelWithRaw>
  const shared =
    asksSits(form, what) && form.sits !== 'once' ? (form.sits === 'new' ? clamping.fresh : clamping.last) : null
  const common = {
    ...kept,
    id,
    utc,
    ...(form.instrument.trim() !== '' && { instrument: form.instrument.trim() }),
    ...(shared !== null && { clamping: shared }),
    ...(form.note.trim() !== '' && { note: form.note.trim() }),
  }
  if (what === 'mast-lean') {
    if (old?.what === 'mast-lean' && form.around.length === 0)
      return {
        kind: 'ready',
        record: { ...common, what, northDeg: old.northDeg, eastDeg: old.eastDeg, sigmaDeg: old.sigmaDeg },
      }
    const lean = leanOf(form)
    if (lean === null) return notYet('step')
    if (lean.kind !== 'lean') return notYet('around')
    const raw: Raw = {
      stepDeg: typedOr(form.step, KINDS.step, USUAL_STEP_DEG)!,
      noiseDeg: typedOr(form.noise, KINDS.step, USUAL_NOISE_DEG)!,
      biasDeg: rounded(degFromRad(lean.bias)),
      around: leanReadings(form).map(r => ({
        headingDeg: rounded(degFromRad(r.heading)),
        readingDeg: rounded(degFromRad(r.reading)),
      })),
    }
    const [northDeg, eastDeg] = [rounded(degFromRad(lean.north)), rounded(degFromRad(lean.east))]
    return {
      kind: 'ready',
      record: { ...common, what, northDeg, eastDeg, sigmaDeg: rounded(degFromRad(lean.sigma)), raw },
    }
  }
  const elevation = elevationOf(form, what)
  if (elevation.kind !== 'ready') return elevation
  if (what === 'lower-axis-elevation') return { kind: 'ready', record: { ...common, what, ...elevation.record } }
  const lower = typed(form.lower, readingKind(mount, 'lower'))
  if (lower === null) return notYet('lower')
  if (what === 'upper-axis-elevation') return { kind: 'ready', record: { ...common, what, lower, ...elevation.record } }
  const upper = typed(form.upper, readingKind(mount, 'upper'))
  if (upper === null) return notYet('upper')
  return { kind: 'ready', record: { ...common, what, lower, upper, ...elevation.record } }
}
