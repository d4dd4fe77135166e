/**
 * A store in memory, for when the database does not open: it begins with what the second copy held and does everything that the
 * real one does. Each write goes into the second copy too, if there is one; without it nothing outlives the page.
 */
import { currentWithHistory, madeAfter, madeOnUndo, withHistory } from '../core/records/revisions.ts'
import { type Draft, type StoredRecord, sameJson } from '../core/records/stored.ts'
import type { BackupMark, Kept, KeptCopy } from './database.ts'
import type { Copied } from './secondcopy.ts'
import type { ExpectedRevisions, Store } from './store.ts'

export interface MemoryStore extends Store {
  /** What was written since, oldest first: it goes into the database when that opens. */
  writtenHere(): readonly StoredRecord[]
}

interface MemoryOptions {
  app: string
  clock?: () => number
  /** What it begins with. */
  from: Copied
  /** Writes into the second copy; false when that did not work, and then nothing was written. Left out: there is none. */
  keep?: (written: Copied) => Promise<boolean>
}

export function openMemoryStore(options: MemoryOptions): MemoryStore {
  const clock = options.clock ?? (() => Date.now())
  const all = new Map<string, StoredRecord[]>()
  const written: StoredRecord[] = []
  let copies: readonly KeptCopy[] = options.from.copies.map((copy, key) => ({ ...copy, key }))
  const marks = new Map<string, BackupMark>()
  const put = (record: StoredRecord) => {
    const revisions = all.get(record.id)
    if (revisions) revisions.push(record)
    else all.set(record.id, [record])
  }
  for (const record of [...options.from.records].sort((a, b) => a.revision - b.revision)) put(record)
  const last = (id: string): StoredRecord | undefined => {
    const revisions = all.get(id)
    return revisions && withHistory(revisions)
  }
  const done = <T>(value: T): Kept<T> => ({ kind: 'done', value })

  async function commit(
    records: readonly StoredRecord[],
    fresh: readonly KeptCopy[] = [],
  ): Promise<Kept<StoredRecord[]>> {
    const news = records.filter(record => (last(record.id)?.revision ?? 0) < record.revision)
    if (options.keep && news.length + fresh.length > 0 && !(await options.keep({ records: news, copies: fresh })))
      return { kind: 'unavailable', message: 'the second copy could not be written' }
    for (const record of news) put(record)
    written.push(...news)
    copies = [...copies, ...fresh.map((copy, index) => ({ ...copy, key: copies.length + index }))]
    return done([...records])
  }

  /** The next revision of each; a retry of a draft that is there already gives the one that is there. */
  function following(drafts: readonly Draft[], nowMs: number): StoredRecord[] {
    const latest = new Map<string, StoredRecord>()
    return drafts.map(draft => {
      const before = latest.get(draft.id) ?? last(draft.id)
      const [deleted, writtenMs] = [draft.deleted ?? false, draft.writtenMs ?? nowMs]
      if (before && before.writtenMs === writtenMs && before.deleted === deleted && sameJson(before.body, draft.body))
        return before
      const { id, kind, station, body } = draft
      const place = draft.place ?? before?.place ?? 0
      const revision = (before?.revision ?? 0) + 1
      const made = draft.made ?? madeAfter(before, draft)
      const record: StoredRecord = {
        id,
        revision,
        kind,
        station,
        deleted,
        place,
        body,
        writtenMs,
        app: options.app,
        ...(made && { made }),
        ...(draft.arrived && { arrived: true }),
      }
      latest.set(id, record)
      return record
    })
  }

  const isOvertaken = (expected: ExpectedRevisions): boolean =>
    [...expected].some(([id, revision]) => (last(id)?.revision ?? 0) !== revision)

  return {
    load: async () => done(currentWithHistory([...all.values()].flat())),
    async append(drafts, { expected, signal } = {}) {
      if (signal?.aborted) return { kind: 'stopped', message: 'stopped' }
      // In this page alone, so only a form that was opened on an older revision can be overtaken.
      if (expected && isOvertaken(expected)) return { kind: 'overtaken', message: 'changed since' }
      return commit(following(drafts, clock()))
    },
    async restore(wanted) {
      const nowMs = clock()
      if (wanted.some(({ id, expect }) => expect !== undefined && last(id)?.revision !== expect))
        return done('overtaken')
      const drafts = wanted.map(({ id, revision }): Draft => {
        const old = revision > 0 ? all.get(id)?.find(record => record.revision === revision) : undefined
        const now = last(id)
        if (!now || (revision > 0 && !old))
          throw new RangeError(`restore: must be a stored revision, got ${id} revision ${revision}`)
        const { made: _, arrived: __, ...draft } = now
        const made = madeOnUndo(now, old)
        return {
          ...draft,
          body: (old ?? now).body,
          deleted: old ? old.deleted : true,
          writtenMs: nowMs,
          ...(made && { made }),
        }
      })
      return commit(following(drafts, nowMs))
    },
    history: async id => done([...(all.get(id) ?? [])]),
    async deleteStation(station, copy) {
      const nowMs = clock()
      const alive = currentWithHistory([...all.values()].flat()).filter(r => r.station === station && !r.deleted)
      const kept = copy && alive.length > 0 ? [{ station, name: copy.name, madeMs: nowMs, text: copy.text }] : []
      const drafts = alive.map(({ made: _, arrived: __, ...record }) => ({
        ...record,
        deleted: true,
        writtenMs: nowMs,
      }))
      return commit(following(drafts, nowMs), kept)
    },
    keptCopies: async () => done([...copies]),
    marks: async () => done([...marks.values()]),
    async putMarks(fresh) {
      for (const mark of fresh) marks.set(mark.key, mark)
      return done(undefined)
    },
    probe: async () => done(undefined),
    copied: async () => null,
    level: async () => done(undefined),
    remake: async () => ({ kind: 'unavailable', message: 'no database' }),
    onChanged: () => () => {},
    onTold: () => () => {},
    close: () => {},
    writtenHere: () => written,
  }
}
