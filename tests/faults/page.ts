/** The page of the fault tests: the store as it is, with handles for the test to pull. Never part of the app. */
import { recordId } from '../../src/core/records/kinds.ts'
import type { Draft } from '../../src/core/records/stored.ts'
import { LADDER, type StoreNotice, type UpgradeStep } from '../../src/store/database.ts'
import { openStore, type Store } from '../../src/store/records.ts'

/** Two records that belong together, each with a sum over its text: a half one, or one without the other, shows. */
export interface PairBody {
  id: string
  n: string
  text: string
  sum: number
}

const sumOf = (text: string): number => {
  let sum = 0
  for (let i = 0; i < text.length; i++) sum = (Math.imul(sum, 31) + text.charCodeAt(i)) | 0
  return sum
}
export const draftOf = (own: string, n: string, text: string, station = 's'): Draft => {
  const body: PairBody = { id: own, n, text, sum: sumOf(text) }
  return { id: recordId('sighting', station, own), kind: 'sighting', station, body }
}

/** Tells the test when a transaction that writes begins, and when it is complete: so the test knows what a kill cut off. */
function watchTransactions(tell: (what: 'begun' | 'complete') => void): void {
  const begin = IDBDatabase.prototype.transaction
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...args: Parameters<typeof begin>) {
    const tx = begin.apply(this, args)
    if (tx.mode === 'readwrite') {
      tell('begun')
      tx.addEventListener('complete', () => tell('complete'))
    }
    return tx
  } as typeof begin
}

const later: UpgradeStep = db => void db.createObjectStore('later' as never)
const told: StoreNotice[] = []
let store: Store | undefined
let held: IDBDatabase | undefined
const opened = () => store ?? fail('not open')
function fail(what: string): never {
  throw new Error(what)
}

export const harness = {
  open(name: string, ladderLength: 1 | 2 = 1) {
    store?.close()
    store = openStore({ name, app: 'faults', ladder: ladderLength === 2 ? [...LADDER, later] : LADDER })
    store.onTold(what => told.push(what))
  },
  told: () => told,
  watchTransactions,

  /**
   * Writes pairs `first`, `first + 1`, … until the end of time or `count`; `acked` hears of each when it is done.
   * @param restMs  the longest pause between two
   */
  async writePairs(run: string, count: number, size: number, acked: (n: string) => void, restMs = 0): Promise<void> {
    for (let i = 0; i < count; i++) {
      if (restMs > 0) await new Promise(resolve => setTimeout(resolve, (i * 7919) % restMs))
      const n = `${run}-${i}`
      const text = n.repeat(Math.ceil(size / n.length))
      const answer = await opened().append([draftOf(`${n}/a`, n, text), draftOf(`${n}/b`, n, text)])
      if (answer.kind !== 'done') fail(`${answer.kind}: ${answer.message}`)
      acked(n)
    }
  },

  /** Which pairs are there, and what is not whole: a wrong sum, or one of a pair without the other. */
  async verifyPairs(): Promise<{ there: string[]; halves: string[] }> {
    const read = await opened().load()
    if (read.kind !== 'done') return fail(`${read.kind}: ${read.message}`)
    const seen = new Map<string, number>()
    const halves: string[] = []
    for (const record of read.value) {
      const { n, text, sum } = record.body as PairBody
      seen.set(n, (seen.get(n) ?? 0) + 1)
      if (typeof text !== 'string' || sumOf(text) !== sum) halves.push(record.id)
    }
    for (const [n, count] of seen) if (count !== 2) halves.push(n)
    return { there: [...seen.keys()], halves }
  },

  /** One tab of several: `count` records of its own; every tenth time it also writes the record that all share. */
  async writeTab(tab: string, count: number): Promise<void> {
    for (let i = 0; i < count; i++) {
      const drafts = [draftOf(`${tab}-${i}`, `${tab}-${i}`, 'x')]
      if (i % 10 === 0) drafts.push(draftOf('shared', `${tab}-${i}`, 'y'))
      const answer = await opened().append(drafts)
      if (answer.kind !== 'done') fail(`${answer.kind}: ${answer.message}`)
    }
  },
  /** Counts from now on how often another tab said that it had written, and keeps what this tab would show. */
  watchOthers() {
    const seen = { changes: 0, shown: 0 }
    let again = false
    let loading = false
    const load = async () => {
      again = true
      if (loading) return
      loading = true
      while (again) {
        again = false
        const read = await opened().load()
        if (read.kind === 'done') seen.shown = read.value.length
      }
      loading = false
    }
    opened().onChanged(() => {
      seen.changes++
      void load()
    })
    Object.assign(globalThis, { seen })
  },
  seen: () => (globalThis as unknown as { seen: { changes: number; shown: number } }).seen,

  append: async (own: string, text: string, writtenMs?: number) => {
    const answer = await opened().append([{ ...draftOf(own, own, text), ...(writtenMs && { writtenMs }) }])
    return answer.kind === 'done' ? { kind: 'done', revision: answer.value[0]!.revision } : answer
  },
  history: async (own: string) => {
    const answer = await opened().history(recordId('sighting', 's', own))
    return answer.kind === 'done'
      ? answer.value.map(r => ({ ...r, text: (r.body as PairBody).text }))
      : fail(answer.kind)
  },
  load: async () => {
    const answer = await opened().load()
    return answer.kind === 'done' ? answer.value.map(r => ({ id: r.id, revision: r.revision })) : fail(answer.kind)
  },

  /** An old program that holds the database and does not let go. */
  hold: (name: string) =>
    new Promise<void>((resolve, reject) => {
      const request = indexedDB.open(name)
      request.onsuccess = () => {
        held = request.result
        resolve()
      }
      request.onerror = () => reject(request.error)
    }),
  letGo: () => held?.close(),
}
export type Harness = typeof harness

Object.assign(globalThis, { harness })
