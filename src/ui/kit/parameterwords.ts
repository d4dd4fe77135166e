/** A parameter of the mount in plain words, with the feed that it belongs to: the words are the table's (core/mount/parametertable.ts). */
import { type Subject, subjectOf } from '../../core/mount/parameters.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'

/** What is off, and what its two directions are called. @param feed  its name, where the parameter is a feed's own */
export function subjectWords(
  id: string,
  mount: Pick<MountRecord, 'kind'>,
  latDeg: number,
  feed: string | null,
): Subject {
  const { what, senses } = subjectOf(id, { kind: mount.kind, latitude: latDeg })
  return { what: feed === null ? what : `${what} (${feed})`, senses }
}
