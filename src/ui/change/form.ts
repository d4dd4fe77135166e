/**
 * The forms of marks and changes: what was typed, as text, and its reading as a record. Pure: time and ids are handed in.
 */
import { movedBy, type Unknown } from '../../core/level/carryover.ts'
import { POSITIONED } from '../../core/level/positions.ts'
import { unitOf } from '../../core/mount/parameters.ts'
import { round6 } from '../../core/records/digits.ts'
import type {
  Axis,
  ChangeRecord,
  MountRecord,
  PriorRecord,
  ReferenceRecord,
  Visit,
} from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { TYPED } from '../../core/records/ranges.ts'
import type { SolvedParameter } from '../../core/records/solution.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { lengthUnit } from '../kit/format.ts'
import { KINDS } from '../kit/kinds.ts'
import { notYet, type Ready } from '../kit/mount/notyet.ts'
import { lengthKind, type NumberKind, numberOf } from '../kit/numberfield.ts'
import { readingKind } from '../kit/readings.ts'
import { utcOf, utcText } from '../kit/utcfield.ts'

export interface MarkForm {
  axis: Axis
  /** A remembered name, '' for another one, null: not chosen. */
  picked: string | null
  name: string
  reading: string
  visit: Visit | 'between'
  sigma: string
  note: string
  utc: string
}

export const emptyMark = (axis: Axis, names: readonly string[], visit: Visit | 'between', nowMs: number): MarkForm => ({
  axis,
  picked: names[0] ?? '',
  name: '',
  reading: '',
  visit,
  sigma: '',
  note: '',
  utc: utcText(nowMs),
})

export const formOfMark = (mark: ReferenceRecord): MarkForm => ({
  axis: mark.axis,
  picked: mark.mark,
  name: '',
  reading: String(mark.reading),
  visit: mark.visit ?? 'between',
  sigma: mark.sigmaDeg === undefined ? '' : String(mark.sigmaDeg),
  note: mark.note ?? '',
  utc: utcText(instantMs(mark.utc)),
})

/** The reading at a mark that the form says. */
export function markFromForm(
  form: MarkForm,
  mount: MountRecord,
  old: ReferenceRecord | null,
  id: string,
): Ready<ReferenceRecord> {
  const mark = form.picked === null || form.picked === '' ? form.name.trim() : form.picked
  if (mark === '') return notYet('mark')
  const reading = numberOf(form.reading, readingKind(mount, form.axis))
  if (reading === null) return notYet('reading')
  const sigmaDeg = form.sigma.trim() === '' ? undefined : numberOf(form.sigma, KINDS.sigma)
  if (sigmaDeg === null) return notYet('sigma')
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const { sigmaDeg: _, visit: __, note: ___, ...kept } = (old ?? {}) as Partial<ReferenceRecord>
  const record: ReferenceRecord = {
    ...kept,
    id,
    utc,
    axis: form.axis,
    mark,
    reading,
    ...(sigmaDeg !== undefined && { sigmaDeg }),
    ...(form.visit !== 'between' && { visit: form.visit }),
    ...(form.note.trim() !== '' && { note: form.note.trim() }),
  }
  return { kind: 'ready', record }
}

/** Where what moved stands now, by name; and what the place before is called. */
export interface PositionForm {
  /** A name given before; '': another, typed; null: no name. */
  picked: string | null
  name: string
  sigma: string
  before: string
}

const NO_POSITION: PositionForm = { picked: null, name: '', sigma: '', before: '' }

/** A form kept by an earlier version of the program knows no positions. */
export const wholeForm = (kept: ChangeForm): ChangeForm => ({ ...kept, position: kept.position ?? NO_POSITION })

export interface ChangeForm {
  what: string[]
  /** By how much something moved, by `unknownKey`. */
  moved: Readonly<Record<string, { by: string; sigma: string }>>
  /** What the record being edited expects already. */
  expect: PriorRecord[]
  position: PositionForm
  note: string
  utc: string
}

export const unknownKey = (p: Unknown): string => (p.feed === null ? p.id : `${p.id}:${p.feed}`)

/** @param what  what is picked already, from where the person comes */
export const emptyChange = (what: readonly string[], utc: string | undefined, nowMs: number): ChangeForm => {
  const given = utc === undefined ? Number.NaN : instantMs(utc)
  return {
    what: [...what],
    moved: {},
    expect: [],
    position: NO_POSITION,
    note: '',
    utc: utcText(Number.isFinite(given) ? given : nowMs),
  }
}

export const formOfChange = (change: ChangeRecord): ChangeForm => ({
  what: [...change.what],
  moved: {},
  expect: [...(change.expect ?? [])],
  position: change.position
    ? {
        picked: change.position.name,
        name: '',
        sigma: change.position.sigmaDeg === undefined ? '' : String(change.position.sigmaDeg),
        before: change.position.before ?? '',
      }
    : NO_POSITION,
  note: change.note ?? '',
  utc: utcText(instantMs(change.utc)),
})

/** What the two fields take: degrees, or millimetres or inches as the person wants lengths. */
export function movedKinds(p: Unknown): { by: NumberKind; sigma: NumberKind } {
  if (unitOf(p.id) !== 'mm') return { by: KINDS.turn, sigma: KINDS.turnSigma }
  const unit = lengthUnit()
  return { by: lengthKind(unit, TYPED.shiftMm), sigma: lengthKind(unit, TYPED.shiftSigmaMm) }
}

/** True where an amount was begun: then it must be complete. */
export const isMoved = (form: ChangeForm, p: Unknown): boolean => {
  const m = form.moved[unknownKey(p)]
  return m !== undefined && (m.by.trim() !== '' || m.sigma.trim() !== '')
}

/** Where it is expected to stand after the change; null while the amount is incomplete or the value before is not known. */
export function expectedOf(
  form: ChangeForm,
  p: Unknown,
  before: readonly SolvedParameter[] | null,
): PriorRecord | null {
  const m = form.moved[unknownKey(p)]
  const stood = before?.find(s => s.id === p.id && (s.feed ?? null) === p.feed)
  if (m === undefined || stood === undefined) return null
  const kinds = movedKinds(p)
  const [value, sigma] = [numberOf(m.by, kinds.by), numberOf(m.sigma, kinds.sigma)]
  if (value === null || sigma === null) return null
  const scale = kinds.by.unit === 'in' ? MM_PER_INCH : 1
  const after = movedBy(stood, { value: scale * value, sigma: scale * sigma })
  return {
    id: p.id,
    ...(p.feed !== null && { feed: p.feed }),
    value: round6(after.value),
    sigma: round6(after.sigma),
  }
}

/** The name of the position that the form says; null: none. */
export const positionName = ({ what, position: { picked, name } }: ChangeForm): string | null =>
  picked === null || !what.some(w => POSITIONED.includes(w)) ? null : (picked === '' ? name.trim() : picked) || null

function positionFromForm(form: ChangeForm): Ready<NonNullable<ChangeRecord['position']>> | null {
  const { picked, sigma, before } = form.position
  if (picked === null || !form.what.some(w => POSITIONED.includes(w))) return null
  const name = positionName(form)
  if (name === null) return notYet('position')
  const sigmaDeg = sigma.trim() === '' ? undefined : numberOf(sigma, KINDS.sigma)
  if (sigmaDeg === null) return notYet('sigma')
  const was = before.trim()
  return {
    kind: 'ready',
    record: { name, ...(sigmaDeg !== undefined && { sigmaDeg }), ...(was !== '' && was !== name && { before: was }) },
  }
}

/**
 * The change that the form says.
 *
 * @param can     of what restarts, the parameters whose amount can be told
 * @param before  as solved before the change; null: not known
 */
export function changeFromForm(
  form: ChangeForm,
  can: readonly Unknown[],
  before: readonly SolvedParameter[] | null,
  old: ChangeRecord | null,
  id: string,
): Ready<ChangeRecord> {
  if (form.what.length === 0) return notYet('what')
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const fresh: PriorRecord[] = []
  for (const p of can) {
    if (!isMoved(form, p)) continue
    const expected = expectedOf(form, p, before)
    if (expected === null) return notYet('moved')
    fresh.push(expected)
  }
  const position = positionFromForm(form)
  if (position?.kind === 'not-yet') return position
  const keyOf = (e: PriorRecord) => (e.feed === undefined ? e.id : `${e.id}:${e.feed}`)
  const told = new Set(fresh.map(keyOf))
  const expect = [...form.expect.filter(e => !told.has(keyOf(e))), ...fresh]
  const { expect: _, note: __, position: ___, ...kept } = (old ?? {}) as Partial<ChangeRecord>
  const record: ChangeRecord = {
    ...kept,
    id,
    utc,
    what: form.what,
    ...(form.note.trim() !== '' && { note: form.note.trim() }),
    ...(expect.length > 0 && { expect }),
    ...(position && { position: position.record }),
  }
  return { kind: 'ready', record }
}
