/**
 * The path that the program is served under, and what its book is called there, so that two installations on one host
 * keep their books apart. Earlier releases called it "moonplumb" wherever they were: the first path that starts a newer
 * one takes over what is stored under that name, as a copy.
 */
import { openDB } from 'idb'
import type { StoredRecord } from '../core/records/stored.ts'
import type { BackupMark, KeptCopy } from './database.ts'

const ROOT_NAME = 'moonplumb'
/** Which path has taken over what earlier releases left. */
const TAKEN_KEY = 'moonplumb.taken-over-at'

/** "/" at the root of the origin, "/dish/" under it. */
export const placeOf = (address: string | undefined = globalThis.location?.href): string =>
  address === undefined || !/^https?:/.test(address) ? '/' : new URL('./', address).pathname

export const bookName = (place: string = placeOf()): string => (place === '/' ? ROOT_NAME : `${ROOT_NAME} ${place}`)

/** A key of what is remembered beside the book (theme, half-typed forms). */
export const keyAt = (key: string, place: string): string => (place === '/' ? key : `${key} ${place}`)

/**
 * Whether what an earlier release left belongs to this place. The first place that asks takes it, and what was remembered
 * beside the book with it.
 */
export function takesEarlier(place: string, storage: Storage | undefined): boolean {
  if (!storage) return true // nothing says who has it: a copy too many does no harm
  const by = storage.getItem(TAKEN_KEY)
  if (by !== null) return by === place
  const keys = Array.from({ length: storage.length }, (_, i) => storage.key(i)!)
  if (place !== '/')
    for (const key of keys)
      if (key.startsWith('moonplumb.') && !key.includes(' ')) storage.setItem(keyAt(key, place), storage.getItem(key)!)
  storage.setItem(TAKEN_KEY, place)
  return true
}

export const storageHere = (): Storage | undefined => {
  try {
    return globalThis.localStorage
  } catch {
    return undefined // switched off
  }
}

interface EarlierBook {
  records: StoredRecord[]
  copies: KeptCopy[]
  marks: BackupMark[]
}

/** What an earlier release left that belongs to the book of that name; null when nothing does. The earlier one stays. */
export async function earlierBook(name: string): Promise<EarlierBook | null> {
  const place = name.slice(ROOT_NAME.length + 1)
  if (name !== bookName(place) || place === '') return null
  try {
    if (!takesEarlier(place, storageHere())) return null
    let isThere = true
    const db = await openDB(ROOT_NAME, undefined, {
      upgrade(_db, _from, _to, tx) {
        isThere = false
        tx.done.catch(() => {})
        tx.abort() // not there: do not create it
      },
    })
    try {
      if (!isThere) return null
      const [records, copies, marks] = await Promise.all(['records', 'kept-copies', 'marks'].map(s => db.getAll(s)))
      return { records: records!, copies: copies!, marks: marks! }
    } finally {
      db.close()
    }
  } catch {
    return null // none, or it does not open: this book begins empty, and the earlier one stays where it was
  }
}
