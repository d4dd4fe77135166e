/**
 * The demo station: an invented scenario, fetched from the app's own cache and kept like any other station. What a person
 * altered or deleted in it is not overwritten unasked.
 */
import { type StoredRecord, sameJson } from '../core/records/stored.ts'
import { type BookModel, fieldBook } from './book.ts'
import { importAtOnce, type Plan, planOfText } from './import.ts'

/** The file of the demo station; null when it cannot be had. */
export async function demoText(): Promise<string | null> {
  try {
    const answer = await fetch('./demo.fieldbook.json')
    return answer.ok ? await answer.text() : null
  } catch {
    return null
  }
}

/** Whether restoring the demo would overwrite something that a person did in it. */
export function hasOwnWork(plan: Plan, current: readonly StoredRecord[]): boolean {
  const stations = new Set(plan.book.stations.map(s => s.id))
  // Deleted whole, it is restored whole; a single deleted record stays deleted unless the person says otherwise.
  const isThrownAway = current.some(r => r.kind === 'station' && stations.has(r.station ?? '') && r.deleted)
  return (
    plan.conflicts.length > 0 ||
    plan.updated.length > 0 ||
    plan.together.length > 0 ||
    plan.deletedHere.some(({ mine, theirs }) => !isThrownAway || !sameJson(mine.body, theirs.body, 'revision'))
  )
}

type DemoOpened = 'open' | 'failed' | 'ask'

/** Imports the demo station and shows it; 'ask' where the person must choose first. */
export async function openDemo(book: BookModel = fieldBook): Promise<DemoOpened> {
  const text = await demoText()
  if (text === null) return 'failed'
  const current = book.records.value
  const looked = planOfText(current, text)
  if (looked.kind === 'refused') return 'failed'
  const { plan } = looked
  if (hasOwnWork(plan, current)) return 'ask'
  const choices = { sides: {}, deleted: 'back' } as const
  const { id } = plan.book.stations[0]!
  if (!(await importAtOnce(plan, choices, { kind: 'open-demo', place: 'book', subject: { station: id } }, book)))
    return 'failed'
  book.chooseStation(id)
  return 'open'
}
