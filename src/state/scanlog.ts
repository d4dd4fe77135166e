/** A pasted log is read once, however often the screen is drawn: a short one on the page's thread, a long one in the worker. */
import { signal } from '@preact/signals'
import { type Pasted, pastedLevels } from '../core/import/levels.ts'
import { askWorker } from '../worker/ask.ts'

/** Some thousand lines take a few milliseconds; more are read off the page. */
const ON_THE_SPOT = 100_000

interface Read {
  text: string
  startMs: number
  /** null: on its way. */
  log: Pasted | null
}
const latest = signal<Read | null>(null)

/** @returns null while it is being read; a signal then updates whoever asked */
export function readLog(text: string, startMs: number): Pasted | null {
  const known = latest.value
  if (known !== null && known.startMs === startMs && known.text === text) return known.log
  const read: Read = { text, startMs, log: text.length <= ON_THE_SPOT ? pastedLevels(text, startMs) : null }
  // Not while a screen is being drawn that watches it.
  queueMicrotask(() => {
    latest.value = read
  })
  if (read.log === null)
    void askWorker('levelsInLog', [text, startMs], 'log').then(asked => {
      if (asked.kind === 'answer') latest.value = { text, startMs, log: asked.value }
      else if (asked.kind === 'failed') latest.value = { text, startMs, log: NOTHING }
    })
  return read.log
}
const NOTHING: Pasted = { samples: [], bad: [], times: null, passed: 0 }
