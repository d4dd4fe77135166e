/** What a field book would do before it is brought in, and two phones that hand one to and fro. */
import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { recordId } from '../../src/core/records/kinds.ts'
import { writeFieldBook } from '../../src/core/records/outgo.ts'
import { choiceKey, DELETION } from '../../src/core/records/plan.ts'
import { type BookModel, createBook, entry, recordOf, stationEntry, tombstone } from '../../src/state/book.ts'
import { outgoingBook } from '../../src/state/export.ts'
import {
  arrivalsFor,
  type Choices,
  createImport,
  faultsAfter,
  importAtOnce,
  openChoices,
  type Plan,
  planOfText,
} from '../../src/state/import.ts'
import { openStore } from '../../src/store/records.ts'
import { createImporter, type ImportWorker } from '../../src/worker/import.ts'
import { createImporting } from '../../src/worker/importing.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { did } from '../helpers/steps.ts'
import { openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()
async function phone(): Promise<BookModel> {
  const model = createBook(stores.add(openStore({ name: `import-${n++}`, app: '0.0.1' })))
  await model.load()
  return model
}
const NONE: Choices = { sides: {}, deleted: null }
const textOf = (book: unknown): string => writeFieldBook(book as FieldBook)
const planOf = (model: BookModel, text: string): Plan => {
  const looked = planOfText(model.records.value, text)
  if (looked.kind !== 'plan') throw new Error(JSON.stringify(looked.faults))
  return looked.plan
}
/** On a model of its own. @returns how many records it brings */
async function bring(model: BookModel, text: string, choices: Choices = NONE): Promise<number> {
  const plan = planOf(model, text)
  expect(await importAtOnce(plan, choices, did('bring in'), model)).toBe(true)
  return arrivalsFor(plan, choices).length
}
const exported = (model: BookModel): string => writeFieldBook(outgoingBook(model, 0))
const bare = (book: unknown): unknown =>
  JSON.parse(JSON.stringify(book), (key, value) =>
    ['revision', 'exportedUtc', 'made'].includes(key) ? undefined : value,
  )
const reading = (model: BookModel, id: string): number | undefined =>
  model.station.value?.sightings.find(s => s.id === id)?.lower
const edit = (model: BookModel, lower: number) => {
  const station = model.station.value as StationRecord
  const body = { ...station.sightings.find(s => s.id === 'si-1')!, lower }
  return model.keep(did('edit'), [entry('sighting', station.id, body)])
}

describe('planOfText', () => {
  it('lists every fault with its path, and stores nothing', async () => {
    const model = await phone()
    const broken = smallBook()
    broken.stations[0].site.latDeg = 95
    broken.stations[0].sightings[0].utc = 'yesterday'
    const looked = planOfText(model.records.value, JSON.stringify(broken))
    expect(looked.kind === 'refused' && looked.faults.map(f => f.path)).toEqual([
      'stations[0].site.latDeg',
      'stations[0].sightings[0].utc',
    ])
    expect(model.records.value).toEqual([])
  })

  it('leaves deleted what was deleted here, and brings it back when asked to', async () => {
    const model = await phone()
    await bring(model, textOf(smallBook()))
    await model.deleteStation('st-1', null)
    const plan = planOf(model, textOf(smallBook()))
    expect([plan.updated, plan.conflicts]).toEqual([[], []])
    expect(plan.deletedHere).toHaveLength(model.records.value.length)
    expect(openChoices(plan, NONE)).toBe(0)
    expect(arrivalsFor(plan, NONE)).toEqual([])
    await bring(model, textOf(smallBook()), { ...NONE, deleted: 'back' })
    expect(bare(model.stations.value)).toEqual(bare(smallBook().stations))
  })

  it('asks once for a station that was deleted here and edited there, and all of it follows the answer', async () => {
    for (const side of ['mine', 'theirs'] as const) {
      const model = await phone()
      await bring(model, textOf(smallBook()))
      await model.deleteStation('st-1', null)
      const newer = smallBook()
      Object.assign(newer.stations[0], { revision: 9, notes: 'new' })
      const plan = planOf(model, textOf(newer))
      expect(openChoices(plan, NONE)).toBe(1)
      const choices = { ...NONE, sides: { [choiceKey(recordId('station', 'st-1'), DELETION)]: side } }
      await bring(model, textOf(newer), choices)
      expect(bare(model.stations.value)).toEqual(side === 'mine' ? [] : bare(newer.stations))
      expect(await bring(model, textOf(newer))).toBe(0)
    }
  })
})

describe('a book that would not be sound', () => {
  const STATION = recordId('station', 'st-1')
  /** The second feed goes on one phone, with all that names it; on the other a sighting is made with it. */
  async function torn(): Promise<[BookModel, BookModel]> {
    const [one, two] = [await phone(), await phone()]
    const start = smallBook()
    start.stations[0].sightings = start.stations[0].sightings.filter((s: { feed?: string }) => s.feed !== 'b')
    start.stations[0].priors.pop()
    await bring(one, textOf(start))
    await bring(two, exported(one))
    const station = one.station.value!
    await one.keep(did('take a feed away'), [stationEntry({ ...station, feeds: station.feeds.slice(0, 1) })])
    await two.keep(did('sight'), [entry('sighting', 'st-1', { ...station.sightings[0]!, id: 'si-new', feed: 'b' })])
    return [one, two]
  }

  it('asks about the feed that a sighting from the other phone needs, in both directions', async () => {
    const [one, two] = await torn()
    for (const [from, to, keeps] of [
      [two, one, 'theirs'],
      [one, two, 'mine'],
    ] as const) {
      const plan = planOf(to, exported(from))
      expect(plan.why.map(f => f.path)).toEqual(['stations[0].sightings[4].feed'])
      expect(plan.conflicts.map(c => [c.id, c.asks.map(ask => ask.part)])).toEqual([[STATION, ['/feeds/b']]])
      const choices = { ...NONE, sides: { [choiceKey(STATION, '/feeds/b')]: keeps } }
      expect(faultsAfter(to.records.value, arrivalsFor(plan, choices))).toEqual([])
      const other = {
        ...NONE,
        sides: { [choiceKey(STATION, '/feeds/b')]: keeps === 'mine' ? 'theirs' : 'mine' },
      } as const
      expect(faultsAfter(to.records.value, arrivalsFor(plan, other)).map(f => f.path)).toEqual([
        'stations[0].sightings[4].feed',
      ])
      await bring(to, exported(from), choices)
      expect(to.station.value!.feeds.map(f => f.id)).toEqual(['a', 'b'])
      // The answer travels: the other phone is not asked.
      expect(planOf(from, exported(to)).conflicts).toEqual([])
      await bring(from, exported(to))
      expect(bare(JSON.parse(exported(from)))).toEqual(bare(JSON.parse(exported(to))))
      break
    }
  })

  it('asks as well where the feed went there and the sighting is here', async () => {
    const [one, two] = await torn()
    const plan = planOf(two, exported(one))
    expect(plan.conflicts.map(c => [c.id, c.asks.map(ask => ask.part)])).toEqual([[STATION, ['/feeds/b']]])
    await bring(two, exported(one), { ...NONE, sides: { [choiceKey(STATION, '/feeds/b')]: 'mine' } })
    await bring(one, exported(two))
    expect(bare(JSON.parse(exported(one)))).toEqual(bare(JSON.parse(exported(two))))
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
    const taken = { ...NONE, sides: { [choiceKey(id, '/lower')]: 'theirs' } } as const
    await bring(two, exported(one), taken)
    expect(reading(two, 'si-1')).toBe(21)
    expect(await bring(two, exported(one))).toBe(0)
    // Taken back, it is open again, and may be answered otherwise.
    await two.undo()
    expect(reading(two, 'si-1')).toBe(22)
    expect(planOf(two, exported(one)).conflicts.map(c => c.id)).toEqual([id])
    await bring(two, exported(one), { ...NONE, sides: { [choiceKey(id, '/lower')]: 'mine' } })
    expect(planOf(one, exported(two)).conflicts).toEqual([])
    await bring(one, exported(two))
    expect(reading(one, 'si-1')).toBe(22)
  })

  it('ask also when one edited twice and the other once, though the numbers differ', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    await bring(two, exported(one))
    await edit(one, 21)
    await edit(two, 31)
    await edit(two, 32)
    for (const [from, to] of [
      [one, two],
      [two, one],
    ] as const) {
      const { conflicts, updated, older } = planOf(to, exported(from))
      expect([conflicts.length, updated.length, older.length]).toEqual([1, 0, 0])
      expect(conflicts[0]!.asks).toEqual([{ part: '/lower', mine: to === one ? 21 : 32, theirs: to === one ? 32 : 21 }])
    }
  })

  it('put edits of different fields together, and say so', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    await bring(two, exported(one))
    await edit(one, 21)
    const body = { ...two.station.value!.sightings[0]!, note: 'cloud' }
    await two.keep(did('note'), [entry('sighting', 'st-1', body)])
    const plan = planOf(two, exported(one))
    expect(plan.together.map(t => [t.id, t.taken])).toEqual([[recordId('sighting', 'st-1', 'si-1'), ['/lower']]])
    await bring(two, exported(one))
    await bring(one, exported(two))
    expect(one.station.value!.sightings[0]).toMatchObject({ lower: 21, note: 'cloud' })
    expect(bare(JSON.parse(exported(one)))).toEqual(bare(JSON.parse(exported(two))))
  })

  it('hand a deletion on, also by way of a third one, and an edit that it had not seen is asked', async () => {
    const [one, two, three] = [await phone(), await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    await bring(two, exported(one))
    await bring(three, exported(one))
    const gone = recordOf(one, 'sighting', 'st-1', 'si-1')!
    await one.keep(did('delete'), [tombstone(gone)])
    await bring(two, exported(one))
    expect(reading(two, 'si-1')).toBeUndefined()
    await edit(three, 21)
    const plan = planOf(three, exported(two))
    expect(plan.conflicts.map(c => c.asks)).toEqual([[{ part: DELETION, mine: false, theirs: true }]])
    await bring(three, exported(two), { ...NONE, sides: { [choiceKey(gone.id, DELETION)]: 'mine' } })
    await bring(one, exported(three))
    expect([reading(three, 'si-1'), reading(one, 'si-1')]).toEqual([21, 21])
  })

  it('forget what came in when that is undone, and it comes in again as before', async () => {
    const [one, two] = [await phone(), await phone()]
    await bring(one, textOf(smallBook()))
    const text = exported(one)
    const all = await bring(two, text)
    await two.undo()
    expect(two.stations.value).toEqual([])
    expect(JSON.parse(exported(two))).not.toHaveProperty('deletions')
    expect(await bring(two, text)).toBe(all)
    expect(bare(JSON.parse(exported(two)))).toEqual(bare(JSON.parse(text)))
    expect(planOf(one, exported(two)).same).toHaveLength(all)
  })

  it('say nothing to each other of a demo that was thrown away', async () => {
    const [one, two] = [await phone(), await phone()]
    const demo = smallBook()
    demo.stations[0].demo = true
    for (const model of [one, two]) await bring(model, textOf(demo))
    await one.deleteStation('st-1', null)
    expect(JSON.parse(exported(one))).not.toHaveProperty('deletions')
    expect(await bring(two, exported(one))).toBe(0)
  })
})

describe('createImport', () => {
  /** The worker's side in the same thread; `said` is what it says, and it may be held up. */
  const here = (): { start: () => ImportWorker; ended: () => boolean } => {
    let ended = 0
    return {
      ended: () => ended > 0,
      start: () => {
        let isEnded = false
        const worker: ImportWorker = {
          onmessage: null,
          onerror: null,
          postMessage: told => void hear(structuredClone(told)),
          terminate: () => {
            isEnded = true
            ended++
          },
        }
        const hear = createImporting(said => {
          if (!isEnded) worker.onmessage?.({ data: structuredClone(said) } as MessageEvent)
        })
        return worker
      },
    }
  }
  const quiet = () => {}
  const many = (count: number) => {
    const book = smallBook()
    const like = book.stations[0].sightings[0]
    for (let n = 0; n < count; n++) book.stations[0].sightings.push({ ...like, id: `many-${n}` })
    return textOf(book)
  }

  it('brings a book in by way of the worker, in pieces, and undoes it in one step', async () => {
    const model = await phone()
    const importing = createImport(model, createImporter(here().start))
    const stages: string[] = []
    const looked = await importing.look(new Blob([many(1000)]), stage => stages.push(stage))
    expect(looked).toMatchObject({ kind: 'plan', digest: { added: { count: 1018 } } })
    const done = await importing.carryOut(NONE, 1, stage => stages.push(stage))
    expect(done).toEqual({ kind: 'done', count: 1018 })
    expect(model.station.value!.sightings).toHaveLength(1005)
    expect([...new Set(stages)]).toEqual(['read', 'check', 'compare', 'write'])
    await model.undo()
    expect(model.stations.value).toEqual([])
  })

  it('undoes a book of 5000 sightings in one step as well', async () => {
    const model = await phone()
    const importing = createImport(model, createImporter(here().start))
    await importing.look(new Blob([many(5000)]), quiet)
    expect(await importing.carryOut(NONE, 1, quiet)).toEqual({ kind: 'done', count: 5018 })
    expect(model.station.value!.sightings).toHaveLength(5005)
    expect((await model.undo()).kind).toBe('done')
    expect(model.stations.value).toEqual([])
  })

  it('writes nothing when it is stopped while writing', async () => {
    const model = await phone()
    const importing = createImport(model, createImporter(here().start))
    await importing.look(many(1000), quiet)
    const done = await importing.carryOut(NONE, 1, (stage, share) => {
      if (stage === 'write' && share > 0) importing.stop()
    })
    expect(done).toEqual({ kind: 'stopped' })
    await model.load()
    expect([model.records.value, model.unsaved.value]).toEqual([[], []])
  })

  it('carries out what was pressed for when the person goes elsewhere, and ends the worker then', async () => {
    const model = await phone()
    const worker = here()
    const importing = createImport(model, createImporter(worker.start))
    await importing.look(textOf(smallBook()), quiet)
    const done = importing.carryOut(NONE, 1, quiet)
    importing.leave()
    expect(await done).toMatchObject({ kind: 'done' })
    expect(model.stations.value).toHaveLength(1)
    expect(worker.ended()).toBe(true)
  })

  it('ends a look when the person goes elsewhere', async () => {
    const model = await phone()
    const worker = here()
    const importing = createImport(model, createImporter(worker.start))
    const looked = importing.look(new Blob([many(100)]), () => importing.leave())
    expect(await looked).toEqual({ kind: 'stopped' })
    expect(worker.ended()).toBe(true)
  })

  it('stops reading, and ends the worker', async () => {
    const model = await phone()
    const worker = here()
    const importing = createImport(model, createImporter(worker.start))
    const looked = importing.look(new Blob([many(100)]), () => importing.stop())
    expect(await looked).toEqual({ kind: 'stopped' })
    expect(worker.ended()).toBe(true)
  })

  it('looks again when the book has changed meanwhile', async () => {
    const model = await phone()
    await bring(model, textOf(smallBook()))
    const importing = createImport(model, createImporter(here().start))
    await importing.look(many(1), quiet)
    await edit(model, 5)
    expect(await importing.carryOut(NONE, 1, quiet)).toMatchObject({
      kind: 'changed',
      looked: { kind: 'plan', digest: { added: { count: 1 } } },
    })
    expect(await importing.carryOut(NONE, 1, quiet)).toEqual({ kind: 'done', count: 1 })
  })

  it('tells bad text, what is no field book, and a file too large', async () => {
    const importing = createImport(await phone(), createImporter(here().start))
    expect(await importing.look(new Blob([new Uint8Array([0x7b, 0xff, 0xfe])]), quiet)).toEqual({ kind: 'unreadable' })
    expect(await importing.look('{}', quiet)).toMatchObject({ kind: 'refused' })
    const large = new Blob(Array<string>(51).fill(' '.repeat(1e6)))
    expect(await importing.look(large, quiet)).toMatchObject({
      faults: [{ path: '', rule: 'a field book has at most 50 MB, this file has 51.0 MB' }],
    })
  })

  it('asks about what would not be sound with the answers given', async () => {
    const model = await phone()
    await bring(model, textOf(smallBook()))
    const importing = createImport(model, createImporter(here().start))
    const other = smallBook()
    // With this readout from there, the readings here are outside the jack's triangle.
    Object.assign(other.stations[0].mount.upper, { maxReading: 100 })
    other.stations[0].mount.upper.readout.countsPerMm = 0.5
    for (const list of ['sightings', 'levels', 'references']) other.stations[0][list] = []
    const looked = await importing.look(textOf(other), quiet)
    expect(looked.kind).toBe('plan')
    const done = await importing.carryOut({ ...NONE, rest: 'theirs' }, 1, quiet)
    expect(done).toMatchObject({ kind: 'illegal' })
    expect(bare(model.stations.value)).toEqual(bare(smallBook().stations))
  })
})
