/** The form of a feed that was moved: how far and which way as it was done, millimetres as seen from behind. Pure. */
import { MM_PER_INCH } from '../../core/units.ts'
import type { LengthUnit } from '../kit/format.ts'
import { KINDS } from '../kit/kinds.ts'
import { numberOf, typedNumber } from '../kit/numberfield.ts'
import { parseUtc } from '../kit/utcfield.ts'

export interface MovedForm {
  across: string
  side: '' | 'left' | 'right'
  along: string
  way: '' | 'up' | 'down'
  utc: string
  note: string
}

type ReadMoved =
  | { kind: 'ready'; rightMm: number; upMm: number; utc: string }
  | { kind: 'not-yet'; why: 'amount' | 'side' | 'way' | 'time' }

export function readMoved(form: MovedForm, unit: LengthUnit): ReadMoved {
  const [across, along] = [numberOf(form.across, KINDS[unit]), numberOf(form.along, KINDS[unit])]
  if (across === null || along === null || (across === 0 && along === 0)) return { kind: 'not-yet', why: 'amount' }
  if (across !== 0 && form.side === '') return { kind: 'not-yet', why: 'side' }
  if (along !== 0 && form.way === '') return { kind: 'not-yet', why: 'way' }
  const at = parseUtc(form.utc)
  if (at.kind !== 'value') return { kind: 'not-yet', why: 'time' }
  const k = unit === 'mm' ? 1 : MM_PER_INCH
  return {
    kind: 'ready',
    rightMm: across === 0 ? 0 : k * (form.side === 'left' ? -across : across),
    upMm: along === 0 ? 0 : k * (form.way === 'down' ? -along : along),
    utc: new Date(at.utcMs).toISOString(),
  }
}

/** The fields of a move as advised: whole millimetres, or hundredths of an inch. */
export function fieldsOfMove(
  move: { rightMm: number; upMm: number },
  unit: LengthUnit,
): Pick<MovedForm, 'across' | 'side' | 'along' | 'way'> {
  const size = (mm: number) =>
    unit === 'mm' ? Math.round(Math.abs(mm)) : Number((Math.abs(mm) / MM_PER_INCH).toFixed(2))
  const [across, along] = [size(move.rightMm), size(move.upMm)]
  return {
    across: typedNumber(across),
    side: across === 0 ? '' : move.rightMm < 0 ? 'left' : 'right',
    along: typedNumber(along),
    way: along === 0 ? '' : move.upMm < 0 ? 'down' : 'up',
  }
}
