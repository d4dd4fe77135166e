/**
 * The station that is being written: kept as typed, also over a reload or an incoming call, until it is saved or
 * discarded. Not a record: nothing is stored in the book before it is valid.
 */
import { signal } from '@preact/signals'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook, newId, recordOf } from '../../state/book.ts'
import { remember, remembered } from '../../state/memory.ts'
import { units } from '../../state/settings.ts'
import { formFrom, type StationForm, withText } from './form.ts'
import { STATION } from './words.ts'

export interface StationDraft {
  /** Id of the station: an existing one's, or that of the one to be made. */
  id: string
  isNew: boolean
  form: StationForm
  /** The revision of the station that it was opened on; 0: none. Drafts of older versions have none. */
  base?: number
  /** The review was looked at: its lines lead back to it. */
  seen?: boolean
  /** Something was typed since it was opened. */
  touched: boolean
}

const KEY = 'moonplumb.station-draft'

function read(): StationDraft | null {
  try {
    const draft = JSON.parse(remembered(KEY) ?? 'null') as StationDraft | null
    return draft && typeof draft.id === 'string' && draft.form?.texts && draft.form.rows?.priors ? draft : null
  } catch {
    return null
  }
}

const kept = signal<StationDraft | null>(read())

function set(draft: StationDraft | null): void {
  kept.value = draft
  remember(KEY, draft === null ? null : JSON.stringify(draft))
}

/** The draft of that station; a fresh one if there is none. Reading it in a component subscribes to it. */
export function draftFor(station: StationRecord | null): StationDraft {
  const draft = kept.value
  if (draft && (station === null ? draft.isNew : draft.id === station.id)) return draft
  return freshDraft(station)
}

/** A name that no other station has, to begin with. */
function named(form: StationForm): StationForm {
  const taken = new Set(fieldBook.stations.peek().map(s => s.name))
  let name: string = STATION.nameless
  for (let n = 2; taken.has(name); n++) name = `${STATION.nameless} ${n}`
  return withText(form, 'name', name)
}

const fresh = new Map<string, StationDraft>()
/** Made once, so that looking at it changes nothing. */
function freshDraft(station: StationRecord | null): StationDraft {
  const key = station ? `${station.id} ${JSON.stringify(station)} ${units.value}` : `new ${units.value}`
  const known = fresh.get(key)
  if (known) return known
  const draft: StationDraft = {
    id: station?.id ?? newId(),
    isNew: station === null,
    base: station === null ? 0 : (recordOf(fieldBook, 'station', station.id)?.revision ?? 0),
    form: station === null ? named(formFrom(null, units.value === 'inch')) : formFrom(station, units.value === 'inch'),
    touched: false,
  }
  fresh.clear()
  fresh.set(key, draft)
  return draft
}

/** From now on every line of the review leads back to it. */
export const noteSeen = (draft: StationDraft): void => {
  if (!draft.seen) set({ ...draft, seen: true })
}

export const writeDraft = (draft: StationDraft, form: StationForm): void => set({ ...draft, form, touched: true })

export function dropDraft(): void {
  fresh.clear()
  set(null)
}
