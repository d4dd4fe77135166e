/** What is typed to describe an adjuster, and its reading as a record. Pure. */
import { entryOf, isOfKind, PARAMETER_IDS, type ParameterId, unitOf } from '../../core/mount/parameters.ts'
import type { AdjustedBy, AdjusterRecord } from '../../core/records/adjusters.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { TYPED } from '../../core/records/ranges.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import type { LengthUnit } from '../kit/format.ts'
import { lengthKind, type NumberKind, numberOf, typedNumber } from '../kit/numberfield.ts'

export interface AdjusterForm {
  name: string
  turns: ParameterId | ''
  by: AdjustedBy | ''
  arm: string
  pitch: string
  plus: string
  note: string
}

export const adjusterKinds = (unit: LengthUnit): { arm: NumberKind; pitch: NumberKind } => ({
  arm: lengthKind(unit, TYPED.armMm),
  pitch: lengthKind(unit, TYPED.pitchMm),
})

const shown = (mm: number | undefined, unit: LengthUnit): string =>
  mm === undefined ? '' : typedNumber(unit === 'mm' ? mm : Number((mm / MM_PER_INCH).toPrecision(6)))

export const adjusterForm = (old: AdjusterRecord | null, unit: LengthUnit): AdjusterForm => ({
  name: old?.name ?? '',
  turns: old?.turns ?? '',
  by: old?.by ?? '',
  arm: shown(old?.armMm, unit),
  pitch: shown(old?.pitchMm, unit),
  plus: old?.plus ?? '',
  note: old?.note ?? '',
})

/** What an adjuster can turn at this mount: what a spanner reaches, and the zeros of the readings. A feed has a screen of its own. */
export const adjustable = (mount: MountRecord, also: ParameterId | ''): ParameterId[] =>
  PARAMETER_IDS.filter(id => {
    const { back, family } = entryOf(id)
    const isOne = unitOf(id) === 'deg' && family !== 'tube' && (back !== undefined || family === 'zero')
    return id === also || (isOne && isOfKind(id, mount.kind))
  })

export type AdjusterMissing = 'name' | 'turns' | 'by' | 'arm' | 'pitch'
type AdjusterRead = { kind: 'ready'; record: AdjusterRecord } | { kind: 'not-yet'; why: AdjusterMissing }
const notYet = (why: AdjusterMissing): AdjusterRead => ({ kind: 'not-yet', why })

/** The adjuster that a form says; what else the record has is kept, and so is a length that was not touched. */
export function adjusterOf(form: AdjusterForm, unit: LengthUnit, old: AdjusterRecord | null, id: string): AdjusterRead {
  const kinds = adjusterKinds(unit)
  const lengthOf = (text: string, kind: NumberKind, before: number | undefined): number | null => {
    if (before !== undefined && text === shown(before, unit)) return before
    const value = numberOf(text, kind)
    return value === null ? null : unit === 'mm' ? value : value * MM_PER_INCH
  }
  const name = form.name.trim()
  if (name === '') return notYet('name')
  if (form.turns === '') return notYet('turns')
  if (form.by === '') return notYet('by')
  const armMm = lengthOf(form.arm, kinds.arm, old?.armMm)
  if (armMm === null) return notYet('arm')
  const hasPitch = form.by === 'screw' && form.pitch.trim() !== ''
  const pitchMm = hasPitch ? lengthOf(form.pitch, kinds.pitch, old?.pitchMm) : undefined
  if (pitchMm === null) return notYet('pitch')
  const { pitchMm: _, plus: __, note: ___, ...kept } = (old ?? {}) as Partial<AdjusterRecord>
  const [plus, note] = [form.plus.trim(), form.note.trim()]
  const record: AdjusterRecord = {
    ...kept,
    ...{ id, name, turns: form.turns, by: form.by, armMm },
    ...(pitchMm !== undefined && { pitchMm }),
    ...(plus !== '' && { plus }),
    ...(note !== '' && { note }),
  }
  return { kind: 'ready', record }
}
