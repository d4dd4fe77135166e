/**
 * Named positions: where a clamp or a stop has stood, by the name that a change gave it. Coming back to a name starts from what was known
 * there (`fit/parameters.ts` ties the visits). Records in, names out.
 */
import type { ChangeRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'

/** What can stand at a position that can be met again: angles, not lengths. */
export const POSITIONED: readonly string[] = ['lower-axis', 'lower-zero', 'upper-zero', 'dish']

const concerns = (change: Pick<ChangeRecord, 'what'>, what: readonly string[]): boolean =>
  change.what.some(w => w === 'all' || what.includes(w))

const inOrder = (record: StationRecord, what: readonly string[], except?: string): ChangeRecord[] =>
  (record.changes ?? [])
    .filter(c => c.id !== except && concerns(c, what))
    .sort((a, b) => msFromUtc(a.utc) - msFromUtc(b.utc))

/** Every name at which something that a change of `what` moves has stood, the latest first. @param except  id of a change to leave out */
export function positionNames(record: StationRecord, what: readonly string[], except?: string): string[] {
  const names = inOrder(record, what, except).flatMap(({ position }) =>
    position ? [...(position.before === undefined ? [] : [position.before]), position.name] : [],
  )
  return [...new Set(names.reverse())]
}

/** The name of where it stands just before an instant; null: it has none yet. */
export function standsAt(
  record: StationRecord,
  what: readonly string[],
  utcMs: number,
  except?: string,
): string | null {
  const changes = inOrder(record, what, except)
  const last = changes.filter(c => msFromUtc(c.utc) < utcMs).at(-1)
  const next = changes.find(c => msFromUtc(c.utc) >= utcMs)
  return last?.position?.name ?? next?.position?.before ?? null
}
