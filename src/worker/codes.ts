/** Reading codes, on the page's side: one picture at a time, so that none is old when its turn comes. */
import type { Picture } from '../core/handover/seen.ts'

/** The part of a Worker that is used here. */
export interface CodeWorker {
  postMessage(picture: Picture, transfer: Transferable[]): void
  terminate(): void
  onmessage: ((event: MessageEvent<string | null>) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
}

export interface CodeReader {
  /** The text of the code in it, or null. Rejects where the worker is lost. The picture's bytes are transferred. */
  read(picture: Picture): Promise<string | null>
  stop(): void
}

const started = (): CodeWorker =>
  new Worker(new URL('./codeworker.ts', import.meta.url), { type: 'module' }) as unknown as CodeWorker

export function createCodeReader(start: () => CodeWorker = started): CodeReader {
  let worker: CodeWorker | undefined
  return {
    read({ width, height, data }) {
      worker ??= start()
      const mine = worker
      return new Promise((resolve, reject) => {
        mine.onmessage = event => resolve(event.data)
        mine.onerror = event => {
          worker = undefined
          mine.terminate()
          reject(new Error(event.message || 'the worker failed'))
        }
        mine.postMessage({ width, height, data }, [data.buffer as ArrayBuffer])
      })
    },
    stop() {
      worker?.terminate()
      worker = undefined
    },
  }
}
