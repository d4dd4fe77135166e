/** The worker that brings database and second copy level, on a connection of its own, once for the page that started it. */
import { wrap } from 'idb'
import type { Handle } from './database.ts'
import { levelled } from './levelling.ts'
import { secondCopy } from './secondcopy.ts'
import { factoryIn } from './shelf.ts'

/** The database as it is; null where there is none yet, or it does not open. */
async function opened(name: string, bucket: string | null): Promise<IDBDatabase | null> {
  const factory = await factoryIn(bucket)
  const request = factory?.open(name)
  if (!request) return null
  return new Promise(resolve => {
    request.onupgradeneeded = () => request.transaction?.abort() // not there: do not create it
    request.onerror = () => resolve(null)
    request.onsuccess = () => resolve(request.result)
  })
}

self.addEventListener('message', async ({ data }: MessageEvent<{ name: string; bucket: string | null }>) => {
  const second = secondCopy(data.name)
  let db: IDBDatabase | null = null
  try {
    db = await opened(data.name, data.bucket)
    // A newer version of the program, or the person remaking the database, must not wait for this.
    db?.addEventListener('versionchange', () => db?.close())
    self.postMessage(db && second ? await levelled(wrap(db) as unknown as Handle, second) : null)
  } catch {
    self.postMessage(null)
  } finally {
    db?.close()
  }
})
