/**
 * Handing out: the text is ready before the tap, the tap only passes it on. Handing out a field book counts as the last
 * copy for the reminder.
 */
import { writeFieldBook } from '../core/records/outgo.ts'
import type { Solution } from '../core/records/solution.ts'
import { canDownload, canShare, copyText, downloadFile, shareFile, textFile } from '../device/share.ts'
import { ask } from '../worker/ask.ts'
import { fieldBook } from './book.ts'
import { feedHere } from './chosenfeed.ts'

export interface Parcel {
  file: File
  text: string
  /** What may be done with it here. */
  share: boolean
  download: boolean
  /** The stations that are whole in it: a field book. Else empty. */
  stations: readonly string[]
}

/** @param name  file name; gets .txt unless it ends in .txt or .csv */
export function parcelOf(name: string, text: string, stations: readonly string[] = []): Parcel {
  const file = textFile(name, text)
  return { file, text, share: canShare(file), download: canDownload(), stations }
}

/** The text of the field book. @param stations  default: all */
export const fieldBookText = (nowMs: number, stations?: readonly string[]): string =>
  writeFieldBook(fieldBook.exportBook(nowMs, stations))

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

/** Inside the tap. */
export async function handOn(way: 'share' | 'copy' | 'download', parcel: Parcel): Promise<Handed> {
  const outcome =
    way === 'share'
      ? await shareFile(parcel.file)
      : way === 'copy'
        ? await copyText(parcel.text)
        : downloadFile(parcel.file)
  if (outcome !== 'cancelled' && outcome !== 'refused' && parcel.stations.length > 0)
    await fieldBook.noteExported(parcel.stations, Date.now())
  return outcome
}

/** The bytes that the batch command prints for the same station and the same `now`. */
export const solutionText = (solution: Solution): string => `${JSON.stringify(solution, null, 2)}\n`

/** Asks for a thing of the current station, through the chosen feed, at an instant; null when it failed, with why. */
export async function askSolution(nowUtc: string): Promise<{ text: string } | { why: string } | null> {
  const station = fieldBook.station.value
  if (!station) return { why: 'no station' }
  const asked = await ask('solve', [bookOf(nowUtc), { now: nowUtc, feed: feedHere(station) }], 'hand-out solution')
  if (asked.kind === 'overtaken') return null
  if (asked.kind === 'failed') return { why: asked.message }
  return asked.value.ok ? { text: solutionText(asked.value.value) } : { why: wordsOf(asked.value.faults) }
}

export type TableWish = Parameters<typeof import('../core/questions.ts').targets>[1]

export async function askTable(wish: TableWish): Promise<{ text: string } | { why: string } | null> {
  const asked = await ask('targets', [bookOf(wish.now), wish], 'hand-out table')
  if (asked.kind === 'overtaken') return null
  if (asked.kind === 'failed') return { why: asked.message }
  return asked.value.ok ? { text: asked.value.value } : { why: wordsOf(asked.value.faults) }
}

const wordsOf = (faults: readonly { rule: string }[]): string => faults.map(fault => fault.rule).join(' ')
const bookOf = (nowUtc: string) => ({
  format: 'moonplumb-fieldbook' as const,
  version: 1 as const,
  exportedUtc: nowUtc,
  stations: fieldBook.station.value ? [fieldBook.station.value] : [],
})
