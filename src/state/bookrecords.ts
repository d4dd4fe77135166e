/** The current revisions, as the page knows them. An older revision never replaces a newer one. */
import { computed, type ReadonlySignal, signal } from '@preact/signals'
import type { StoredRecord } from '../core/records/stored.ts'

/** Records handled at a time when there are very many; the page can run in between. */
const PIECE = 5000
export const isPieceDone = (index: number): boolean => index % PIECE === PIECE - 1
export const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))

export interface BookRecords {
  /** Tombstones included. */
  records: ReadonlySignal<readonly StoredRecord[]>
  /** Without subscribing. */
  known(id: string): StoredRecord | undefined
  /** The revision of a record; 0 where there is none. */
  revisionKnown(id: string): number
  /** Takes in what was read or written. */
  takeIn(fresh: readonly StoredRecord[]): void
  /** For very many: takes them in beforehand, piece by piece, so that the page stays responsive and `takeIn` has little to do. */
  prepare(fresh: readonly StoredRecord[]): Promise<void>
  /** Replaces all records by these. */
  replaceAll(fresh: readonly StoredRecord[]): void
}

export function createBookRecords(): BookRecords {
  const byId = signal<ReadonlyMap<string, StoredRecord>>(new Map())
  const revisionIn = (map: ReadonlyMap<string, StoredRecord>, id: string) => map.get(id)?.revision ?? 0
  return {
    records: computed(() => [...byId.value.values()]),
    known: id => byId.peek().get(id),
    revisionKnown: id => revisionIn(byId.peek(), id),
    takeIn(fresh) {
      const known = byId.peek()
      const news = fresh.filter(record => record.revision > revisionIn(known, record.id))
      if (news.length === 0) return // nothing is computed again
      const next = new Map(known)
      for (const record of news) if (record.revision > revisionIn(next, record.id)) next.set(record.id, record)
      byId.value = next
    },
    async prepare(fresh) {
      if (fresh.length <= PIECE) return
      const known = byId.peek()
      const next = new Map(known)
      for (const [index, record] of fresh.entries()) {
        if (record.revision > revisionIn(next, record.id)) next.set(record.id, record)
        if (isPieceDone(index)) await aMoment()
      }
      if (byId.peek() === known) byId.value = next // else something else was written meanwhile: `takeIn` has it all
    },
    replaceAll(fresh) {
      byId.value = new Map(fresh.map(record => [record.id, record]))
    },
  }
}
