/**
 * Importing, on the page's side: sends the records that are here to a worker of its own, piece by piece so that the page
 * stays responsive, and gathers what comes back. Stopping ends the worker; nothing was written by then.
 */
import type { Fault } from '../core/records/answer.ts'
import type { Digest } from '../core/records/digest.ts'
import type { Choices } from '../core/records/plan.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import { type FromPage, type ImportStage, PIECE, type ToPage } from './importing.ts'

/** The part of a Worker that is used here. */
export interface ImportWorker {
  postMessage(message: FromPage): void
  terminate(): void
  onmessage: ((event: MessageEvent<ToPage>) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
}

export type TellStage = (stage: ImportStage, share: number) => void
export type Looked =
  | { kind: 'plan'; digest: Digest }
  | { kind: 'refused'; faults: readonly Fault[] }
  | { kind: 'unreadable' }
  | { kind: 'stopped' }
  | { kind: 'failed'; message: string }
type Carried =
  | { kind: 'drafts'; drafts: readonly Draft[] }
  | { kind: 'illegal'; faults: readonly Fault[]; digest: Digest }
  | { kind: 'stopped' }
  | { kind: 'failed'; message: string }

export interface Importer {
  look(source: Blob | string, here: readonly StoredRecord[], tell: TellStage): Promise<Looked>
  /** After a look that ended in a plan. */
  carry(choices: Choices, tell: TellStage): Promise<Carried>
  stop(): void
}

const started = (): ImportWorker =>
  new Worker(new URL('./importworker.ts', import.meta.url), { type: 'module' }) as ImportWorker

/** Lets the page run what is waiting. */
const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))

export function createImporter(start: () => ImportWorker = started): Importer {
  let worker: ImportWorker | undefined
  let end: ((answer: { kind: 'stopped' } | { kind: 'failed'; message: string }) => void) | undefined

  /** Hears the worker until it has answered. */
  function answer<T>(
    tell: TellStage,
    take: (said: ToPage) => T | undefined,
  ): Promise<T | { kind: 'stopped' } | { kind: 'failed'; message: string }> {
    return new Promise(resolve => {
      end = resolve
      worker!.onmessage = ({ data }) => {
        if (data.kind === 'progress') tell(data.stage, data.share)
        else if (data.kind === 'failed') resolve(data)
        else {
          const taken = take(data)
          if (taken !== undefined) resolve(taken)
        }
      }
      worker!.onerror = event => resolve({ kind: 'failed', message: event.message || 'the worker failed' })
    })
  }
  const stop = (): void => {
    worker?.terminate()
    worker = undefined
    end?.({ kind: 'stopped' })
    end = undefined
  }

  return {
    async look(source, here, tell) {
      stop()
      let mine: ImportWorker
      try {
        mine = start()
      } catch (error) {
        return { kind: 'failed', message: String(error) }
      }
      worker = mine
      const answered = answer<Looked>(tell, said =>
        said.kind === 'drafts' || said.kind === 'illegal' ? undefined : (said as Looked),
      )
      for (let from = 0; from < here.length && worker === mine; from += PIECE) {
        mine.postMessage({ kind: 'here', records: here.slice(from, from + PIECE) })
        if (from > 0) await aMoment()
      }
      if (worker === mine) mine.postMessage({ kind: 'look', source })
      return answered
    },
    carry(choices, tell) {
      if (!worker) return Promise.resolve({ kind: 'stopped' })
      const drafts: Draft[] = []
      const answered = answer<Carried>(tell, said => {
        if (said.kind === 'illegal') return said
        if (said.kind !== 'drafts') return undefined
        drafts.push(...said.drafts)
        return said.isLast ? { kind: 'drafts', drafts } : undefined
      })
      worker.postMessage({ kind: 'carry', choices })
      return answered
    },
    stop,
  }
}
