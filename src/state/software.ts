/** What can be told to tracking software, with the counts tables of the axes that count; asked while it is watched. */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { CountsTable } from '../core/export/countstable.ts'
import type { SoftwareAnswer } from '../core/export/software.ts'
import type { Answer } from '../core/records/answer.ts'
import type { Axis, FieldBook } from '../core/records/fieldbook.ts'
import { type Asked, ask } from '../worker/ask.ts'
import { watchedQuestion } from './sky.ts'

export interface SoftwareNow extends SoftwareAnswer {
  /** Of the axes that count, lower first. */
  tables: CountsTable[]
}

/** About so many rows: every 50 counts of a usual jack. */
const ROWS = 20
const AXES: readonly Axis[] = ['lower', 'upper']

async function askAll(book: FieldBook, about: { now: string; feed: string }): Promise<Asked<Answer<SoftwareNow>>> {
  const asked = await ask('software', [book, about])
  if (asked.kind !== 'answer' || !asked.value.ok) return asked as Asked<Answer<SoftwareNow>>
  const tables: CountsTable[] = []
  for (const axis of AXES) {
    const one = await ask('countsTable', [book, { ...about, axis, rows: ROWS }], `countsTable ${axis}`)
    if (one.kind !== 'answer') return one
    if (!one.value.ok) return { kind: 'answer', value: one.value }
    if (one.value.value !== null) tables.push(one.value.value)
  }
  return { kind: 'answer', value: { ok: true, value: { ...asked.value.value, tables } } }
}

export const software: ReadonlySignal<SoftwareNow | null> = (() => {
  const held = watchedQuestion<SoftwareNow>(askAll, 600_000)
  return computed(() => held.value.value)
})()
