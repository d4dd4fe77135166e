/** What the book offers to the screens and to the other models of this floor: its signals and its acts, as types. */
import type { ReadonlySignal } from '@preact/signals'
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { BackupNeed } from '../store/backup.ts'
import type { BackupMark, Kept, KeptCopy, StoreFailure, StoreNotice } from '../store/database.ts'
import type { AppendOptions } from '../store/records.ts'
import type { Unsaved } from './outbox.ts'
import type { UndoStep } from './steps.ts'
import type { StepAt } from './undosteps.ts'

export type Status = { kind: 'loading' } | { kind: 'ready' }
/** Where the book is read from and written to. */
export type Standing =
  | { kind: 'database' }
  /** The database does not open: the second copy alone, which is written as well. */
  | { kind: 'copy'; failure: StoreFailure; records: number }
  /** Neither opens: this page's memory, lost with the page. */
  | { kind: 'memory'; failure: StoreFailure }
export type SaveState =
  | { kind: 'idle' }
  | { kind: 'saving' }
  /** On the medium: show the tick now, not before. */
  | { kind: 'saved'; atMs: number }
  | { kind: 'unsaved'; failure: StoreFailure }

export type Undone = Kept<StoredRecord[]> | { kind: 'nothing' } | { kind: 'overtaken' }

/** A newer revision exists than the one that a form was opened on. */
export interface Clash {
  step: UndoStep
  mine: readonly Draft[]
  /** The records as they are now. */
  theirs: readonly StoredRecord[]
  /** mine: written as a further revision; theirs: nothing is written, and the act counts as done; back: to the form. */
  answer: (choice: 'mine' | 'theirs' | 'back') => void
}

export interface KeepOptions extends Omit<AppendOptions, 'expected'> {
  /** The rules were checked already. */
  checked?: boolean
  /**
   * Shown before it is on the medium, and no form holds it: it is in the outbox before this returns, so that a page that is loaded
   * again at that point writes it. For few records.
   */
  atOnce?: boolean
}

/** Which rules of the field book a write would break. */
export type Rules = (
  current: readonly StoredRecord[],
  drafts: readonly Draft[],
  step: UndoStep | null,
) => Promise<readonly Fault[]>

export interface BookModel {
  status: ReadonlySignal<Status>
  standing: ReadonlySignal<Standing>
  /** A newer version in another tab has taken over the database: this page can keep nothing more. */
  isTakenOver: ReadonlySignal<boolean>
  /** What the person must decide before it is written. */
  clash: ReadonlySignal<Clash | null>
  /** Current revisions, tombstones included. */
  records: ReadonlySignal<readonly StoredRecord[]>
  book: ReadonlySignal<FieldBook>
  stations: ReadonlySignal<readonly StationRecord[]>
  stationId: ReadonlySignal<string | null>
  station: ReadonlySignal<StationRecord | null>
  saving: ReadonlySignal<SaveState>
  unsaved: ReadonlySignal<readonly Unsaved[]>
  /** On its way to the medium now: what was kept `atOnce` or is being retried. */
  underWay: ReadonlySignal<readonly Unsaved[]>
  /** The step that `undo` would undo. */
  undoable: ReadonlySignal<UndoStep | null>
  /** The same, with the stations that it affects. */
  undoAt: ReadonlySignal<StepAt | null>
  /** The step that `redo` would redo. */
  redoAt: ReadonlySignal<StepAt | null>
  backups: ReadonlySignal<readonly BackupNeed[]>
  /** The last thing the database had to say: blocked, closed for a newer tab, dropped, reopened. */
  told: ReadonlySignal<StoreNotice | null>
  /** The browser had lost the book, and it was restored from the second copy; the person has not confirmed the notice yet. */
  putBack: ReadonlySignal<boolean>
  seePutBack(): void

  load(): Promise<Kept<void>>
  /** Opens the database once more, and writes into it what was entered meanwhile. */
  tryAgain(): Promise<Kept<void>>
  /** Deletes the database and makes it again from the second copy. */
  remake(): Promise<Kept<void>>
  chooseStation(id: string | null): void
  /** A form was opened on that revision of a record (0: none yet); returns the way to close it. */
  openForm(id: string, revision: number): () => void
  /**
   * The one way into the book, for every form and every act: drafts that belong together, in one transaction, as one step
   * to undo. 'refused': against the rules of the station. Where a record has a newer revision than its form was opened on,
   * the person is asked first (`clash`); 'overtaken': they went back to the form. After any other failure the drafts wait
   * among `unsaved`.
   */
  keep(step: UndoStep, drafts: readonly Draft[], options?: KeepOptions): Promise<Kept<StoredRecord[]>>
  retryUnsaved(): Promise<Kept<void>>
  discardUnsaved(unsaved: Unsaved): void
  undo(): Promise<Undone>
  redo(): Promise<Undone>
  history(id: string): Promise<Kept<StoredRecord[]>>
  /** @param text  the station's exported field book, kept on the phone */
  deleteStation(id: string, text: string | null): Promise<Kept<StoredRecord[]>>
  keptCopies(): Promise<Kept<KeptCopy[]>>
  /** All records for export (`bookForFile`), with what waits to be written: the export may be the only place it survives. */
  outgoing(): StoredRecord[]
  /** What to remember of a backup made now, once it is known to be one. */
  marksFor(stations: readonly string[], nowMs: number): BackupMark[]
  noteExported(marks: readonly BackupMark[]): Promise<Kept<void>>
  /** Loads the page again, without a question: what waits to be written, and what is typed, is kept over it. */
  reloadPage(): void
  /** Looks after the connection and other tabs; returns the way to stop. */
  start(): () => void
}
