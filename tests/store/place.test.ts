import 'fake-indexeddb/auto'
import { deleteDB, openDB } from 'idb'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { bookName, placeOf, takesEarlier } from '../../src/store/place.ts'
import { openStore } from '../../src/store/records.ts'
import { memoryStorage } from '../helpers/memorystorage.ts'

const NAMES = ['moonplumb', 'moonplumb /a/', 'moonplumb /b/']

afterEach(async () => {
  vi.unstubAllGlobals()
  for (const name of NAMES) await deleteDB(name)
})

const draft = { id: 'station:s', kind: 'station' as const, station: 's', body: { id: 's', name: 'Hill' } }
const open = (name: string) => openStore({ name, app: 'test', second: null })
const idsIn = async (name: string) => {
  const store = open(name)
  const read = await store.load()
  store.close()
  return read.kind === 'done' ? read.value.map(record => record.id) : read.kind
}

describe('the place on an origin', () => {
  it('is the folder of the page, and only the root keeps the old name of the book', () => {
    expect(placeOf('https://host.example/dish/index.html?x=1#now')).toBe('/dish/')
    expect(placeOf('https://host.example/')).toBe('/')
    expect(NAMES).toEqual([bookName('/'), bookName('/a/'), bookName('/b/')])
  })
})

describe('a book of an earlier release', () => {
  it('is taken over, as a copy, by the first place that starts a newer one, and by no other', async () => {
    const before = open('moonplumb')
    await before.append([draft])
    await before.putMarks([{ key: 'export', ms: 5, count: 1 }])
    before.close()
    vi.stubGlobal('localStorage', memoryStorage())
    expect(await idsIn('moonplumb /a/')).toEqual(['station:s'])
    expect(await idsIn('moonplumb /b/')).toEqual([])
    expect(await idsIn('moonplumb')).toEqual(['station:s'])
    const db = await openDB('moonplumb /a/')
    expect(await db.getAll('marks')).toEqual([{ key: 'export', ms: 5, count: 1 }])
    db.close()
  })

  it('stays where it is when the root has started a newer one first', async () => {
    const before = open('moonplumb')
    await before.append([draft])
    before.close()
    const storage = memoryStorage()
    vi.stubGlobal('localStorage', storage)
    expect(takesEarlier('/', storage)).toBe(true)
    expect(await idsIn('moonplumb /a/')).toEqual([])
  })

  it('is not made where there is none', async () => {
    vi.stubGlobal('localStorage', memoryStorage())
    expect(await idsIn('moonplumb /a/')).toEqual([])
    expect((await indexedDB.databases()).map(db => db.name)).not.toContain('moonplumb')
  })

  it('brings with it what was remembered beside it, and what is remembered then is apart', () => {
    const storage = memoryStorage({ 'moonplumb.theme': 'night', 'another.theme': 'x' })
    expect([takesEarlier('/a/', storage), takesEarlier('/b/', storage), takesEarlier('/a/', storage)]).toEqual([
      true,
      false,
      true,
    ])
    expect([
      storage.getItem('moonplumb.theme /a/'),
      storage.getItem('moonplumb.theme /b/'),
      storage.getItem('another.theme /a/'),
    ]).toEqual(['night', null, null])
  })
})
