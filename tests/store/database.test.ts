import 'fake-indexeddb/auto'
import { deleteDB, openDB } from 'idb'
import { describe, expect, it, vi } from 'vitest'
import {
  failureOf,
  type Handle,
  inTransaction,
  LADDER,
  openDatabase,
  type StoreNotice,
  type UpgradeStep,
} from '../../src/store/database.ts'
import { openStore } from '../../src/store/records.ts'

let n = 0
const freshName = () => `database-${n++}`
const shapeOf = async (db: Handle) => [...db.objectStoreNames]
const error = (name: string, message = '') => new DOMException(message, name)

/** A later version, invented: a new store, and every record gets its kind in capitals. */
const LATER: UpgradeStep = (db, tx) => {
  db.createObjectStore('later' as never)
  void tx
    .objectStore('records')
    .openCursor()
    .then(async function each(cursor): Promise<void> {
      if (!cursor) return
      await cursor.update({ ...cursor.value, kind: cursor.value.kind.toUpperCase() as never })
      return each(await cursor.continue())
    })
}
const record = {
  id: 'x',
  revision: 1,
  kind: 'station',
  station: 'x',
  deleted: false,
  place: 0,
  body: {},
  writtenMs: 1,
  app: '',
} as const

describe('the ladder', () => {
  it('leads from nothing to version 1', async () => {
    const database = openDatabase({ name: freshName() })
    expect(await database.run(shapeOf)).toEqual({ kind: 'done', value: ['kept-copies', 'marks', 'records'] })
    database.close()
  })

  it('leads from 1 to an invented 2 with its records, and from nothing to 2 at once', async () => {
    const name = freshName()
    const first = openDatabase({ name })
    await first.run(db => db.add('records', record))
    first.close()
    const second = openDatabase({ name, ladder: [...LADDER, LATER] })
    expect(await second.run(shapeOf)).toEqual({ kind: 'done', value: ['kept-copies', 'later', 'marks', 'records'] })
    expect(await second.run(db => db.getAll('records'))).toMatchObject({ value: [{ id: 'x', kind: 'STATION' }] })
    second.close()
    const fresh = openDatabase({ name: freshName(), ladder: [...LADDER, LATER] })
    expect(await fresh.run(shapeOf)).toMatchObject({ value: ['kept-copies', 'later', 'marks', 'records'] })
    fresh.close()
  })

  it('leaves the old version whole when a step fails', async () => {
    const name = freshName()
    const first = openDatabase({ name })
    await first.run(db => db.add('records', record))
    first.close()
    const broken = openDatabase({
      name,
      ladder: [
        ...LADDER,
        (_db, tx) => {
          tx.objectStore('records')
            .clear()
            .catch(() => {})
          tx.abort()
        },
      ],
    })
    expect((await broken.run(shapeOf)).kind).toBe('unavailable')
    const again = openDatabase({ name })
    expect(await again.run(db => db.count('records'))).toEqual({ kind: 'done', value: 1 })
    again.close()
  })
})

describe('two tabs with different versions', () => {
  it("close the old one's connection at once, tell it, and answer 'newer-tab' from then on", async () => {
    const name = freshName()
    const told: StoreNotice[] = []
    const old = openDatabase({ name, tell: what => told.push(what) })
    await old.run(shapeOf)
    const newer = openDatabase({ name, ladder: [...LADDER, LATER] })
    expect((await newer.run(shapeOf)).kind).toBe('done')
    expect(told).toEqual(['closed-for-newer'])
    expect((await old.run(shapeOf)).kind).toBe('newer-tab')
    newer.close()
  })

  it("say 'blocked' while a tab does not let go, and go on by themselves when it does", async () => {
    const name = freshName()
    const stubborn = await openDB(name, 1, { upgrade: db => LADDER[0]!(db as never, undefined as never) })
    const told: StoreNotice[] = []
    const newer = openDatabase({
      name,
      ladder: [...LADDER, LATER],
      tell: what => told.push(what),
      patience: { blocked: 30 },
    })
    expect((await newer.run(shapeOf)).kind).toBe('blocked')
    expect(told).toEqual(['blocked'])
    stubborn.close()
    await new Promise(resolve => setTimeout(resolve, 50))
    expect((await newer.run(shapeOf)).kind).toBe('done')
    newer.close()
  })

  it('open again after somebody deleted the database', async () => {
    const name = freshName()
    const database = openDatabase({ name })
    await database.run(db => db.add('records', record))
    await deleteDB(name)
    expect(await database.run(db => db.count('records'))).toEqual({ kind: 'done', value: 0 })
    database.close()
  })
})

describe('a lost connection', () => {
  it.each([
    error('InvalidStateError', 'The database connection is closing.'),
    error('UnknownError', 'Connection to Indexed Database server lost. Refresh the page to try again'),
    error('UnknownError', 'Internal error opening backing store for indexedDB.open.'),
    error('AbortError'),
  ])('is opened again and the work done once more: %s', async lost => {
    const told: StoreNotice[] = []
    const database = openDatabase({ name: freshName(), tell: what => told.push(what) })
    await database.run(shapeOf)
    let tries = 0
    const answer = await database.run(async db => {
      if (tries++ === 0) throw lost
      return db.count('records')
    })
    expect(answer).toEqual({ kind: 'done', value: 0 })
    expect(tries).toBe(2)
    expect(told).toEqual(['dropped', 'reopened'])
    database.close()
  })

  it("is 'dropped' after one retry, and the next work may succeed", async () => {
    const database = openDatabase({ name: freshName() })
    await database.run(shapeOf)
    let tries = 0
    const answer = await database.run(async () => {
      tries++
      throw error('UnknownError', 'lost')
    })
    expect([answer.kind, tries]).toEqual(['dropped', 2])
    expect((await database.run(shapeOf)).kind).toBe('done')
    database.close()
  })

  it('really closed under our feet: the same answer', async () => {
    const database = openDatabase({ name: freshName() })
    await database.run(async db => db.close())
    expect((await database.run(db => db.count('records'))).kind).toBe('done')
    database.close()
  })

  it("that never answers is 'dropped' in time", async () => {
    const database = openDatabase({ name: freshName(), patience: { work: 20 } })
    expect((await database.run(() => new Promise(() => {}))).kind).toBe('dropped')
  })

  it("is 'unavailable' where no database ever opened", async () => {
    const before = globalThis.indexedDB
    const database = openDatabase({ name: freshName() })
    try {
      globalThis.indexedDB = {
        open: () => {
          throw error('SecurityError')
        },
      } as never // prettier-ignore
      expect((await database.run(shapeOf)).kind).toBe('unavailable')
      globalThis.indexedDB = undefined as never
      expect((await database.run(shapeOf)).kind).toBe('unavailable')
    } finally {
      globalThis.indexedDB = before
    }
  })
})

describe('failureOf', () => {
  it('names what the browsers throw, and lets our own mistakes through', () => {
    expect(failureOf(error('QuotaExceededError')).kind).toBe('full')
    expect(failureOf(error('VersionError')).kind).toBe('newer-tab')
    expect(failureOf(error('SecurityError')).kind).toBe('unavailable')
    for (const mistake of [error('DataError'), error('ConstraintError'), new TypeError('x'), new RangeError('y')])
      expect(() => failureOf(mistake)).toThrow()
  })
})

describe('inTransaction', () => {
  it('asks that what is written is flushed to the medium: durability strict, on every one that writes', async () => {
    const asked: unknown[] = []
    const begin = IDBDatabase.prototype.transaction
    const spy = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      ...args
    ) {
      if (args[1] === 'readwrite') asked.push(args[2])
      return begin.apply(this, args)
    })
    const store = openStore({ name: freshName(), app: '', second: null })
    const draft = { id: 'sighting:s/a', kind: 'sighting', station: 's', body: { id: 'a' } } as const
    await store.append([draft])
    await store.restore([{ id: draft.id, revision: 0 }])
    await store.putMarks([{ key: 'k', ms: 0, count: 0 }])
    await store.append([draft])
    await store.deleteStation('s', { name: 'S', text: '{}' })
    spy.mockRestore()
    store.close()
    expect(asked).toEqual(Array(5).fill({ durability: 'strict' }))
  })

  it('throws the reason of the transaction, not the AbortError of its requests', async () => {
    const database = openDatabase({ name: freshName() })
    const answer = database.run(db =>
      inTransaction(db, ['records'], async tx => {
        await tx.objectStore('records').add(record)
        await tx.objectStore('records').add(record)
      }),
    )
    await expect(answer).rejects.toMatchObject({ name: 'ConstraintError' })
    expect(await database.run(db => db.count('records'))).toEqual({ kind: 'done', value: 0 })
    database.close()
  })
})
