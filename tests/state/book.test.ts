import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { type BookModel, createBook as bookOf, entry, recordOf, stationEntry, tombstone } from '../../src/state/book.ts'
import { outgoingBook } from '../../src/state/export.ts'
import type { Kept, StoreFailure } from '../../src/store/database.ts'
import { openStore, type Store } from '../../src/store/records.ts'
import { did } from '../helpers/steps.ts'
import { openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()
const freshStore = (name = `book-${n++}`) => stores.add(openStore({ name, app: '0.0.1' }))

/** How records are kept, whatever they say: without the rules of the field book. */
const createBook = (store: Store) => bookOf(store, Date.now, async () => [])

const station = (id: string, more: object = {}): StationRecord =>
  ({ id, name: `Dish ${id}`, site: { latDeg: 47, lonDeg: 9, heightM: 1 }, sightings: [], ...more }) as never
const sighting = (id: string, lower: number) => entry('sighting', 's', { id, lower } as { id: string })
const readings = (model: BookModel) => model.station.value!.sightings.map(s => [s.id, s.lower])

/** A store whose next writings fail as the phone would. */
function failing(store: Store, failures: StoreFailure[]): Store {
  return {
    ...store,
    append: async drafts => (failures.shift() as Kept<never>) ?? store.append(drafts),
  }
}
async function withStation(store: Store) {
  const model = createBook(store)
  await model.load()
  await model.keep(did('add a station'), [stationEntry(station('s'))])
  return model
}

describe('keep', () => {
  it("shows a record, and 'saved', only when it is written", async () => {
    const model = await withStation(freshStore())
    const saving = model.keep(did('add a sighting'), [sighting('a', 1)])
    expect(model.saving.value.kind).toBe('saving')
    expect(readings(model)).toEqual([])
    await saving
    expect(model.saving.value.kind).toBe('saved')
    expect(readings(model)).toEqual([['a', 1]])
  })

  it('keeps the order in which sightings were made, and the place of one that is edited', async () => {
    const model = await withStation(freshStore())
    for (const id of ['c', 'a', 'b']) await model.keep(did('add'), [sighting(id, 1)])
    await model.keep(did('edit'), [sighting('c', 2)])
    expect(readings(model)).toEqual([
      ['c', 2],
      ['a', 1],
      ['b', 1],
    ])
  })

  it('keeps what could not be written, and writes it once when asked again', async () => {
    const store = freshStore()
    const model = createBook(
      failing(store, [
        { kind: 'full', message: '' },
        { kind: 'dropped', message: '' },
      ]),
    )
    await model.load()
    expect((await model.keep(did('add a station'), [stationEntry(station('s'))])).kind).toBe('full')
    expect(model.saving.value).toMatchObject({ kind: 'unsaved', failure: { kind: 'full' } })
    expect(model.unsaved.value.map(u => u.step)).toEqual([did('add a station')])
    expect((await model.retryUnsaved()).kind).toBe('dropped')
    expect(model.unsaved.value).toHaveLength(1)
    expect((await model.retryUnsaved()).kind).toBe('done')
    expect(model.unsaved.value).toEqual([])
    expect(model.saving.value.kind).toBe('saved')
    expect((await createBook(store).load()).kind).toBe('done')
    expect(model.stations.value.map(s => s.id)).toEqual(['s'])
  })

  it('keeps even a record that is a mistake of ours on the screen', async () => {
    const model = await withStation(freshStore())
    await expect(model.keep(did('add a sighting'), [sighting('a', Number.NaN)])).rejects.toThrow(RangeError)
    expect(model.unsaved.value).toHaveLength(1)
    model.discardUnsaved(model.unsaved.value[0]!)
    expect(model.saving.value.kind).toBe('idle')
  })

  it('completes a half sighting in one step: the half goes, the whole comes', async () => {
    const model = await withStation(freshStore())
    await model.keep(did('stamp a sighting'), [
      entry('half-sighting', 's', { id: 'h', utc: '2026-05-01T00:00:00Z' } as never),
    ])
    expect((model.station.value as never as { halfSightings: unknown[] }).halfSightings).toHaveLength(1)
    const half = recordOf(model, 'half-sighting', 's', 'h')!
    await model.keep(did('complete a sighting'), [tombstone(half), sighting('h', 3)])
    expect(readings(model)).toEqual([['h', 3]])
    await model.undo()
    expect(readings(model)).toEqual([])
    expect((model.station.value as never as { halfSightings: unknown[] }).halfSightings).toHaveLength(1)
  })
})

describe('undo', () => {
  it('takes back one step after the other, down to the empty phone', async () => {
    const model = await withStation(freshStore())
    await model.keep(did('add'), [sighting('a', 1)])
    await model.keep(did('edit'), [sighting('a', 2)])
    await model.keep(did('edit again'), [sighting('a', 3)])
    const seen: unknown[] = []
    for (const expected of ['edit again', 'edit', 'add', 'add a station']) {
      expect(model.undoable.value).toEqual(did(expected))
      expect((await model.undo()).kind).toBe('done')
      seen.push(model.station.value ? readings(model) : null)
    }
    expect(seen).toEqual([[['a', 2]], [['a', 1]], [], null])
    expect(await model.undo()).toEqual({ kind: 'nothing' })
    expect(recordOf(model, 'sighting', 's', 'a')!.revision).toBe(6)
  })

  it('brings a deleted station back with everything', async () => {
    const model = await withStation(freshStore())
    await model.keep(did('add'), [sighting('a', 1)])
    await model.deleteStation('s', '{}')
    expect(model.station.value).toBeNull()
    expect((await model.keptCopies()) as { value: unknown[] }).toMatchObject({
      value: [{ name: 'Dish s', text: '{}' }],
    })
    await model.undo()
    expect(readings(model)).toEqual([['a', 1]])
  })

  it("says 'overtaken' when another tab changed the record, and then shows that", async () => {
    const [one, two] = [await withStation(freshStore('shared')), createBook(freshStore('shared'))]
    await one.keep(did('add'), [sighting('a', 1)])
    await two.load()
    await two.keep(did('edit'), [sighting('a', 2)])
    expect((await one.undo()).kind).toBe('overtaken')
    expect(readings(one)).toEqual([['a', 2]])
  })
})

/** Records by id, as they are shown. */
const shown = (model: BookModel) =>
  model.records.value
    .filter(record => !record.deleted)
    .map(({ id, body }) => [id, body])
    .sort()

interface Act {
  kind: 'write' | 'delete' | 'undo' | 'redo'
  of: string
  value: number
}
const act = fc.oneof(
  { weight: 3, arbitrary: fc.record({ kind: fc.constant('write'), of: fc.constantFrom('a', 'b'), value: fc.nat(9) }) },
  fc.record({ kind: fc.constant('delete'), of: fc.constantFrom('a', 'b'), value: fc.constant(0) }),
  fc.record({ kind: fc.constantFrom('undo', 'redo'), of: fc.constant(''), value: fc.constant(0) }),
) as fc.Arbitrary<Act>

async function does(model: BookModel, one: Act): Promise<void> {
  if (one.kind === 'undo') await model.undo()
  else if (one.kind === 'redo') await model.redo()
  else if (one.kind === 'write') await model.keep(did('write'), [sighting(one.of, one.value)])
  else {
    const record = recordOf(model, 'sighting', 's', one.of)
    if (record && !record.deleted) await model.keep(did('delete'), [tombstone(record)])
  }
}

describe('redo', () => {
  it('after undo is the book as it was, from any book, as often as there are steps', async () => {
    let all = 0
    await fc.assert(
      fc.asyncProperty(fc.array(act, { maxLength: 12 }), fc.integer({ min: 1, max: 6 }), async (acts, times) => {
        const model = await withStation(freshStore())
        for (const one of acts) await does(model, one)
        const states: unknown[] = [shown(model)]
        let back = 0
        while (back < times && (await model.undo()).kind === 'done') {
          back++
          states.push(shown(model))
        }
        all += back
        for (const state of states.reverse().slice(1)) {
          expect((await model.redo()).kind).toBe('done')
          expect(shown(model)).toEqual(state)
        }
      }),
      { numRuns: 25, seed: 7 },
    )
    expect(all).toBeGreaterThan(25)
  }, 60_000)

  it('is of the step that was taken back last; a new step forgets it', async () => {
    const model = await withStation(freshStore())
    await model.keep(did('add'), [sighting('a', 1)])
    await model.keep(did('edit'), [sighting('a', 2)])
    await model.undo()
    expect(model.redoAt.value).toMatchObject({ step: did('edit'), stations: ['s'] })
    expect(readings(model)).toEqual([['a', 1]])
    await model.keep(did('edit otherwise'), [sighting('a', 3)])
    expect(model.redoAt.value).toBeNull()
    expect(await model.redo()).toEqual({ kind: 'nothing' })
    // Three revisions lie between: the first undo is a revision of its own.
    await model.undo()
    await model.undo()
    expect(readings(model)).toEqual([])
  })

  it("says 'overtaken' when another tab changed the record meanwhile", async () => {
    const [one, two] = [await withStation(freshStore('shared-2')), createBook(freshStore('shared-2'))]
    await one.keep(did('add'), [sighting('a', 1)])
    await one.keep(did('edit'), [sighting('a', 2)])
    await one.undo()
    await two.load()
    await two.keep(did('edit'), [sighting('a', 5)])
    expect((await one.redo()).kind).toBe('overtaken')
    expect(readings(one)).toEqual([['a', 5]])
  })
})

describe('a book brought in and out', () => {
  const file: FieldBook = {
    format: 'moonplumb-fieldbook',
    version: 1,
    exportedUtc: '2026-05-01T12:00:00Z',
    stations: [
      station('s', {
        sightings: [
          { id: 'x', lower: 1 },
          { id: 'y', lower: 2 },
        ],
        unheardOf: [1],
      }),
      station('t'),
    ],
  }

  it('doubles nothing: the same file twice adds nothing the second time', async () => {
    const model = createBook(freshStore())
    await model.load()
    expect(await bringIn(model, file)).toBe(4)
    expect(await bringIn(model, outgoingBook(model, 0))).toBe(0)
    const { exportedUtc: _, ...rest } = model.book.value
    expect(rest).toMatchObject({ stations: file.stations })
  })

  it('is one step to undo', async () => {
    const model = createBook(freshStore())
    await model.load()
    await bringIn(model, file)
    await model.undo()
    expect(model.stations.value).toEqual([])
  })

  it('reminds of a backup after a change and is quiet after the export, also after a reload', async () => {
    const store = freshStore()
    const model = createBook(store)
    await model.load()
    await bringIn(model, file)
    expect(model.backups.value.map(b => b.station)).toEqual(['s', 't'])
    await model.noteExported(model.marksFor(['s', 't'], 5))
    expect(model.backups.value).toEqual([])
    await model.keep(did('edit'), [sighting('x', 9)])
    const later = createBook(store)
    await later.load()
    expect(later.backups.value).toEqual([{ station: 's', changes: 1, lastExportMs: 5 }])
  })
})

describe('load', () => {
  it('never lets an older reading of the database replace what was written since', async () => {
    const store = freshStore()
    const model = await withStation(store)
    const old = await store.load()
    await model.keep(did('add'), [sighting('a', 1)])
    let reads = 0
    const late = createBook({ ...store, load: async () => (reads++ === 0 ? old : store.load()) })
    await late.load()
    const saving = late.keep(did('edit'), [sighting('a', 2)])
    // It was made from nothing, and something is there: the person says which stands.
    await expect.poll(() => late.clash.value?.theirs.map(r => r.revision)).toEqual([1])
    late.clash.value!.answer('mine')
    await saving
    await late.load()
    expect(readings(late)).toEqual([['a', 2]])
  })

  it('never lets a reading that was begun before a write take that write back', async () => {
    const store = freshStore()
    const model = await withStation(store)
    await model.keep(did('add'), [sighting('a', 1)])
    const before = await store.load()
    let isLate = false
    const late = createBook({ ...store, load: async () => (isLate ? before : store.load()) })
    await late.load()
    await late.keep(did('edit'), [sighting('a', 2)])
    isLate = true
    await late.load()
    expect(readings(late)).toEqual([['a', 2]])
  })

  it('reads twice, not a hundred times, when another tab says a hundred times that it wrote', async () => {
    const store = freshStore()
    let reads = 0
    const model = createBook({
      ...store,
      load: () => {
        reads++
        return store.load()
      },
    })
    await Promise.all(Array.from({ length: 100 }, () => model.load()))
    expect(reads).toBe(2)
    await model.load()
    expect(reads).toBe(3)
  })

  it('goes on in memory where there is neither a database nor a second copy, and says so', async () => {
    const off = { kind: 'unavailable', message: 'off' } as const
    const model = createBook({ ...freshStore(), load: async () => off, copied: async () => null })
    await model.load()
    expect(model.status.value).toEqual({ kind: 'ready' })
    expect(model.standing.value).toEqual({ kind: 'memory', failure: off })
    await model.keep(did('add a station'), [stationEntry(station('s'))])
    await model.keep(did('add'), [sighting('a', 1)])
    expect(readings(model)).toEqual([['a', 1]])
    await model.undo()
    expect(readings(model)).toEqual([])
  })
})
