import { describe, expect, it } from 'vitest'
import { recordId } from '../../src/core/records/kinds.ts'
import type { Draft } from '../../src/core/records/stored.ts'
import { openMemoryStore } from '../../src/store/memorystore.ts'
import type { Copied } from '../../src/store/secondcopy.ts'

const NOTHING: Copied = { records: [], copies: [] }
const ID = recordId('sighting', 's', 'a')
const sighting = (lower: number): Draft => ({ id: ID, kind: 'sighting', station: 's', body: { id: 'a', lower } })

describe('a store in memory', () => {
  it('numbers revisions, restores, buries a station and keeps its copy, as the real one does', async () => {
    let now = 0
    const store = openMemoryStore({ app: '1', clock: () => ++now, from: NOTHING })
    for (const lower of [1, 2]) await store.append([sighting(lower)])
    expect(await store.restore([{ id: ID, revision: 1, expect: 2 }])).toMatchObject({
      kind: 'done',
      value: [{ revision: 3, body: { lower: 1 } }],
    })
    expect(await store.restore([{ id: ID, revision: 1, expect: 2 }])).toEqual({ kind: 'done', value: 'overtaken' })
    await store.deleteStation('s', { name: 'S', text: '{}' })
    expect(await store.load()).toMatchObject({ value: [{ revision: 4, deleted: true }] })
    expect(await store.keptCopies()).toMatchObject({ value: [{ station: 's', text: '{}' }] })
    expect(store.writtenHere().map(r => r.revision)).toEqual([1, 2, 3, 4])
  })

  it('goes on from what the second copy held, and writes into that alone', async () => {
    const kept: Copied[] = []
    const first = openMemoryStore({ app: '1', clock: () => 1, from: NOTHING })
    await first.append([sighting(1)])
    const from = { records: first.writtenHere(), copies: [] }
    const store = openMemoryStore({
      app: '1',
      clock: () => 2,
      from,
      keep: async what => {
        kept.push(what)
        return true
      },
    })
    await store.append([sighting(2)])
    expect(kept).toMatchObject([{ records: [{ id: ID, revision: 2, body: { lower: 2 } }] }])
    expect(store.writtenHere()).toHaveLength(1)
  })

  it('writes nothing where the second copy takes nothing', async () => {
    const store = openMemoryStore({ app: '1', from: NOTHING, keep: async () => false })
    expect((await store.append([sighting(1)])).kind).toBe('unavailable')
    expect(await store.load()).toEqual({ kind: 'done', value: [] })
  })

  it("answers 'overtaken' where a form was opened on an older revision", async () => {
    const store = openMemoryStore({ app: '1', from: NOTHING })
    await store.append([sighting(1)])
    expect((await store.append([sighting(2)], { expected: new Map([[ID, 0]]) })).kind).toBe('overtaken')
    expect((await store.append([sighting(2)], { expected: new Map([[ID, 1]]) })).kind).toBe('done')
  })
})
