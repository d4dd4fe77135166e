/** The demo station comes in once, comes back when it was thrown away, and is never written over unasked. */
import 'fake-indexeddb/auto'
import { readFileSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { type BookModel, createBook, entry } from '../../src/state/book.ts'
import { hasOwnWork, openDemo } from '../../src/state/demo.ts'
import { arrivalsFor, type Plan, planOfText } from '../../src/state/import.ts'
import { openStore } from '../../src/store/records.ts'
import { did } from '../helpers/steps.ts'

const TEXT = readFileSync(new URL('../../public/demo.fieldbook.json', import.meta.url), 'utf8')

let n = 0
async function phone(): Promise<BookModel> {
  const model = createBook(openStore({ name: `demo-${n++}`, app: '0.0.1' }))
  await model.load()
  return model
}
function planOf(model: BookModel): Plan {
  const looked = planOfText(model.records.value, TEXT)
  if (looked.kind !== 'plan') throw new Error('the demo is no sound field book')
  return looked.plan
}
const asks = (model: BookModel) => hasOwnWork(planOf(model), model.records.value)
const open = (model: BookModel) => openDemo(model)
const station = (model: BookModel) => model.stations.value[0]!
const noted = (model: BookModel) => {
  const s = station(model)
  return model.keep(did('note'), [entry('sighting', s.id, { ...s.sightings[0]!, note: 'mine' })])
}

beforeEach(() => vi.stubGlobal('fetch', async () => new Response(TEXT)))
afterEach(() => vi.unstubAllGlobals())

describe('the demo station', () => {
  it('comes in whole on an empty phone, and a second time writes nothing', async () => {
    const model = await phone()
    expect(asks(model)).toBe(false)
    expect(await open(model)).toBe('open')
    const { length } = model.records.value
    expect(length).toBeGreaterThan(15)
    expect(asks(model)).toBe(false)
    expect(await open(model)).toBe('open')
    expect(model.records.value.map(r => r.revision)).toEqual(new Array(length).fill(1))
    expect(arrivalsFor(planOf(model), { sides: {}, deleted: 'back' })).toEqual([])
  })

  it('comes back unasked when it was thrown away as it was', async () => {
    const model = await phone()
    await open(model)
    const all = model.stations.value[0]!.sightings.length
    await model.deleteStation(station(model).id, null)
    expect(asks(model)).toBe(false)
    await open(model)
    expect(station(model).sightings).toHaveLength(all)
  })

  it('asks before it writes over an edit, also after it was thrown away with the edit in it', async () => {
    const model = await phone()
    await open(model)
    await noted(model)
    const plan = planOf(model)
    // The edit is the newer one: it stays, and nothing is written over.
    expect(arrivalsFor(plan, { sides: {}, deleted: null })).toEqual([])
    await model.deleteStation(station(model).id, null)
    expect(await open(model)).toBe('ask')
    expect(model.stations.value).toEqual([])
  })

  it('asks before it brings back one sighting that was taken out', async () => {
    const model = await phone()
    await open(model)
    const { id, kind, station: of, body } = model.records.value.find(r => r.kind === 'sighting')!
    await model.keep(did('delete'), [{ id, kind, station: of, body, deleted: true }])
    expect(await open(model)).toBe('ask')
    expect(model.records.value.find(r => r.id === id)!.deleted).toBe(true)
  })
})
