/**
 * A second copy of what the database holds, in the browser's Cache Storage: files of their own, apart from it. Chromium
 * deletes a whole database when its log ends in a torn write, as a kill in the middle of writing can leave it (3 of
 * 200 kills did, tests/faults/kills.ts); its records are restored from here.
 * An entry holds what one transaction wrote and is never altered; when there are many they are merged into one.
 */
import { type StoredRecord, sameJson } from '../core/records/stored.ts'
import type { KeptCopy } from './database.ts'

export interface Copied {
  records: readonly StoredRecord[]
  copies: readonly KeptCopy[]
}

/** Nothing here throws: where there is no second copy the database stands alone, as it always did. */
export interface SecondCopy {
  /** Adds what a transaction has written. False when it could not be kept. */
  keep(written: Copied): Promise<boolean>
  /** Everything here, each record once. */
  all(): Promise<Copied>
  /** Brings the copy level with the database, in one entry if there are many. Returns what the database lacks. */
  level(stored: Copied): Promise<Copied>
}

const NOTHING: Copied = { records: [], copies: [] }
/** More entries than this are merged into one. */
const MANY = 200
const PATIENCE_MS = 3_000

const recordKey = (record: StoredRecord): string => JSON.stringify([record.id, record.revision])
export const copyKey = (copy: KeptCopy): string => JSON.stringify([copy.station, copy.madeMs])

/** How many records, and a checksum over their keys and times that does not depend on order: an entry's name has both. */
interface Sum {
  count: number
  hash: number
}
function sumOf(records: readonly StoredRecord[]): Sum {
  let total = 0
  for (const record of records) {
    let hash = 0x811c9dc5 // FNV-1a, 32 bits
    for (const unit of `${recordKey(record)}${record.writtenMs}`)
      hash = Math.imul(hash ^ unit.codePointAt(0)!, 0x01000193)
    total ^= hash
  }
  return { count: records.length, hash: total >>> 0 }
}

/** The union, each once. Two states that go by one number are both in it: see `more`. */
function union(parts: readonly Copied[]): Copied {
  const records = new Map<string, StoredRecord>()
  const copies = new Map<string, KeptCopy>()
  for (const part of parts) {
    for (const record of part.records) records.set(`${recordKey(record)}${record.writtenMs}`, record)
    for (const copy of part.copies) if (!copies.has(copyKey(copy))) copies.set(copyKey(copy), copy)
  }
  return { records: [...records.values()], copies: [...copies.values()] }
}

/**
 * What `of` has and `than` has not. Where both have a revision of the same number that says different things (the copy
 * went on alone while the database did not open), the one in `of` is taken as one more revision: nothing is lost.
 */
function more(of: Copied, than: Copied): Copied {
  const known = new Map<string, StoredRecord[]>()
  for (const record of than.records) known.set(record.id, [...(known.get(record.id) ?? []), record])
  const copies = new Set(than.copies.map(copyKey))
  const records: StoredRecord[] = []
  const inOrder = [...of.records].sort((a, b) => a.revision - b.revision || a.writtenMs - b.writtenMs)
  for (const record of inOrder) {
    const there = known.get(record.id) ?? []
    const isTaken = there.some(other => other.revision === record.revision)
    if (isTaken && there.some(other => sameThing(other, record))) continue
    const fresh = isTaken ? { ...record, revision: 1 + Math.max(...there.map(r => r.revision)) } : record
    known.set(record.id, [...there, fresh])
    records.push(fresh)
  }
  return { records, copies: of.copies.filter(copy => !copies.has(copyKey(copy))) }
}

const sameThing = (a: StoredRecord, b: StoredRecord): boolean =>
  a.writtenMs === b.writtenMs && a.deleted === b.deleted && (a.body === b.body || sameJson(a.body, b.body))

/** The result of `work`, or `otherwise` where it fails or takes too long. */
function settled<T>(work: Promise<T>, otherwise: T): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined
  const limit = new Promise<T>(resolve => {
    timer = setTimeout(() => resolve(otherwise), PATIENCE_MS)
  })
  return Promise.race([work, limit])
    .catch(() => otherwise)
    .finally(() => clearTimeout(timer))
}

/**
 * The second copy of the database of that name.
 *
 * @param storage  the browser's Cache Storage, or undefined where there is none (an insecure page, a test)
 * @returns        undefined where there is no Cache Storage
 */
export function secondCopy(
  name: string,
  storage: CacheStorage | undefined = globalThis.caches,
): SecondCopy | undefined {
  if (!storage) return undefined
  // Not called "moonplumb-…": the service worker clears away older caches of that name.
  const open = () => storage.open(`second-copy-of-${name}`)

  /** A part of the entry's name that is unique, so that two tabs never write the same one. */
  const fresh = () => `${Date.now().toString(36)}${Math.random().toString(36).slice(2)}`
  async function put(cache: Cache, what: Copied): Promise<void> {
    const { count, hash } = sumOf(what.records)
    const address = new URL(
      `second-copy/${fresh()}/${count}/${hash}`,
      globalThis.location?.origin ?? 'http://localhost',
    )
    await cache.put(
      address.href,
      new Response(JSON.stringify(what), { headers: { 'content-type': 'application/json' } }),
    )
  }

  async function read(cache: Cache, entries: readonly Request[]): Promise<Copied> {
    const parts = await Promise.all(
      entries.map(async entry => {
        try {
          return ((await (await cache.match(entry))?.json()) as Copied | undefined) ?? NOTHING
        } catch {
          return NOTHING // torn itself: the others still count
        }
      }),
    )
    return union(parts)
  }

  const sumOfEntries = (entries: readonly Request[]): Sum => {
    const total = { count: 0, hash: 0 }
    for (const { url } of entries) {
      const [count, hash] = url.split('/').slice(-2).map(Number) as [number, number]
      total.count += count
      total.hash = (total.hash ^ hash) >>> 0
    }
    return total
  }

  async function level(stored: Copied): Promise<Copied> {
    const cache = await open()
    const entries = await cache.keys()
    const [here, there] = [sumOfEntries(entries), sumOf(stored.records)]
    if (entries.length <= MANY && here.count === there.count && here.hash === there.hash) return NOTHING
    const all = await read(cache, entries)
    const lacking = more(all, stored)
    // Written before anything is deleted: a page that ends in between leaves each record twice, never not at all.
    await put(cache, union([stored, lacking]))
    await Promise.all(entries.map(entry => cache.delete(entry))) // only those that were read: another tab may add
    return lacking
  }

  return {
    keep: written =>
      settled(
        open()
          .then(cache => put(cache, written))
          .then(() => true),
        false,
      ),
    all: () =>
      open()
        .then(async cache => more(await read(cache, await cache.keys()), NOTHING))
        .catch(() => NOTHING),
    level: stored => level(stored).catch(() => NOTHING),
  }
}
