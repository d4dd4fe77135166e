/** What a field book would do before it is brought in, and two phones that hand one to and fro. */
import 'fake-indexeddb/auto'
import { afterEach, describe, expect, it } from 'vitest'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { writeFieldBook } from '../../src/core/records/outgo.ts'
import { recordId } from '../../src/core/records/revisions.ts'
import { type BookModel, createBook, entry } from '../../src/state/book.ts'
import { arrivalsFor, type Choices, faultsAfter, lookAt, openChoices, type Plan } from '../../src/state/bringin.ts'
import { openStore, type Store } from '../../src/store/records.ts'
import { smallBook } from '../helpers/smallbook.ts'

let n = 0
const opened: Store[] = []
afterEach(() => {
  for (const store of opened.splice(0)) store.close()
})
async function phone(): Promise<BookModel> {
  const store = openStore({ name: `bringin-${n++}`, app: '0.0.1' })
  opened.push(store)
  const model = createBook(store)
  await model.load()
  return model
}
const NONE: Choices = { sides: {}, deleted: null }
const textOf = (book: unknown): string => writeFieldBook(book as FieldBook)
const planOf = (model: BookModel, text: string): Plan => {
  const looked = lookAt(model.records.value, text)
  if (looked.kind !== 'plan') throw new Error(JSON.stringify(looked.faults))
  return looked.plan
}
/** As bringIn does it, on a model of its own. */
async function bring(model: BookModel, text: string, choices: Choices = NONE): Promise<number> {
  const arrivals = arrivalsFor(planOf(model, text), choices)
  if (arrivals.length > 0)
    await model.save(
      'bring in',
      arrivals.map(({ revision, ...draft }) => ({ ...draft, body: { ...(draft.body as object), revision } })),
    )
  return arrivals.length
}
const exported = (model: BookModel): string => writeFieldBook(model.exportBook(0))
const bare = (book: unknown): unknown =>
  JSON.parse(JSON.stringify(book), (key, value) => (key === 'revision' || key === 'exportedUtc' ? undefined : value))
const reading = (model: BookModel, id: string): number | undefined =>
  model.station.value?.sightings.find(s => s.id === id)?.lower
const edit = (model: BookModel, lower: number) => {
  const station = model.station.value as StationRecord
  const body = { ...station.sightings.find(s => s.id === 'si-1')!, lower }
  return model.save('edit', [entry('sighting', station.id, body)])
}

describe('lookAt', () => {
  it('lists every fault with its path, and stores nothing', async () => {
    const model = await phone()
    const broken = smallBook()
    broken.stations[0].site.latDeg = 95
    broken.stations[0].sightings[0].utc = 'yesterday'
    const looked = lookAt(model.records.value, JSON.stringify(broken))
    expect(looked.kind === 'refused' && looked.faults.map(f => f.path)).toEqual([
      'stations[0].site.latDeg',
      'stations[0].sightings[0].utc',
    ])
    expect(model.records.value).toEqual([])
  })

  it('never brings back unasked what was deleted here, though it be newer there', async () => {
    const model = await phone()
    await bring(model, textOf(smallBook()))
    await model.deleteStation('st-1', null)
    const newer = smallBook()
    newer.stations[0].revision = 9
    const plan = planOf(model, textOf(newer))
    expect(plan.updated).toEqual([])
    expect(plan.deletedHere).toHaveLength(model.records.value.length)
    expect(openChoices(plan, NONE)).toBe(1)
    expect(arrivalsFor(plan, { ...NONE, deleted: 'stay' })).toEqual([])
    await bring(model, textOf(newer), { ...NONE, deleted: 'back' })
    expect(bare(model.stations.value)).toEqual(bare(smallBook().stations))
  })
})

describe('faultsAfter', () => {
  it('refuses a choice that leaves a sighting without its feed', async () => {
    const model = await phone()
    await bring(model, textOf(smallBook()))
    // Here the second feed goes, with all that names it; there a new sighting was made with it.
    const gone = smallBook()
    gone.stations[0].feeds.pop()
    gone.stations[0].priors.pop()
    const two = smallBook()
    two.stations[0].feeds[1].name = 'renamed'
    two.stations[0].sightings.push({ ...two.stations[0].sightings[0], id: 'si-new', feed: 'c' })
    two.stations[0].feeds.push({ id: 'c', name: 'third', frequencyMHz: 10_368 })
    const plan = planOf(model, textOf(two))
    expect(plan.conflicts.map(c => c.id)).toEqual([recordId('station', 'st-1')])
    const sides = (side: 'mine' | 'theirs'): Choices => ({ ...NONE, sides: { [plan.conflicts[0]!.id]: side } })
    expect(faultsAfter(model.records.value, arrivalsFor(plan, sides('theirs')))).toEqual([])
    const faults = faultsAfter(model.records.value, arrivalsFor(plan, sides('mine')))
    expect(faults.map(f => f.path)).toEqual(['stations[0].sightings[5].feed'])
  })
})

describe('two phones', () => {
  it('have the same book after one hand-over, and the second one doubles nothing', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    const text = exported(one)
    expect(await bring(two, text)).toBe(one.records.value.length)
    expect(bare(JSON.parse(exported(two)))).toEqual(bare(JSON.parse(text)))
    expect(await bring(two, text)).toBe(0)
    expect(await bring(one, exported(two))).toBe(0)
  })

  it('take an edit for newer on its way to and fro, five times in a row', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    await edit(one, 1)
    await edit(one, 2) // its number is 3 here, and 1 in the other phone's own store
    await bring(two, exported(one))
    for (let lower = 10; lower < 15; lower++) {
      const [from, to] = lower % 2 === 0 ? [two, one] : [one, two]
      await edit(from, lower)
      const plan = planOf(to, exported(from))
      expect([plan.updated.length, plan.conflicts.length, plan.older.length]).toEqual([1, 0, 0])
      await bring(to, exported(from))
      expect(reading(to, 'si-1')).toBe(lower)
    }
  })

  it('ask when both edited the same sighting, and what was chosen stays chosen', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    await bring(two, exported(one))
    await edit(one, 21)
    await edit(two, 22)
    const plan = planOf(two, exported(one))
    const id = recordId('sighting', 'st-1', 'si-1')
    expect(plan.conflicts.map(c => c.id)).toEqual([id])
    expect(openChoices(plan, NONE)).toBe(1)
    await bring(two, exported(one), { ...NONE, sides: { [id]: 'theirs' } })
    expect(reading(two, 'si-1')).toBe(21)
    expect(await bring(two, exported(one))).toBe(0)
    await two.undo()
    expect(reading(two, 'si-1')).toBe(22)
  })
})
