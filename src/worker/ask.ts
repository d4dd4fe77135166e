/**
 * Asks the worker. The worker has one question at a time; the others wait here, one per topic: a newer question
 * of a topic replaces the one that waits, and the result of one that was overtaken is discarded. A worker that dies
 * or does not answer is restarted once for the question it had.
 */
import type * as questions from '../core/questions.ts'
import type { Question, Reply } from './route.ts'

/** The part of a Worker that is used here. */
export interface Answering {
  postMessage(message: Question): void
  terminate(): void
  onmessage: ((event: MessageEvent<Reply>) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
  onmessageerror: ((event: MessageEvent) => void) | null
}

export type Asked<T> =
  | { kind: 'answer'; value: T }
  /** A newer question of the same topic came; this one's answer is no longer wanted. */
  | { kind: 'overtaken' }
  /** The worker threw ('threw'), or died or fell silent twice ('worker-lost'). */
  | { kind: 'failed'; why: 'threw' | 'worker-lost'; message: string }

interface Pending {
  topic: string
  question: string
  args: unknown[]
  tell: (asked: Asked<unknown>) => void
}

interface Asker {
  /** @param topic  questions of one topic overtake each other */
  ask(topic: string, question: string, args: unknown[]): Promise<Asked<unknown>>
  stop(): void
}

/** @param patienceMs  a worker silent for longer counts as lost */
export function createAsker(start: () => Answering, patienceMs = 60_000): Asker {
  let worker: Answering | undefined
  let asking: (Pending & { id: number; restarted: boolean; overtaken: boolean }) | undefined
  let timer: ReturnType<typeof setTimeout> | undefined
  let lastId = 0
  const waiting = new Map<string, Pending>()

  function next(): void {
    if (asking) return
    const [topic, pending] = waiting.entries().next().value ?? []
    if (topic === undefined || !pending) return
    waiting.delete(topic)
    asking = { ...pending, id: 0, restarted: false, overtaken: false }
    send()
  }

  function send(): void {
    const current = asking!
    current.id = ++lastId
    timer = setTimeout(() => lose('the worker did not answer'), patienceMs)
    try {
      if (!worker) {
        const fresh = start()
        worker = fresh
        fresh.onmessage = event => {
          if (fresh === worker) hear(event.data)
        }
        fresh.onerror = event => {
          if (fresh === worker) lose(event.message || 'the worker failed')
        }
        fresh.onmessageerror = () => {
          if (fresh === worker) lose('the worker sent what cannot be read')
        }
      }
      worker.postMessage({ id: current.id, question: current.question, args: current.args })
    } catch (error) {
      lose(String(error))
    }
  }

  function hear(reply: Reply): void {
    if (!asking || reply.id !== asking.id) return
    finish(
      'failed' in reply
        ? { kind: 'failed', why: 'threw', message: reply.failed }
        : { kind: 'answer', value: reply.answer },
    )
  }

  function lose(message: string): void {
    clearTimeout(timer)
    worker?.terminate()
    worker = undefined
    if (!asking) return
    if (asking.restarted || asking.overtaken) {
      finish({ kind: 'failed', why: 'worker-lost', message })
    } else {
      asking.restarted = true
      send()
    }
  }

  function finish(asked: Asked<unknown>): void {
    clearTimeout(timer)
    const current = asking!
    asking = undefined
    current.tell(current.overtaken ? { kind: 'overtaken' } : asked)
    next()
  }

  return {
    ask(topic, question, args) {
      return new Promise(tell => {
        if (asking?.topic === topic) asking.overtaken = true
        waiting.get(topic)?.tell({ kind: 'overtaken' })
        waiting.delete(topic) // to the end of the queue
        waiting.set(topic, { topic, question, args, tell })
        next()
      })
    },
    stop() {
      clearTimeout(timer)
      worker?.terminate()
      worker = undefined
      const left = [...waiting.values(), ...(asking ? [asking] : [])]
      waiting.clear()
      asking = undefined
      for (const pending of left) pending.tell({ kind: 'overtaken' })
    },
  }
}

type Questions = typeof questions
type Name = {
  [K in keyof Questions]: Questions[K] extends (...args: never[]) => unknown ? K : never
}[keyof Questions]
type Fn<K extends Name> = Extract<Questions[K], (...args: never[]) => unknown>

let shared: Asker | undefined

/** Asks one of the core's questions in the worker. @param topic  what it is about; default: the question's name */
export function askWorker<K extends Name>(
  question: K,
  args: Parameters<Fn<K>>,
  topic: string = question,
): Promise<Asked<ReturnType<Fn<K>>>> {
  shared ??= createAsker(() => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }) as Answering)
  return shared.ask(topic, question, args) as Promise<Asked<ReturnType<Fn<K>>>>
}
