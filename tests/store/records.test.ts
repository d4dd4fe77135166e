import 'fake-indexeddb/auto'
import fc from 'fast-check'
import { describe, expect, it, vi } from 'vitest'
import { recordId } from '../../src/core/records/kinds.ts'
import type { Draft } from '../../src/core/records/stored.ts'
import { openStore, type Store } from '../../src/store/records.ts'
import { done, openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()
function freshStore(options: { name?: string; clock?: () => number } = {}): Store {
  return stores.add(
    openStore({
      name: options.name ?? `records-${n++}`,
      app: '0.0.1',
      ...(options.clock && { clock: options.clock }),
    }),
  )
}

const sighting = (own: string, body: object, station = 's'): Draft => ({
  id: recordId('sighting', station, own),
  kind: 'sighting',
  station,
  body: { id: own, ...body },
})
const stationDraft = (id: string): Draft => ({
  id: recordId('station', id),
  kind: 'station',
  station: id,
  body: { id },
})

describe('a page that cannot load the part that writes', () => {
  it('says that nothing was written, and writes once the part comes', async () => {
    vi.resetModules()
    vi.doMock('../../src/store/writing.ts', () => {
      throw new TypeError('Failed to fetch dynamically imported module')
    })
    const { openStore: opened } = await import('../../src/store/records.ts')
    const store = opened({ name: `records-${n++}`, app: '0.0.1' })
    expect(await store.append([sighting('a', { lower: 1 })])).toMatchObject({ kind: 'unavailable' })
    expect(done(await store.load())).toEqual([])
    vi.doUnmock('../../src/store/writing.ts')
    vi.resetModules()
    done(await store.append([sighting('a', { lower: 1 })]))
    expect(done(await store.load())).toHaveLength(1)
    store.close()
  })
})

describe('append', () => {
  it('numbers revisions 1, 2, 3 and keeps every one of them', async () => {
    const store = freshStore()
    for (const lower of [1, 2, 3]) done(await store.append([sighting('a', { lower })]))
    const history = done(await store.history(recordId('sighting', 's', 'a')))
    expect(history.map(r => [r.revision, (r.body as { lower: number }).lower, r.app])).toEqual([
      [1, 1, '0.0.1'],
      [2, 2, '0.0.1'],
      [3, 3, '0.0.1'],
    ])
    expect(done(await store.load())).toEqual([history[2]])
  })

  it('gives two tabs that write the same record at once different revisions, and loses none', async () => {
    const [one, two] = [freshStore({ name: 'two-tabs' }), freshStore({ name: 'two-tabs' })]
    await Promise.all(
      Array.from({ length: 50 }, (_, i) =>
        (i % 2 ? one : two).append([sighting('a', { i }), sighting(`own-${i}`, { i })]),
      ),
    )
    const history = done(await one.history(recordId('sighting', 's', 'a')))
    expect(history.map(r => r.revision)).toEqual(Array.from({ length: 50 }, (_, i) => i + 1))
    expect(new Set(history.map(r => (r.body as { i: number }).i)).size).toBe(50)
    expect(done(await two.load())).toHaveLength(51)
  })

  it('writes an import whole or not at all', async () => {
    const store = freshStore()
    const drafts = Array.from({ length: 20 }, (_, i) => sighting(`${i}`, { i }))
    await expect(store.append([...drafts, sighting('bad', { x: Number.NaN })])).rejects.toThrow(/plain JSON.*bad\.x/)
    expect(done(await store.load())).toEqual([])
    done(await store.append(drafts))
    expect(done(await store.load())).toHaveLength(20)
  })

  it('does not write a retried draft twice', async () => {
    const store = freshStore()
    const draft = { ...sighting('a', { lower: 3 }), writtenMs: 77 }
    done(await store.append([draft]))
    expect(done(await store.append([draft])).map(r => r.revision)).toEqual([1])
    expect(done(await store.append([{ ...draft, writtenMs: 78 }])).map(r => r.revision)).toEqual([2])
  })

  it('keeps any JSON as it is: lone surrogates, right-to-left marks, __proto__, 300 characters', async () => {
    const store = freshStore()
    await fc.assert(
      fc.asyncProperty(
        fc.jsonValue({ noUnicodeString: false }),
        fc.string({ unit: 'binary', maxLength: 300 }),
        async (body, name) => {
          const odd = JSON.parse('{"__proto__": 1}') as object
          const draft = sighting('odd', { body, name: `${name}\ud800\u202e`, odd })
          done(await store.append([draft]))
          const last = done(await store.load()).find(r => r.id === draft.id)!
          expect(last.body).toEqual(draft.body)
          expect(JSON.stringify(last.body)).toBe(JSON.stringify(draft.body))
        },
      ),
      { numRuns: 25, seed: 5 },
    )
  })

  it('orders by revision, not by a clock that was set back', async () => {
    let now = 1_000_000
    const store = freshStore({ clock: () => now })
    done(await store.append([sighting('a', { lower: 1 })]))
    now = 10
    done(await store.append([sighting('a', { lower: 2 })]))
    expect(done(await store.load())).toMatchObject([{ revision: 2, writtenMs: 10, body: { lower: 2 } }])
  })
})

describe('restore', () => {
  it('undoes an edit, a deletion and a creation by a further revision', async () => {
    const store = freshStore()
    const id = recordId('sighting', 's', 'a')
    done(await store.append([sighting('a', { lower: 1 })]))
    done(await store.append([sighting('a', { lower: 2 })]))
    done(await store.restore([{ id, revision: 1 }]))
    expect(done(await store.load())).toMatchObject([{ revision: 3, deleted: false, body: { lower: 1 } }])
    done(await store.append([{ ...sighting('a', { lower: 1 }), deleted: true }]))
    done(await store.restore([{ id, revision: 3 }]))
    expect(done(await store.load())).toMatchObject([{ revision: 5, deleted: false, body: { lower: 1 } }])
    done(await store.restore([{ id, revision: 0 }]))
    expect(done(await store.load())).toMatchObject([{ revision: 6, deleted: true }])
    expect(done(await store.history(id))).toHaveLength(6)
  })

  it("says 'overtaken' and writes nothing when another tab has gone on", async () => {
    const store = freshStore()
    done(await store.append([sighting('a', { lower: 1 }), sighting('b', {})]))
    done(await store.append([sighting('b', { lower: 2 })]))
    const wanted = [
      { id: recordId('sighting', 's', 'a'), revision: 0, expect: 1 },
      { id: recordId('sighting', 's', 'b'), revision: 0, expect: 1 },
    ]
    expect(await store.restore(wanted)).toEqual({ kind: 'done', value: 'overtaken' })
    expect(done(await store.load()).map(r => [r.id, r.revision])).toEqual([
      ['sighting:s/a', 1],
      ['sighting:s/b', 2],
    ])
  })

  it('throws on a revision that never was', async () => {
    const store = freshStore()
    await expect(store.restore([{ id: 'nothing', revision: 1 }])).rejects.toThrow(RangeError)
  })
})

describe('deleteStation', () => {
  it('buries the station and all its records, leaves its copy, and touches no other station', async () => {
    const store = freshStore({ clock: () => 5 })
    done(
      await store.append([
        stationDraft('s'),
        sighting('a', {}),
        sighting('b', {}),
        stationDraft('t'),
        sighting('a', {}, 't'),
      ]),
    )
    const buried = done(await store.deleteStation('s', { name: 'Ridge', text: '{"format":…}' }))
    expect(buried).toHaveLength(3)
    const alive = done(await store.load()).filter(r => !r.deleted)
    expect(alive.map(r => r.id).sort()).toEqual(['sighting:t/a', 'station:t'])
    expect(done(await store.keptCopies())).toEqual([
      { key: 1, station: 's', name: 'Ridge', madeMs: 5, text: '{"format":…}' },
    ])
    expect(done(await store.deleteStation('s', { name: 'Ridge', text: 'again' }))).toEqual([])
    expect(done(await store.keptCopies())).toHaveLength(1)
  })
})

describe('onChanged', () => {
  it('tells the other tab, not the one that wrote', async () => {
    const [one, two] = [freshStore({ name: 'radio' }), freshStore({ name: 'radio' })]
    let heardByOne = 0
    one.onChanged(() => heardByOne++)
    const heardByTwo = new Promise<void>(resolve => two.onChanged(() => resolve()))
    done(await one.append([sighting('a', {})]))
    await heardByTwo
    expect(heardByOne).toBe(0)
  })
})
