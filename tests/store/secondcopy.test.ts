import 'fake-indexeddb/auto'
import { deleteDB } from 'idb'
import { describe, expect, it } from 'vitest'
import { recordId } from '../../src/core/records/kinds.ts'
import type { Draft } from '../../src/core/records/stored.ts'
import type { StoreNotice } from '../../src/store/database.ts'
import { openStore } from '../../src/store/records.ts'
import { secondCopy } from '../../src/store/secondcopy.ts'
import { memoryCaches } from '../helpers/cachestorage.ts'
import { done, openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()
function phone() {
  const caches = memoryCaches()
  const name = `second-${n++}`
  const told: StoreNotice[] = []
  const visit = () => {
    const store = stores.add(openStore({ name, app: '0.0.1', second: secondCopy(name, caches.storage)! }))
    store.onTold(what => told.push(what))
    return store
  }
  const loseDatabase = async () => {
    stores.closeAll()
    await deleteDB(name)
  }
  return { ...caches, visit, loseDatabase, told, name }
}

const sighting = (own: string, lower: number): Draft => ({
  id: recordId('sighting', 's\ud800/%', own),
  kind: 'sighting',
  station: 's\ud800/%',
  body: { id: own, lower },
})
/** Waits for what a load does in the background. */
const atRest = () => new Promise(resolve => setTimeout(resolve, 50))

describe('a database that the browser has lost', () => {
  it('comes back with every revision, tombstone and kept copy, and this is told', async () => {
    const { visit, loseDatabase, told } = phone()
    const first = visit()
    for (const lower of [1, 2, 3]) done(await first.append([sighting('a', lower), sighting(`b${lower}`, lower)]))
    done(await first.deleteStation('s\ud800/%', { name: 'Ridge', text: '{}' }))
    const [before, historyBefore] = [done(await first.load()), done(await first.history(sighting('a', 0).id))]
    expect(historyBefore).toHaveLength(4)
    await loseDatabase()
    const second = visit()
    expect(done(await second.load())).toEqual(before)
    expect(done(await second.history(sighting('a', 0).id))).toEqual(historyBefore)
    expect(done(await second.keptCopies())).toMatchObject([{ station: 's\ud800/%', name: 'Ridge', text: '{}' }])
    expect(told).toEqual(['put-back'])
  })

  it('comes back before anything is written, so that revision numbers go on', async () => {
    const { visit, loseDatabase } = phone()
    const first = visit()
    for (const lower of [1, 2]) done(await first.append([sighting('a', lower)]))
    await loseDatabase()
    expect(done(await visit().append([sighting('a', 3)])).map(r => r.revision)).toEqual([3])
  })

  it('is not told of on an empty phone, nor when nothing is lost', async () => {
    const { visit, told } = phone()
    done(await visit().append([sighting('a', 1)]))
    done(await visit().load())
    await atRest()
    expect(told).toEqual([])
  })
})

describe('a second copy that could not be kept', () => {
  it('does not hold up the first, and is brought level at the next visit', async () => {
    const { visit, refuse, loseDatabase, entries } = phone()
    const first = visit()
    refuse(true)
    done(await first.append([sighting('a', 1)]))
    expect(entries.size).toBe(0)
    refuse(false)
    const second = visit()
    expect(done(await second.load())).toHaveLength(1)
    await expect.poll(() => entries.size).toBe(1)
    await loseDatabase()
    expect(done(await visit().load())).toHaveLength(1)
  })

  it('loses only the torn entry', async () => {
    const { visit, loseDatabase, entries } = phone()
    const first = visit()
    for (const own of ['a', 'b', 'c']) done(await first.append([sighting(own, 1)]))
    const [torn] = [...entries.keys()]
    entries.set(torn!, entries.get(torn!)!.slice(0, 20))
    await loseDatabase()
    expect(done(await visit().load()).map(r => (r.body as { id: string }).id)).toEqual(['b', 'c'])
  })
})

describe('level', () => {
  it('gathers many entries into one and keeps what is in them', async () => {
    const { visit, loseDatabase, entries } = phone()
    const first = visit()
    for (let i = 0; i < 201; i++) done(await first.append([sighting(`${i}`, i)]))
    expect(entries.size).toBe(201)
    done(await visit().load())
    await expect.poll(() => entries.size).toBe(1)
    await loseDatabase()
    expect(done(await visit().load())).toHaveLength(201)
  })

  it('loses nothing when it cannot write in the middle of it: nothing is deleted before all is written', async () => {
    const { visit, loseDatabase, refusePuts, entries } = phone()
    const first = visit()
    for (let i = 0; i < 201; i++) done(await first.append([sighting(`${i}`, i)]))
    refusePuts()
    const next = visit()
    done(await next.load())
    done(await next.level()) // as the load does in the background
    expect(entries.size).toBe(201)
    await loseDatabase()
    expect(done(await visit().load())).toHaveLength(201)
  })

  it('puts into the database what only the copy has', async () => {
    const { visit, storage, name, told } = phone()
    const first = visit()
    done(await first.append([sighting('a', 1)]))
    const [record] = done(await first.load())
    const other = { ...record!, id: 'sighting:s/other' }
    await secondCopy(name, storage)!.keep({ records: [other], copies: [] })
    const second = visit()
    done(await second.load())
    await expect.poll(() => told).toEqual(['put-back'])
    expect(done(await second.load()).map(r => r.id)).toContain('sighting:s/other')
  })
})
