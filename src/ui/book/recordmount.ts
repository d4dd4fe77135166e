/** The mount that a record belongs to, for the names of its axes. */
import type { FieldBook, MountRecord } from '../../core/records/fieldbook.ts'
import type { Draft } from '../../core/records/stored.ts'
import { fieldBook } from '../../state/book.ts'
import { MOUNT_WORDS } from '../kit/phrases.ts'

const mountIn = (body: unknown): MountRecord | null => {
  const mount = (body as { mount?: { kind?: unknown } } | null)?.mount
  return typeof mount?.kind === 'string' && Object.hasOwn(MOUNT_WORDS, mount.kind) ? (mount as MountRecord) : null
}

/**
 * Also of a deleted station. null where no station of it is known.
 *
 * @param incoming  a book that is looked at: its stations may be new
 */
export function mountOf(record: Pick<Draft, 'kind' | 'station' | 'body'>, incoming?: FieldBook): MountRecord | null {
  if (record.kind === 'station') return mountIn(record.body)
  const kept = fieldBook.records.value.find(r => r.kind === 'station' && r.station === record.station)
  return mountIn(kept?.body) ?? mountIn(incoming?.stations.find(s => s.id === record.station))
}
