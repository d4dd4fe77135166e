/** Where the database is looked for: with the others of the site, or in the bucket that it was moved to. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { bucketOf, nextShelf, shelfOf } from '../../src/store/shelf.ts'

const kept = new Map<string, string>()
const opened: string[] = []
const own = { is: 'the page’s own' }
const withBuckets = (open: (name: string) => Promise<unknown>) =>
  vi.stubGlobal('navigator', { storageBuckets: { open } })

beforeEach(() => {
  kept.clear()
  opened.length = 0
  vi.stubGlobal('indexedDB', own)
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => kept.set(key, value),
  })
  withBuckets(async name => {
    opened.push(name)
    return { indexedDB: { bucket: name } }
  })
})
afterEach(() => {
  vi.unstubAllGlobals()
})

describe('nextShelf', () => {
  it('is a bucket of its own each time, and the database is opened there from then on', async () => {
    expect(shelfOf('book')).toBe(own)
    expect(await nextShelf('book')).toBe(true)
    expect(await nextShelf('book')).toBe(true)
    expect(opened).toEqual(['book-1', 'book-2'])
    expect(await shelfOf('book')).toEqual({ bucket: 'book-2' })
    expect(bucketOf('another')).toBeNull()
  })

  it('is none where the browser has no buckets, refuses one, or remembers nothing', async () => {
    vi.stubGlobal('navigator', {})
    expect(await nextShelf('book')).toBe(false)
    withBuckets(() => Promise.reject(new Error('no')))
    expect(await nextShelf('book')).toBe(false)
    withBuckets(async name => ({ indexedDB: { bucket: name } }))
    vi.stubGlobal('localStorage', undefined)
    expect(await nextShelf('book')).toBe(false)
    expect(shelfOf('book')).toBe(own)
  })

  it('that the browser no longer has leaves the page’s own databases', async () => {
    await nextShelf('book')
    vi.stubGlobal('navigator', {})
    expect(shelfOf('book')).toBe(own)
  })
})
