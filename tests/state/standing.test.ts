/** What the book does around its store: where the database does not open, at a return, at a leave, at the first save. */
import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { recordId } from '../../src/core/records/kinds.ts'
import { type BookModel, createBook, entry, stationEntry } from '../../src/state/book.ts'
import { outgoingBook } from '../../src/state/export.ts'
import type { StoreFailure } from '../../src/store/database.ts'
import { openStore, type Store } from '../../src/store/records.ts'
import { secondCopy } from '../../src/store/secondcopy.ts'
import { memoryCaches } from '../helpers/cachestorage.ts'
import { memoryStorage } from '../helpers/memorystorage.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { did } from '../helpers/steps.ts'
import { openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()
const stops: (() => void)[] = []
const book = (): FieldBook => smallBook() as FieldBook
const OFF: StoreFailure = { kind: 'unavailable', message: 'off' }

/** A phone whose database can be switched off and on. */
function phone() {
  const caches = memoryCaches()
  const name = `standing-${n++}`
  let isOff = false
  const open = () => {
    const store = stores.add(openStore({ name, app: '1', second: secondCopy(name, caches.storage)! }))
    const guarded = <T extends (...args: never[]) => unknown>(act: T): T =>
      ((...args: never[]) => (isOff ? Promise.resolve(OFF) : act(...args))) as T
    return {
      ...store,
      load: guarded(store.load),
      append: guarded(store.append),
      level: guarded(store.level),
      marks: guarded(store.marks),
    } satisfies Store
  }
  return { ...caches, name, open, off: (yes: boolean) => (isOff = yes) }
}
function page() {
  const [doc, win] = [new EventTarget(), new EventTarget()]
  vi.stubGlobal('document', Object.assign(doc, { visibilityState: 'visible' }))
  vi.stubGlobal('window', win)
  return {
    comeBack: () => doc.dispatchEvent(new Event('visibilitychange')),
    leaves: () => win.dispatchEvent(new Event('beforeunload', { cancelable: true })),
  }
}
async function begun(store: Store): Promise<BookModel> {
  const model = createBook(store)
  await model.load()
  return model
}
const started = (model: BookModel) => {
  stops.push(model.start())
  return model
}
const ids = (model: BookModel) =>
  model.records.value
    .filter(r => !r.deleted)
    .map(r => r.id)
    .sort()

beforeEach(() => {
  vi.stubGlobal('localStorage', memoryStorage())
})
afterEach(() => {
  for (const stop of stops.splice(0)) stop()
  vi.unstubAllGlobals()
})

const note = (model: BookModel, text: string) => {
  const sighting = model.station.value!.sightings[0]!
  return entry('sighting', model.station.value!.id, { ...sighting, note: text })
}
const notes = (model: BookModel) => model.station.value!.sightings[0]!.note

describe('a database that does not open', () => {
  it('is stood in for by the second copy, which is written as well, and takes it all over when it opens', async () => {
    const own = phone()
    const before = await begun(own.open())
    await bringIn(before, book())
    own.off(true)
    const model = await begun(own.open())
    expect(model.standing.value).toMatchObject({ kind: 'copy', failure: OFF, records: before.records.value.length })
    expect(ids(model)).toEqual(ids(before))
    expect((await model.keep(did('note'), [note(model, 'without it')])).kind).toBe('done')
    expect(notes(model)).toBe('without it')
    // Another visit without it still has it.
    expect(notes(await begun(own.open()))).toBe('without it')
    expect(await model.tryAgain()).toEqual(OFF)
    own.off(false)
    expect((await model.tryAgain()).kind).toBe('done')
    expect(model.standing.value).toEqual({ kind: 'database' })
    expect(notes(model)).toBe('without it')
    const later = await begun(own.open())
    expect(later.standing.value).toEqual({ kind: 'database' })
    expect(notes(later)).toBe('without it')
    expect((await later.history(note(later, '').id)) as { value: unknown[] }).toMatchObject({
      value: [{ revision: 1 }, { revision: 2 }],
    })
  })

  it('loses neither of two edits where the database went on by itself meanwhile', async () => {
    const own = phone()
    const other = await begun(own.open())
    await bringIn(other, book())
    own.off(true)
    const model = await begun(own.open())
    own.off(false)
    await other.keep(did('note'), [note(other, 'in the database')])
    await model.keep(did('note'), [note(model, 'in the copy')])
    expect((await model.tryAgain()).kind).toBe('done')
    const history = await model.history(note(model, '').id)
    if (history.kind !== 'done') throw new Error(history.kind)
    const said = history.value.map(r => (r.body as { note?: string }).note)
    expect(said).toContain('in the database')
    expect(said).toContain('in the copy')
  })

  it('is made new from the second copy', async () => {
    const own = phone()
    const before = await begun(own.open())
    await bringIn(before, book())
    own.off(true)
    const model = await begun(own.open())
    own.off(false)
    stores.closeAll()
    expect((await model.remake()).kind).toBe('done')
    expect(model.standing.value).toEqual({ kind: 'database' })
    expect(ids(await begun(own.open()))).toEqual(ids(before))
  })

  it('with no second copy leaves the memory of the page, which goes into the database when it opens', async () => {
    const own = phone()
    own.off(true)
    const model = await begun({ ...own.open(), copied: async () => null })
    expect(model.standing.value).toEqual({ kind: 'memory', failure: OFF })
    await model.keep(did('make'), [stationEntry(book().stations[0]!)])
    own.off(false)
    expect((await model.tryAgain()).kind).toBe('done')
    expect((await begun(own.open())).stations.value.map(s => s.id)).toEqual(['st-1'])
  })
})

describe('a page', () => {
  it('asks before it is left while something is not kept, and only then', async () => {
    const { leaves } = page()
    const own = phone()
    const model = started(await begun(own.open()))
    expect(leaves()).toBe(true)
    own.off(true)
    await model.keep(did('make'), [stationEntry(book().stations[0]!)])
    expect(leaves()).toBe(false)
    own.off(false)
    await model.retryUnsaved()
    expect(leaves()).toBe(true)
  })

  it('looks at its connection when it comes back', async () => {
    const { comeBack } = page()
    let probes = 0
    const store = phone().open()
    const model = await begun({
      ...store,
      probe: () => {
        probes++
        return store.probe()
      },
    })
    started(model)
    comeBack()
    expect(probes).toBe(1)
  })

  it('asks the browser to keep its data, once, after the first save', async () => {
    const persist = vi.fn(async () => true)
    vi.stubGlobal('navigator', { storage: { persist } })
    const model = await begun(phone().open())
    expect(persist).not.toHaveBeenCalled()
    await model.keep(did('make'), [stationEntry(book().stations[0]!)])
    await model.keep(did('change'), [stationEntry({ ...book().stations[0]!, name: 'Other' } as StationRecord)])
    expect(persist).toHaveBeenCalledTimes(1)
  })

  it('that is loaded again writes what the one before could not', async () => {
    page()
    const own = phone()
    const first = started(await begun(own.open()))
    own.off(true)
    await first.keep(did('make'), [stationEntry(book().stations[0]!)])
    for (const stop of stops.splice(0)) stop()
    own.off(false)
    const second = started(await begun(own.open()))
    await expect.poll(() => second.stations.value.map(s => s.id)).toEqual(['st-1'])
    expect(second.unsaved.value).toEqual([])
    const waiting = () => Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i)!)
    await expect.poll(() => waiting().filter(key => key.includes('unsaved'))).toEqual([])
  })
})

describe('what is kept at once', () => {
  const outbox = () =>
    Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i)!).filter(key => key.includes('unsaved'))

  // Cut off before the store had anything, and after it had all of it but before it could say so.
  for (const written of [false, true])
    it(`is there once after a reload in the middle of its writing, ${written ? 'after' : 'before'} it was written`, async () => {
      page()
      const own = phone()
      const { append, ...rest } = own.open()
      const never = new Promise<never>(() => {})
      const first = started(
        await begun({ ...rest, append: (...what) => (written ? append(...what).then(() => never) : never) }),
      )
      const [station] = book().stations
      void first.keep(did('make'), [stationEntry(station!)], { atOnce: true })
      expect(outbox()).toHaveLength(1)
      expect(first.underWay.value.map(u => u.drafts[0]!.id)).toEqual([recordId('station', 'st-1')])
      if (written) await expect.poll(async () => (await begun(own.open())).stations.value.length).toBe(1)
      for (const stop of stops.splice(0)) stop()
      const second = started(await begun(own.open()))
      await expect.poll(outbox).toEqual([])
      expect([second.unsaved.value, second.underWay.value]).toEqual([[], []])
      expect(second.stations.value.map(s => s.id)).toEqual(['st-1'])
      expect(await second.history(recordId('station', 'st-1'))).toMatchObject({ value: [{ revision: 1 }] })
      expect(second.clash.value).toBeNull()
    })

  it('leaves the outbox as soon as it is written, or waits among the unsaved', async () => {
    page()
    const own = phone()
    const model = started(await begun(own.open()))
    await model.keep(did('make'), [stationEntry(book().stations[0]!)], { atOnce: true })
    expect([outbox(), model.underWay.value]).toEqual([[], []])
    own.off(true)
    await model.keep(did('change'), [stationEntry({ ...book().stations[0]!, name: 'Other' } as StationRecord)], {
      atOnce: true,
    })
    expect([outbox().length, model.underWay.value.length, model.unsaved.value.length]).toEqual([1, 0, 1])
  })
})

describe('what waits to be written', () => {
  it('goes out with an export: it may be all that is left of it', async () => {
    const own = phone()
    const model = await begun(own.open())
    await bringIn(model, book())
    own.off(true)
    expect((await model.keep(did('note'), [note(model, 'only here')])).kind).toBe('unavailable')
    expect(outgoingBook(model, 0).stations[0]!.sightings[0]).toMatchObject({ note: 'only here', revision: 2 })
  })
})

describe('the rules of the whole station', () => {
  it('refuse an undo that would leave a sighting without its feed, and say so', async () => {
    const own = phone()
    const model = await begun(own.open())
    await bringIn(model, book())
    const station = model.station.value!
    const feed = { id: 'new', name: 'New', frequencyMHz: 1296 }
    await model.keep(did('add a feed'), [
      stationEntry({ ...station, feeds: [...station.feeds, feed] } as StationRecord),
    ])
    // Another tab uses it; the undo of this one would take it away.
    const other = await begun(own.open())
    const moon = other.station.value!.sightings[0]!
    await other.keep(did('add'), [entry('sighting', station.id, { ...moon, id: 'uses-it', feed: 'new' })])
    await model.load()
    expect(await model.undo()).toMatchObject({ kind: 'refused', message: expect.stringMatching(/no feed "new"/) })
    expect(model.station.value!.feeds.map(f => f.id)).toContain('new')
    expect(model.undoable.value).toEqual(did('add a feed'))
  })

  it('refuse a writing, and leave what is on the screen', async () => {
    const model = await begun(phone().open())
    await bringIn(model, book())
    const moon = model.station.value!.sightings[0]!
    const answer = await model.keep(did('add'), [entry('sighting', 'st-1', { ...moon, id: 'x', feed: 'nowhere' })])
    expect(answer).toMatchObject({ kind: 'refused', message: expect.stringMatching(/nowhere/) })
    expect(model.unsaved.value).toEqual([])
    expect(model.saving.value.kind).not.toBe('saving')
  })
})

describe('a form over a newer revision', () => {
  async function twoTabs() {
    const own = phone()
    const [mine, other] = [await begun(own.open()), await begun(own.open())]
    await bringIn(mine, book())
    await other.load()
    const draft = note(mine, 'mine')
    mine.openForm(draft.id, 1)
    await other.keep(did('note'), [note(other, 'theirs')])
    return { mine, draft, own }
  }

  it.each([
    ['mine', 'done', 'mine'],
    ['theirs', 'done', 'theirs'],
    ['back', 'overtaken', 'theirs'],
  ] as const)('asks, and "%s" answers %s', async (choice, kind, stands) => {
    const { mine, draft, own } = await twoTabs()
    const saving = mine.keep(did('note'), [draft])
    await expect.poll(() => mine.clash.value?.theirs.map(r => (r.body as { note: string }).note)).toEqual(['theirs'])
    expect(mine.clash.value!.mine).toHaveLength(1)
    mine.clash.value!.answer(choice)
    expect((await saving).kind).toBe(kind)
    expect(mine.clash.value).toBeNull()
    expect(mine.unsaved.value).toEqual([])
    expect(notes(await begun(own.open()))).toBe(stands)
  })

  it('does not ask where both say the same, nor for another record of the station', async () => {
    const { mine, own } = await twoTabs()
    expect((await mine.keep(did('note'), [note(mine, 'theirs')])).kind).toBe('done')
    const other = { ...mine.station.value!.sightings[1]!, note: 'another' }
    expect((await mine.keep(did('note'), [entry('sighting', 'st-1', other)])).kind).toBe('done')
    expect(notes(await begun(own.open()))).toBe('theirs')
    expect(mine.records.value.some(r => r.id === recordId('sighting', 'st-1', other.id))).toBe(true)
  })
})
