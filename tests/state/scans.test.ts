import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import type { CrossScanRecord, DriftScanRecord } from '../../src/core/records/scans.ts'
import type { SightingDraft } from '../../src/core/scan/draft.ts'
import { type BookModel, createBook, stationEntry } from '../../src/state/book.ts'
import {
  addCrossLevel,
  addEqual,
  addGap,
  addLevel,
  addTap,
  deleteScan,
  driftToFit,
  heardIn,
  inParts,
  keepScan,
  leaveOutLevel,
  PART,
  saysTheSame,
  scanOf,
  scanRecords,
  setCentre,
  sightingFrom,
  tapsToFit,
} from '../../src/state/scans.ts'
import type { Kept, StoreFailure } from '../../src/store/database.ts'
import { openStore } from '../../src/store/records.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { did } from '../helpers/steps.ts'
import { openedStores } from '../helpers/stores.ts'

let n = 0
const stores = openedStores()

/** A book of one station, whose next writings fail as the phone would. */
async function bookWith(
  failures: (StoreFailure | null)[] = [],
): Promise<{ model: BookModel; station: () => StationRecord }> {
  const store = stores.add(openStore({ name: `scans-${n++}`, app: '0.0.1' }))
  const model = createBook({
    ...store,
    append: async drafts => {
      const failure = ready ? failures.shift() : null
      return failure ? (failure as Kept<never>) : store.append(drafts)
    },
  })
  let ready = false
  await model.load()
  await model.keep(did('add'), [stationEntry(smallBook().stations[0])])
  ready = true
  return { model, station: () => model.station.value! }
}

const drift = (): DriftScanRecord => ({
  id: 'd',
  utc: '2026-05-01T10:00:00Z',
  what: 'drift',
  target: { type: 'sun' },
  feed: 'a',
  scale: 'dB',
  lower: 300,
  upper: 210,
  samples: [],
})
const cross = (): CrossScanRecord => ({
  id: 'x',
  utc: '2026-05-01T10:00:00Z',
  what: 'cross',
  target: { type: 'sun' },
  feed: 'a',
  scale: 'dB',
  samples: [],
})
const BEGIN = { kind: 'begin-scan', place: 'scan', subject: { id: 'd', what: 'drift' } } as const
const crossLevel = (s: number) => ({ s, axis: 'lower' as const, lower: 300 + s, upper: 210, level: s / 10 })
const heard = (station: StationRecord, model: BookModel) => {
  const records = scanRecords(station, model)
  return heardIn(records, scanOf(records, 'drift', 'd')!)
}

describe('a drift scan', () => {
  it('has every level on the medium at once, in parts that stay short, and all in order of time', async () => {
    const { model, station } = await bookWith()
    await keepScan(station(), [drift()], BEGIN, model)
    // Two within the time of one writing: neither may overwrite the other.
    await Promise.all([
      addLevel('st-1', drift(), { s: 0, level: 1 }, model),
      addLevel('st-1', drift(), { s: 1, level: 2 }, model),
    ])
    for (let s = 2; s < 2 * PART + 3; s++) await addLevel('st-1', drift(), { s, level: 0 }, model)
    const { samples } = heard(station(), model)
    expect(samples.map(x => x.s)).toEqual(Array.from({ length: 2 * PART + 3 }, (_, k) => k))
    const parts = scanRecords(station(), model).filter(r => r.what === 'part')
    expect(parts.map(p => p.what === 'part' && p.samples.length)).toEqual([PART, PART, 3])
    await model.undo()
    expect(heard(station(), model).samples.length).toBe(2 * PART + 2)
  })

  it('loses no level that could not be written: it is shown, waits, and a later one does not overwrite it', async () => {
    const full: StoreFailure = { kind: 'full', message: '' }
    const { model, station } = await bookWith([null, null, full, null])
    await keepScan(station(), [drift()], BEGIN, model)
    await addLevel('st-1', drift(), { s: 0, level: 1 }, model)
    expect(await addLevel('st-1', drift(), { s: 1, level: 2 }, model)).toMatchObject({ kind: 'full' })
    await addLevel('st-1', drift(), { s: 2, level: 3 }, model)
    expect(heard(station(), model).samples.map(x => x.s)).toEqual([0, 1, 2])
    await model.retryUnsaved()
    expect(model.unsaved.value).toEqual([])
    expect(heard(station(), model).samples.map(x => x.s)).toEqual([0, 1, 2])
  })

  it('keeps what was left out, hands the fit the rest with the gaps, and takes it in again', async () => {
    const { model, station } = await bookWith()
    await keepScan(station(), [drift()], BEGIN, model)
    for (const s of [0, 10, 20]) await addLevel('st-1', drift(), { s, level: s }, model)
    await addGap('st-1', drift(), { fromS: 12, toS: 18 }, model)
    const { at } = heard(station(), model).samples[1]!
    await leaveOutLevel('st-1', drift(), 10, at, true, model)
    const whole = () => driftToFit(scanRecords(station(), model), drift())
    expect(whole().samples.map(x => x.s)).toEqual([0, 20])
    expect(whole().gaps).toEqual([{ fromS: 12, toS: 18 }])
    expect(heard(station(), model).samples[1]).toMatchObject({ s: 10, level: 10, out: true })
    await leaveOutLevel('st-1', drift(), 10, at, false, model)
    expect(whole().samples.map(x => x.s)).toEqual([0, 10, 20])
  })

  it('keeps how loud the target is in the centre, for the fit, and lets go of it', async () => {
    const { model, station } = await bookWith()
    await keepScan(station(), [drift()], BEGIN, model)
    const whole = () => driftToFit(scanRecords(station(), model), scanOf(scanRecords(station(), model), 'drift', 'd')!)
    await setCentre('st-1', 'd', { riseDb: 5, sigmaDb: 0.1 }, model)
    expect(whole().centre).toEqual({ riseDb: 5, sigmaDb: 0.1 })
    await setCentre('st-1', 'd', null, model)
    expect('centre' in whole()).toBe(false)
  })

  it('is refused with what would be right where it breaks a rule, and nothing is written', async () => {
    const { model, station } = await bookWith()
    const kept = await keepScan(station(), [{ ...drift(), feed: 'zz' }], BEGIN, model)
    expect(kept).toMatchObject({ kind: 'refused', message: expect.stringContaining('there is no feed "zz"') })
    expect(scanRecords(station(), model)).toEqual([])
  })

  it('goes with its parts, and comes back with them', async () => {
    const { model, station } = await bookWith()
    const log = Array.from({ length: 450 }, (_, s) => ({ s, level: s }))
    const records = inParts(drift(), log)
    expect(records.length).toBe(3)
    await keepScan(station(), records, BEGIN, model)
    expect(await deleteScan(station(), drift(), model)).toMatchObject({ kind: 'done' })
    expect(scanRecords(station(), model)).toEqual([])
    await model.undo()
    expect(heard(station(), model).samples.length).toBe(450)
  })
})

describe('a scan by taps', () => {
  it('has every tap on the medium at once, all handed to the fit in order of time', async () => {
    const { model, station } = await bookWith()
    await keepScan(station(), [{ ...drift(), how: 'tapped' }], BEGIN, model)
    for (let s = 0; s < PART + 2; s++) await addTap('st-1', drift(), { s, mark: 'rising' }, model)
    const records = scanRecords(station(), model)
    expect(tapsToFit(records, scanOf(records, 'drift', 'd')!).marks!.map(m => m.s)).toEqual(
      Array.from({ length: PART + 2 }, (_, k) => k),
    )
    expect(records.filter(r => r.what === 'part').length).toBe(2)
  })
})

describe('a cross scan', () => {
  it('keeps both sides of a pair of equal levels', async () => {
    const { model, station } = await bookWith()
    await keepScan(station(), [cross()], BEGIN, model)
    const mark = { s: 1, axis: 'lower' as const, lower: 300, upper: 210, pair: 1 }
    await addEqual(station(), cross(), mark, model)
    await addEqual(station(), cross(), { ...mark, s: 2, lower: 310 }, model)
    expect(scanOf(scanRecords(station(), model), 'cross', 'x')!.marks!.map(m => m.lower)).toEqual([300, 310])
    expect(await addEqual(station(), cross(), { ...mark, upper: 99_999 }, model)).toMatchObject({ kind: 'refused' })
  })

  it('loses no level where one could not be written: the next one carries it along', async () => {
    const { model, station } = await bookWith([null, { kind: 'full', message: '' }, null])
    await keepScan(station(), [cross()], BEGIN, model)
    await addCrossLevel('st-1', cross(), crossLevel(1), model)
    await addCrossLevel('st-1', cross(), crossLevel(2), model)
    expect(model.unsaved.value).toEqual([])
    expect(scanOf(scanRecords(station(), model), 'cross', 'x')!.samples.map(x => x.s)).toEqual([1, 2])
  })
})

describe('sightingFrom', () => {
  const draft: SightingDraft = {
    utc: '2026-05-01T10:20:00Z',
    target: { type: 'sun' },
    lower: 300.123456,
    upper: 210,
    method: 'cross-scan',
    feed: 'a',
    scan: 'x',
    cov: { rr: 0.01, ru: 0, uu: 0.02 },
  }
  it('keeps id, note and use of the one made before, with readings to a thousandth', () => {
    const first = { ...sightingFrom(draft, null), note: 'windy', use: 'never' as const }
    const next = sightingFrom({ ...draft, upper: 211 }, first)
    expect(next).toMatchObject({ id: first.id, note: 'windy', use: 'never', lower: 300.123, upper: 211, scan: 'x' })
    expect(saysTheSame(first, draft)).toBe(true)
    expect(saysTheSame(first, { ...draft, upper: 211 })).toBe(false)
    // A solution that moved a little is no reason to ask again; a tenth of a degree and ten seconds are.
    expect(saysTheSame(first, { ...draft, offset: { rightDeg: 0.005, upDeg: -0.005 } })).toBe(true)
    const later = (s: number) => new Date(Date.parse(draft.utc) + 1000 * s).toISOString()
    expect(saysTheSame(first, { ...draft, utc: later(1) })).toBe(true)
    expect(saysTheSame(first, { ...draft, utc: later(10) })).toBe(false)
    expect(saysTheSame(first, { ...draft, cov: { rr: 0.01, ru: 0, uu: 0.03 } })).toBe(false)
    expect(saysTheSame(first, { ...draft, offset: { rightDeg: 0, upDeg: 0.1 } })).toBe(false)
  })
})
