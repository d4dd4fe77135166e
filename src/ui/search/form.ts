/** Where a search stands, and what the screen makes of it. Pure. */
import type { FirstSearchJson } from '../../core/plan/firstsearchjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type NumberKind, numberOr } from '../kit/numberfield.ts'

export interface SearchForm {
  /** When it began; '': not yet. */
  startedUtc: string
  feed: string
  /** Which of the steps within the limits, from 0; as many as there are: all done. */
  at: number
  /** As typed: seconds for a step. */
  seconds: string
  /** The sighting that it made; '': none yet. */
  heard: string
}

export interface SearchProps {
  station: StationRecord
  form: SearchForm
  set: (change: Partial<SearchForm>) => void
}
export interface PlannedProps extends SearchProps {
  plan: FirstSearchJson
  feed: string
}

export const emptySearch = (): SearchForm => ({ startedUtc: '', feed: '', at: 0, seconds: '', heard: '' })

export const SECONDS_KIND = { form: 'number', unit: 's', min: 1, max: 3600 } as const satisfies NumberKind
export const USUAL_SECONDS = 20
export const secondsOf = (form: SearchForm): number =>
  numberOr(form.seconds, SECONDS_KIND, USUAL_SECONDS) ?? USUAL_SECONDS

/** Indices of the steps within the limits, in order. */
export const stepsInside = (plan: FirstSearchJson): number[] => plan.steps.flatMap((s, k) => (s.inside ? [k] : []))

/** With this many steps it pays to turn the dish nearer by other means first. */
const MANY = 150
export const isLong = (plan: FirstSearchJson): boolean => plan.isCircle || stepsInside(plan).length > MANY

/** A book that was changed meanwhile may leave fewer steps. */
export const presentStep = (form: SearchForm, steps: readonly number[]): number | null =>
  steps[Math.max(0, form.at)] ?? null
