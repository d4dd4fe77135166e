/** What is typed here: the step of a table, and what a program shows at the check points; and the question they make. Pure. */
import type { ShownOutput } from '../../core/carry/carriedcheck.ts'
import type { CheckTarget, TargetsWish } from '../../core/carry/checktargets.ts'
import type { CarryWish } from '../../core/carry/numbers.ts'
import type { CarryPage } from '../../core/carry/page.ts'
import { AXES, type Axis } from '../../core/mount/names.ts'
import { type NumberKind, numberOf } from '../kit/numberfield.ts'
import { utcOf } from '../kit/utcfield.ts'

/** Degrees of angle for a command; the unit of the reading for a reading. */
const stepUnit = ({ way, unit }: Pick<CarryWish, 'way' | 'unit'>): 'counts' | '°' =>
  way === 'reading' && unit === 'counts' ? 'counts' : '°'

export const STEP_KIND = (wish: Pick<CarryWish, 'way' | 'unit'>): NumberKind =>
  stepUnit(wish) === 'counts'
    ? { form: 'number', unit: 'counts', min: 1, max: 10_000 }
    : { form: 'number', unit: '°', min: 0.5, max: 30 }

export const outputStepWords = (wish: Pick<CarryWish, 'way' | 'unit'>): string =>
  stepUnit(wish) === 'counts'
    ? 'Counts from row to row. The error of straight lines between rows is counted in what the page leaves.'
    : 'Degrees from row to row. The error of straight lines between rows is counted in what the page leaves.'

export interface TypedTarget {
  target: CheckTarget['target']
  azDeg: number
  elDeg: number
  utc: string
  lower: string
  upper: string
}

export interface CheckForm {
  wish: TargetsWish
  /** Of which page the targets are. */
  page: string
  targets: TypedTarget[]
  isOpen: boolean
}

/** Tells one page from another. */
export const pageKey = (page: CarryPage): string =>
  JSON.stringify([page.madeUtc, page.feed.id, page.wish, page.numbers.map(n => n.text)])

export const emptyCheck = (): CheckForm => ({ wish: 'any', page: '', targets: [], isOpen: true })

export const typedTarget = ({ target, azDeg, elDeg }: CheckTarget): TypedTarget => ({
  target,
  azDeg,
  elDeg,
  utc: '',
  lower: '',
  upper: '',
})

export const outputKind = (page: CarryPage, axis: Axis): NumberKind =>
  page.axes[axis].unit === 'counts' ? { form: 'count', unit: 'counts' } : { form: 'angle', min: -720, max: 720 }

/** Decimals that were typed. */
const outputDecimals = (text: string): number => /[.,](\d+)\s*\D*$/.exec(text.trim())?.[1]?.length ?? 0

export const isEmpty = (t: TypedTarget): boolean => t.lower.trim() === '' && t.upper.trim() === ''

/** What moves needs a time; a direction typed into the program does not. */
export const needsTime = (t: TypedTarget): boolean => t.target.type !== 'landmark'

/** What was typed for a target; null where something is missing or cannot be read. */
export function readTarget(t: TypedTarget, page: CarryPage, nowUtc: string): ShownOutput | null {
  const lower = numberOf(t.lower, outputKind(page, 'lower'))
  const upper = numberOf(t.upper, outputKind(page, 'upper'))
  const utc = needsTime(t) ? utcOf(t.utc, null) : nowUtc
  return lower === null || upper === null || utc === null
    ? null
    : {
        utc,
        target: t.target,
        lower,
        upper,
        decimals: { lower: outputDecimals(t.lower), upper: outputDecimals(t.upper) },
      }
}

/** All that was typed; null where one is half typed, or none is whole. */
export function readCheck(form: CheckForm, page: CarryPage, nowUtc: string): ShownOutput[] | null {
  const begun = form.targets.filter(t => !isEmpty(t))
  const read = begun.map(t => readTarget(t, page, nowUtc))
  return read.length === 0 || read.includes(null) ? null : (read as ShownOutput[])
}

/** Whether an axis in degrees was typed with fewer than two decimals throughout. */
export const isCoarse = (typed: readonly ShownOutput[], page: CarryPage): boolean =>
  AXES.some(axis => page.axes[axis].unit === 'degrees' && typed.every(t => t.decimals[axis] < 2))
