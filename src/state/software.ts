/** What can be told to tracking software, with the counts tables of the axes that count; asked while it is watched. */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { CountsTable } from '../core/export/countstable.ts'
import type { SoftwareAnswer } from '../core/export/software.ts'
import type { Axis, StationRecord } from '../core/records/fieldbook.ts'
import { ask, soundValue, type Told, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

interface SoftwareNow extends SoftwareAnswer {
  /** Of the axes that count, lower first. */
  tables: CountsTable[]
}

/** About so many rows: every 50 counts of a usual jack. */
const ROWS = 20
const AXES: readonly Axis[] = ['lower', 'upper']

async function askAll(station: StationRecord, about: { feed: string }): Promise<Told<SoftwareNow>> {
  const told = await ask(station, 'software', about)
  if (told?.kind !== 'told') return told
  const tables: CountsTable[] = []
  for (const axis of AXES) {
    const one = await ask(station, 'countsTable', { ...about, axis, rows: ROWS }, { topic: `countsTable ${axis}` })
    if (one?.kind !== 'told') return one
    if (one.value !== null) tables.push(one.value)
  }
  return { kind: 'told', value: { ...told.value, tables } }
}

const asked = watched({ about: station => ({ feed: feedHere(station) }), ask: askAll, ageMs: 600_000 })

export const software: ReadonlySignal<SoftwareNow | null> = computed(() => soundValue(asked.held.value))
