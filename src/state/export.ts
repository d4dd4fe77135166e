/**
 * Export: the text is ready before the tap, the tap only passes it on. An exported field book is a backup when the
 * intake accepts its text and it is known to have arrived: shared, confirmed by the person, or compared with the file.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { utcFromMs } from '../core/records/instant.ts'
import { writeFieldBook } from '../core/records/outgo.ts'
import { bookForFile } from '../core/records/revisions.ts'
import type { Solution } from '../core/records/solution.ts'
import { canDownload, canShare, copyText, downloadFile, shareFile, textFile } from '../device/share.ts'
import type { BackupMark } from '../store/database.ts'
import { askWorker } from '../worker/ask.ts'
import { ask, type Told } from './ask.ts'
import { type BookModel, fieldBook } from './book.ts'
import { feedHere } from './chosenfeed.ts'
import { remember, remembered } from './memory.ts'
import { phoneMs } from './now.ts'

export interface Parcel {
  file: File
  text: string
  /** Which ways this phone offers. */
  share: boolean
  download: boolean
  /** What to remember once it is known to be a backup: only a field book has any. */
  marks: readonly BackupMark[]
}

/** @param name  file name; gets .txt unless it ends in .txt, .csv or .ics */
export function parcelOf(name: string, text: string, marks: readonly BackupMark[] = []): Parcel {
  const file = textFile(name, text)
  return { file, text, share: canShare(file), download: canDownload(), marks }
}

/** The field book with revision numbers, for export. @param stations  default: all */
export const outgoingBook = (book: BookModel, nowMs: number, stations?: readonly string[]): FieldBook =>
  bookForFile(book.outgoing(), utcFromMs(nowMs), stations)

/** The text of the field book. @param stations  default: all */
export const fieldBookText = (nowMs: number, stations?: readonly string[]): string =>
  writeFieldBook(outgoingBook(fieldBook, nowMs, stations))

/** The field book of these stations, ready to go. @param name  what the file is called after */
export const bookParcel = (name: string, nowMs: number, stations: readonly string[]): Parcel =>
  parcelOf(fileName(name, 'fieldbook', nowMs), fieldBookText(nowMs, stations), fieldBook.marksFor(stations, nowMs))

/** The faults that the intake finds in an exported text: only what can be imported again is a backup. Empty: it can. */
export async function faultsOfText(text: string): Promise<readonly Fault[]> {
  const asked = await askWorker('faultsOfText', [text], 'read-back')
  if (asked.kind === 'answer') return asked.value
  const { readFieldBook } = await import('../core/records/intake.ts')
  const read = readFieldBook(text)
  return read.ok ? [] : read.faults
}

/** A file that was saved, or a text that was copied: a backup as soon as the person has seen it where it should be. */
export interface Pending {
  way: 'started' | 'copied'
  file: string
  atMs: number
  bytes: number
  /** Of its bytes. */
  sum: string
  marks: readonly BackupMark[]
}

const PENDING_KEY = 'moonplumb.pending-backup'
/** Longer ones are not kept over a reload: the marks name every record. */
const MOST_KEPT = 200_000

function pendingBefore(): Pending | null {
  try {
    const read = JSON.parse(remembered(PENDING_KEY) ?? 'null') as Pending | null
    if (read === null || !Array.isArray(read.marks)) return null
    const marks = read.marks.map(mark => ({ ...mark, ...(mark.held && { held: Uint32Array.from(mark.held) }) }))
    return { ...read, marks }
  } catch {
    return null
  }
}
const waiting = signal<Pending | null>(pendingBefore())
export const pendingBackup: ReadonlySignal<Pending | null> = waiting

function setPending(pending: Pending | null): void {
  waiting.value = pending
  const json = pending && JSON.stringify(pending, (_, value) => (value instanceof Uint32Array ? [...value] : value))
  remember(PENDING_KEY, json !== null && json.length < MOST_KEPT ? json : null)
}

/** SHA-256 of the bytes, which the browser reads and hashes off the page's thread: a backup may have 20 MB. */
async function sumOf(source: Blob): Promise<string> {
  const bytes = await source.arrayBuffer()
  // A page that came by plain http has no SHA-256: there FNV-1a, 32 bits.
  if (!globalThis.crypto.subtle)
    return new Uint8Array(bytes).reduce((hash, byte) => Math.imul(hash ^ byte, 0x01000193), 0x811c9dc5).toString(16)
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return [...sum].map(byte => byte.toString(16).padStart(2, '0')).join('')
}

/** The person has seen the file where it should be. */
export async function confirmBackup(): Promise<void> {
  const pending = waiting.value
  if (pending === null) return
  if ((await fieldBook.noteExported(pending.marks)).kind === 'done') setPending(null)
}

/** Whether a file that the person picks is the saved one, byte for byte. */
export async function compareBackup(source: string | Blob): Promise<'same' | 'other'> {
  const pending = waiting.value
  if (pending === null) return 'other'
  const file = typeof source === 'string' ? new Blob([source]) : source
  if (file.size !== pending.bytes || (await sumOf(file)) !== pending.sum) return 'other'
  await confirmBackup()
  return 'same'
}

export const forgetPending = (): void => setPending(null)

/** A name that every file system takes: the letters and digits of the station's, the day. */
export function fileName(name: string, what: string, nowMs: number, ending = 'txt'): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40)
    .toLowerCase()
  return `${plain || 'moonplumb'}-${new Date(nowMs).toISOString().slice(0, 10)}.${what}.${ending}`
}

export type Handed = 'shared' | 'copied' | 'started' | 'cancelled' | 'refused'

export interface HandedOn {
  outcome: Handed
  /** A field book that the intake would refuse: it was exported, but is no backup. */
  faults: readonly Fault[]
}

/** Inside the tap. A field book that was shared counts as a backup at once, saved or copied when that is confirmed. */
export async function handOn(way: 'share' | 'copy' | 'download', parcel: Parcel): Promise<HandedOn> {
  const outcome =
    way === 'share'
      ? await shareFile(parcel.file)
      : way === 'copy'
        ? await copyText(parcel.text)
        : downloadFile(parcel.file)
  const { text, marks } = parcel
  if (outcome === 'cancelled' || outcome === 'refused' || marks.length === 0) return { outcome, faults: [] }
  const faults = await faultsOfText(text)
  if (faults.length === 0) {
    if (outcome === 'shared') {
      await fieldBook.noteExported(marks)
      setPending(null)
    } else {
      const { name, size } = parcel.file
      setPending({ way: outcome, file: name, atMs: phoneMs(), bytes: size, sum: await sumOf(parcel.file), marks })
    }
  }
  return { outcome, faults }
}

/** The best way that this phone has. */
export const bestWay = (parcel: Parcel): 'share' | 'download' | 'copy' =>
  parcel.share ? 'share' : parcel.download ? 'download' : 'copy'

/** The bytes that the batch command prints for the same station and the same `now`. */
export const solutionText = (solution: Solution): string => `${JSON.stringify(solution, null, 2)}\n`

export type MadeText = { text: string } | { why: string } | null

/** For a text file; null: overtaken. */
const madeOf = <T>(told: Told<T>, textOf: (value: T) => string): MadeText =>
  told === null
    ? null
    : told.kind === 'told'
      ? { text: textOf(told.value) }
      : { why: told.faults.length > 0 ? told.faults.map(fault => fault.rule).join(' ') : told.message }

/** The solution of the current station, through the chosen feed, as of an instant. */
export async function askSolution(nowUtc: string): Promise<MadeText> {
  const station = fieldBook.station.value
  if (!station) return { why: 'no station' }
  const how = { topic: 'export solution', at: nowUtc }
  return madeOf(await ask(station, 'solve', { feed: feedHere(station) }, how), solutionText)
}

type TableWish = Parameters<typeof import('../core/questions.ts').targets>[1]

export async function askTable({ now, station: _, ...wish }: TableWish): Promise<MadeText> {
  const station = fieldBook.station.value
  if (!station) return { why: 'no station' }
  return madeOf(await ask(station, 'targets', wish, { topic: 'export table', at: now }), text => text)
}

type WindowsTextWish = Omit<Parameters<typeof import('../core/questions.ts').windowsText>[1], 'station'>

/** When a target is in reach, as a list or a calendar. */
export async function askWindowsText(station: StationRecord, { now, ...wish }: WindowsTextWish): Promise<MadeText> {
  return madeOf(await ask(station, 'windowsText', wish, { topic: 'export windows', at: now }), text => text)
}

/** The recipe for a program of one's own; JSON to the bytes that the batch command prints. */
export async function askRecipe(
  station: StationRecord,
  { now, feed, as }: { now: string; feed: string; as: 'text' | 'json' },
): Promise<MadeText> {
  const how = { topic: 'export recipe', at: now }
  return as === 'text'
    ? madeOf(await ask(station, 'recipeText', { feed }, how), text => text)
    : madeOf(await ask(station, 'recipe', { feed }, how), recipe => `${JSON.stringify(recipe, null, 2)}\n`)
}

/** The field report as plain text. */
export async function askReportText(station: StationRecord, feed: string, now: string): Promise<MadeText> {
  const about = { feed, program: `Moonplumb ${version}` }
  return madeOf(await ask(station, 'reportText', about, { topic: 'export report', at: now }), text => text)
}
