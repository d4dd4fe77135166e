/**
 * Where the browser keeps the database. Chromium keeps all databases of a site in one set of files; when those do not open
 * (its MANIFEST gone, for one) no database of the site can be opened or even deleted any more. A storage bucket has files of
 * its own: the database is then created there, and opened there from then on.
 */
interface Bucket {
  indexedDB: IDBFactory
}
interface Buckets {
  open(name: string, options?: { persisted?: boolean; durability?: 'strict' | 'relaxed' }): Promise<Bucket>
}

const keyOf = (database: string): string => `${database}.bucket`
const buckets = (): Buckets | undefined =>
  typeof navigator === 'undefined' ? undefined : (navigator as { storageBuckets?: Buckets }).storageBuckets

/** The bucket that the database was moved to; null: none. */
export function bucketOf(database: string): string | null {
  try {
    return localStorage.getItem(keyOf(database))
  } catch {
    return null
  }
}

const bucketIn = async (name: string): Promise<IDBFactory | undefined> =>
  (await buckets()?.open(name, { persisted: true, durability: 'strict' }))?.indexedDB

/** The databases of the page, or of the bucket that ours was moved to. undefined: this browser has none. */
export function shelfOf(database: string): IDBFactory | undefined | Promise<IDBFactory | undefined> {
  return factoryIn(bucketOf(database))
}

/** For a worker, which cannot read what the page remembers. */
export const factoryIn = (bucket: string | null): IDBFactory | undefined | Promise<IDBFactory | undefined> =>
  bucket === null || !buckets() ? globalThis.indexedDB : bucketIn(bucket)

/** A fresh bucket for the database, where the browser has them. @returns false where it has none, or remembers nothing */
export async function nextShelf(database: string): Promise<boolean> {
  const before = Number(bucketOf(database)?.split('-').at(-1) ?? 0)
  const name = `book-${before + 1}`
  try {
    if ((await bucketIn(name)) === undefined) return false
    localStorage.setItem(keyOf(database), name)
    return true
  } catch {
    return false
  }
}
