/**
 * Database and second copy each get the records that only the other has. Where there are many records a worker does it
 * (`levelworker.ts`), since their checksum alone blocked a page for a third of a second.
 */
import { type Handle, inTransaction } from './database.ts'
import { type Copied, copyKey, type SecondCopy } from './secondcopy.ts'

/** Adds what is not there, in one transaction; true when there was something to add. */
export async function putBack(db: Handle, { records, copies }: Copied): Promise<boolean> {
  if (records.length === 0 && copies.length === 0) return false
  return inTransaction(db, ['records', 'kept-copies'], async tx => {
    const [into, copiesInto] = [tx.objectStore('records'), tx.objectStore('kept-copies')]
    const there = await Promise.all(records.map(record => into.getKey([record.id, record.revision])))
    const fresh = records.filter((_, index) => there[index] === undefined)
    for (const record of fresh) into.add(record).catch(() => {})
    const known = new Set((await copiesInto.getAll()).map(copyKey))
    const freshCopies = copies.filter(copy => !known.has(copyKey(copy)))
    for (const { key: _, ...copy } of freshCopies) copiesInto.add(copy).catch(() => {})
    return fresh.length + freshCopies.length > 0
  })
}

/** @returns whether something came back into the database */
export async function levelled(db: Handle, second: SecondCopy): Promise<boolean> {
  const stored = { records: await db.getAll('records'), copies: await db.getAll('kept-copies') }
  return putBack(db, await second.level(stored))
}

/** The same in a worker. @returns null where none can be started, or it fails */
export function levelledApart(name: string, bucket: string | null): Promise<boolean | null> {
  return new Promise(resolve => {
    let worker: Worker | undefined
    const end = (outcome: boolean | null) => {
      worker?.terminate()
      resolve(outcome)
    }
    try {
      worker = new Worker(new URL('./levelworker.ts', import.meta.url), { type: 'module' })
      worker.onmessage = ({ data }: MessageEvent<boolean | null>) => end(data)
      worker.onerror = () => end(null)
      worker.postMessage({ name, bucket })
    } catch {
      end(null)
    }
  })
}
