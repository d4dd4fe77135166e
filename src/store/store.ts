/**
 * What a store of records does: the database (`records.ts`, `writing.ts`), and what stands in for it (`memorystore.ts`).
 */
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { BackupMark, Kept, KeptCopy, StoreNotice } from './database.ts'
import type { Copied } from './secondcopy.ts'

/** Restore `id` to what it was at `revision`; 0 is before it existed. */
export interface Wanted {
  id: string
  revision: number
  /** The revision that is expected to be the current one; another tab may have gone on. */
  expect?: number
}

/** By a record's id, the revision that the writer takes for the current one; 0: it does not exist yet. */
export type ExpectedRevisions = ReadonlyMap<string, number>

export interface AppendOptions {
  /** 'overtaken' when one is no longer the current one; looked at inside the transaction, so that no other tab can come in between. */
  expected?: ExpectedRevisions
  /** @param share  of the drafts handed to the database, 0 to 1 */
  progress?: (share: number) => void
  /** Aborted: 'stopped', and nothing is written. */
  signal?: AbortSignal
}

export interface Store {
  /** The current revision of every record, tombstones included. */
  load(): Promise<Kept<StoredRecord[]>>
  /**
   * Adds one revision for each draft, all in one transaction. A draft handed in again with the same `writtenMs`
   * (a retry) is not written twice. Many drafts are written piece by piece, so that the page stays responsive.
   * @throws RangeError  a body that is not plain JSON
   */
  append(drafts: readonly Draft[], options?: AppendOptions): Promise<Kept<StoredRecord[]>>
  /** Undo: new revisions with old bodies. 'overtaken' when an expected revision is no longer the current one. */
  restore(wanted: readonly Wanted[]): Promise<Kept<StoredRecord[] | 'overtaken'>>
  /** Every revision of one record, oldest first. */
  history(id: string): Promise<Kept<StoredRecord[]>>
  /** Tombstones for a station and all that belongs to it; in the same transaction its exported copy is kept. */
  deleteStation(station: string, copy: { name: string; text: string } | null): Promise<Kept<StoredRecord[]>>
  keptCopies(): Promise<Kept<KeptCopy[]>>
  marks(): Promise<Kept<BackupMark[]>>
  putMarks(marks: readonly BackupMark[]): Promise<Kept<void>>
  /** Reads one key: finds a cut connection before the person does. Call it when the page comes back. */
  probe(): Promise<Kept<void>>
  /** All that the second copy holds, every revision; null where the browser cannot have one. */
  copied(): Promise<Copied | null>
  /** Writes into the second copy alone. False when it could not. */
  keepCopy?(written: Copied): Promise<boolean>
  /** Brings database and second copy level, once more in this session; does not report what came back. */
  level(): Promise<Kept<void>>
  /** Deletes the database and makes it again from the second copy. The old one is gone even where this fails later. */
  remake(): Promise<Kept<void>>
  /** Called when another tab has written. Returns the way to stop. */
  onChanged(listener: () => void): () => void
  onTold(listener: (what: StoreNotice) => void): () => void
  close(): void
}

/** All revisions of one record. */
export const revisionsOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY])
