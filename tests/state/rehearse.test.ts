/** A station in rehearsal: its clock and its drives, kept from every real station; begun, undone, discarded. */
import 'fake-indexeddb/auto'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readFieldBook } from '../../src/core/records/intake.ts'
import { writeFieldBook } from '../../src/core/records/outgo.ts'
import { bookForFile } from '../../src/core/records/revisions.ts'
import type { RehearsalSetup } from '../../src/core/rehearse/setup.ts'
import { heightDeg } from '../../src/core/rehearse/turning.ts'
import { createBook, stationEntry } from '../../src/state/book.ts'
import { createNow } from '../../src/state/now.ts'
import { createWaitingClock } from '../../src/state/rehearsalkept.ts'
import {
  beginRehearsal,
  createRehearsal,
  discardRehearsal,
  moveFeed,
  rehearsal,
  rehearsalStation,
  turnAdjuster,
} from '../../src/state/rehearse.ts'
import { openStore } from '../../src/store/records.ts'
import { answered } from '../helpers/answered.ts'
import { gravelPit } from '../helpers/stations.ts'
import { did } from '../helpers/steps.ts'

const START = '2026-05-01T08:00:00Z'
const START_MS = Date.UTC(2026, 4, 1, 8)
const SETUP: RehearsalSetup = { seed: 7, difficulty: 'beginner', kind: 'az-over-el', startUtc: START }
const HARD: RehearsalSetup = { ...SETUP, difficulty: 'hard' }

/** A phone whose time advances only when the test says so. */
function phone() {
  let phoneMs = Date.UTC(2027, 0, 15, 20)
  const acts = new Set<() => void>()
  const clock = createNow({
    stamp: () => ({ utcMs: phoneMs, monotonicMs: phoneMs }),
    isVisible: () => true,
    onVisibility: () => () => {},
  })
  const model = createRehearsal({
    clockMs: clock.clockMs,
    putClockAt: clock.putClockAt,
    every: (_, act) => {
      acts.add(act)
      return () => acts.delete(act)
    },
  })
  const pass = (seconds: number, step = 0.05) => {
    for (let gone = 0; gone < seconds - 1e-9; gone += step) {
      phoneMs += 1000 * Math.min(step, seconds - gone)
      for (const act of [...acts]) act()
    }
  }
  return { clock, model, pass, timers: () => acts.size, phoneMs: () => phoneMs }
}

let n = 0
const bookHere = async () => {
  const book = createBook(openStore({ name: `rehearse-${n++}`, app: '0.0.1' }))
  await book.load()
  return book
}

let id = ''
beforeEach(() => {
  id = `r${n++}` // where a dish stands is remembered for the visit
})
// One that is begun in a book has the program's own clock, which the tests of this floor share.
afterEach(() => rehearsal.show(null))
const rehearsed = (setup: RehearsalSetup) => rehearsalStation('Rehearsal 7', setup, id)

describe("the rehearsal's clock", () => {
  it('starts at its own hour and waits', () => {
    const { clock, model, pass } = phone()
    model.show(rehearsed(SETUP))
    expect(clock.clockMs()).toBe(START_MS)
    pass(30)
    expect(clock.clockMs()).toBe(START_MS)
    expect(clock.takeStamp().utcMs).toBe(START_MS)
  })

  it.each([1, 60, 600] as const)('runs %i times as fast as the phone', speed => {
    const { clock, model, pass } = phone()
    model.show(rehearsed(SETUP))
    model.setSpeed(speed)
    pass(10)
    expect(clock.clockMs()).toBeCloseTo(START_MS + 10_000 * speed, 3)
    model.setSpeed(0)
    pass(10)
    expect(clock.clockMs()).toBeCloseTo(START_MS + 10_000 * speed, 3)
  })

  it('is never seen by a real station: the phone’s own time at once, and back where it was after it', () => {
    const { clock, model, pass, phoneMs } = phone()
    model.show(rehearsed(SETUP))
    model.setSpeed(600)
    pass(2)
    model.show(gravelPit())
    expect(clock.clockMs()).toBe(phoneMs())
    expect(clock.takeStamp().utcMs).toBe(phoneMs())
    expect(clock.isOwnTime.value).toBe(false)
    expect([model.world.value, model.hands.value]).toEqual([null, null])
    pass(3600)
    expect(clock.clockMs()).toBe(phoneMs())
    model.show(rehearsed(SETUP))
    expect(clock.clockMs()).toBeCloseTo(START_MS + 1_200_000, 3)
  })

  it('leaves the clock alone for a real station that was shown all along', () => {
    const { clock, model, phoneMs } = phone()
    clock.putClockAt(Date.UTC(2026, 5, 1)) // a demo's
    model.show(gravelPit({ demo: true }))
    model.show(null)
    expect(clock.clockMs()).not.toBe(phoneMs())
  })

  it('goes to the Moon well up, to the Sun at its highest, an hour on, to tomorrow', () => {
    const { clock, model } = phone()
    model.show(rehearsed(SETUP))
    const world = model.world.value!
    expect(model.skipTo('moon-up')).toBe(true)
    expect(heightDeg(world.bodyAt('moon', clock.clockMs(), 'radio'))).toBeCloseTo(15, 1)
    expect(model.skipTo('noon')).toBe(true)
    const noon = clock.clockMs()
    const sun = (ms: number) => heightDeg(world.bodyAt('sun', ms, 'radio'))
    expect(sun(noon)).toBeGreaterThan(sun(noon - 600_000))
    expect(sun(noon)).toBeGreaterThan(sun(noon + 600_000))
    expect(model.skipTo('noon')).toBe(true)
    expect(clock.clockMs() - noon).toBeGreaterThan(23 * 3_600_000)
    const before = clock.clockMs()
    model.skipTo('tomorrow')
    expect(clock.clockMs() - before).toBe(86_400_000)
    model.skipTo('hour')
    expect(clock.clockMs() - before).toBe(90_000_000)
  })

  it('is off by minutes in a hard case, so that the sky turns by another time than it shows', () => {
    const { model } = phone()
    model.show(rehearsed(HARD))
    const world = model.world.value!
    expect(Math.abs(world.trueMs(START_MS) - START_MS)).toBeGreaterThanOrEqual(120_000)
  })
})

describe("the clock before the rehearsal's code is there", () => {
  it('waits where it was left, or at the start, and for a real station is the phone’s again', () => {
    const { clock, phoneMs, pass } = phone()
    const waiting = createWaitingClock(clock.putClockAt)
    waiting.show(rehearsed(SETUP))
    pass(3)
    expect([clock.clockMs(), clock.isOwnTime.value]).toEqual([START_MS, true])
    waiting.show(gravelPit())
    expect([clock.clockMs(), clock.isOwnTime.value]).toEqual([phoneMs(), false])
    const before = phone()
    before.model.show(rehearsed(SETUP))
    before.model.driveTo({ lower: 33 })
    waiting.show(rehearsed(SETUP))
    expect(clock.clockMs()).toBe(before.clock.clockMs())
    expect(clock.clockMs()).toBeGreaterThan(START_MS)
  })

  it('leaves a demo’s hour alone, and every clock once the code is there', () => {
    const { clock } = phone()
    const waiting = createWaitingClock(clock.putClockAt)
    waiting.show(rehearsed(SETUP))
    clock.putClockAt(START_MS + 5000)
    waiting.show(gravelPit({ demo: true }))
    expect(clock.isOwnTime.value).toBe(true)
    waiting.take()
    waiting.show(rehearsed(SETUP))
    waiting.show(gravelPit())
    expect(clock.clockMs()).toBe(START_MS + 5000)
  })
})

describe('the drives', () => {
  it('run while a button is held, with a clock that runs meanwhile and then waits again; no timer is left', () => {
    const { clock, model, pass, timers } = phone()
    model.show(rehearsed(SETUP))
    const drive = model.world.value!.drives.upper
    const from = model.hands.value!.upper.at
    expect(timers()).toBe(0)
    model.press('upper', 1)
    pass(4)
    expect(model.hands.value!.upper.at).toBeCloseTo(from + 4 * drive.readingsPerS, 3)
    model.press('upper', 0)
    pass(10)
    expect(model.hands.value!.upper.at).toBeCloseTo(from + 4 * drive.readingsPerS + drive.overrun, 3)
    expect([timers(), model.isDriving.value]).toEqual([0, false])
    const rests = clock.clockMs()
    expect(rests).toBeGreaterThan(START_MS + 4000)
    pass(10)
    expect(clock.clockMs()).toBe(rests)
  })

  it('drive to a reading for the impatient, for the time that it takes', () => {
    const { clock, model } = phone()
    model.show(rehearsed(SETUP))
    const world = model.world.value!
    model.driveTo({ lower: 40, upper: 10 })
    expect(world.readings(model.hands.value!, world.trueMs(clock.clockMs()))).toEqual({ lower: 40, upper: 10 })
    expect(clock.clockMs()).toBeGreaterThan(START_MS)
    model.driveTo({ lower: 1e6 })
    expect(model.hands.value!.lower.at).toBe(world.drives.lower.high)
  })

  it('stand where they stood after a reload', () => {
    const first = phone()
    first.model.show(rehearsed(SETUP))
    first.model.driveTo({ lower: 33 })
    const [at, ms] = [first.model.hands.value!.lower.at, first.clock.clockMs()]
    const again = phone()
    again.model.show(rehearsed(SETUP))
    expect(again.model.hands.value!.lower.at).toBe(at)
    expect(again.clock.clockMs()).toBe(ms)
  })
})

describe('a rehearsal in the book', () => {
  it('is begun and shown, discarded with one act, and comes back by undo', async () => {
    const book = await bookHere()
    expect(await beginRehearsal('Rehearsal 7', SETUP, book)).toBe(true)
    const station = book.station.value!
    expect(station.rehearsal).toBe(true)
    await discardRehearsal(station, book)
    expect(book.stations.value).toEqual([])
    await book.undo()
    expect(book.stations.value.map(s => s.id)).toEqual([station.id])
  })

  it('goes through the file without loss, and its truth is not in it', async () => {
    const book = await bookHere()
    await beginRehearsal('Rehearsal 7', HARD, book)
    const text = writeFieldBook(bookForFile(book.records.value, '2026-05-01T12:00:00Z'))
    const read = answered(readFieldBook(text))
    expect(read.stations[0]!.rehearsalSetup).toEqual(HARD)
    expect(text).not.toMatch(/leanNorth|"heading"|feedRight|slip|storm/)
  })

  it('tells other phones nothing of its deletion, as a real station does', async () => {
    const book = await bookHere()
    await beginRehearsal('Rehearsal 7', SETUP, book)
    const [mine] = book.stations.value
    await book.keep(did('make'), [stationEntry(gravelPit())])
    await discardRehearsal(mine!, book)
    await book.deleteStation('st', null)
    const { deletions } = bookForFile(book.records.value, '2026-05-01T12:00:00Z')
    expect(deletions?.map(d => d.station)).toEqual(['st'])
  })

  it('has its feed moved by an act that the dish feels and undo takes back', async () => {
    const book = await bookHere()
    await beginRehearsal('Rehearsal 7', SETUP, book)
    const { model } = phone()
    model.show(book.station.value)
    const of = () => model.world.value!.mountAt(START_MS + 1000).truth['feedRight:a'] ?? 0
    const before = of()
    expect(await moveFeed(book.station.value!, { id: 'feedRight:a', by: -5 }, START_MS, book)).toBe(true)
    model.show(book.station.value)
    expect(of()).toBeCloseTo(before - 5)
    await book.undo()
    model.show(book.station.value)
    expect(of()).toBe(before)
  })
})

describe('an adjuster in the book', () => {
  it('turned, alters the dish from then on and not before; undo takes it back', async () => {
    const book = await bookHere()
    await beginRehearsal('Rehearsal 7', SETUP, book)
    const { clock, model } = phone()
    model.show(book.station.value)
    model.spend(300)
    const atMs = clock.clockMs()
    expect(atMs).toBe(START_MS + 300_000)
    const headingAt = (ms: number) => model.world.value!.mountAt(ms).truth.heading ?? 0
    const before = headingAt(atMs)
    const turn = { adjuster: null, id: 'heading', amount: -3 }
    expect(await turnAdjuster(book.station.value!, turn, atMs, book)).toBe(true)
    model.show(book.station.value)
    expect(headingAt(atMs - 1000)).toBe(before)
    expect(headingAt(atMs)).toBeCloseTo(before - 3, 0)
    expect(readFieldBook(writeFieldBook(bookForFile(book.records.value, '2026-05-01T12:00:00Z'))).ok).toBe(true)
    await book.undo()
    model.show(book.station.value)
    expect(headingAt(atMs)).toBe(before)
  })
})

describe('what a rehearsal must be', () => {
  const faultsOf = (more: object) => {
    const station = { ...rehearsed(SETUP), ...more }
    const read = readFieldBook(
      JSON.stringify({ format: 'moonplumb-fieldbook', version: 1, exportedUtc: START, stations: [station] }),
    )
    return read.ok ? [] : read.faults.map(f => f.path)
  }
  it('is refused by path with half of it, or with what cannot be', () => {
    expect(faultsOf({})).toEqual([])
    expect(faultsOf({ rehearsalSetup: undefined })).toEqual(['stations[0].rehearsalSetup'])
    expect(faultsOf({ rehearsal: undefined })).toEqual(['stations[0].rehearsal'])
    expect(faultsOf({ rehearsalSetup: { ...SETUP, seed: 1.5 } })).toEqual(['stations[0].rehearsalSetup.seed'])
    const deed = (id: string) => ({ rehearsalSetup: { ...SETUP, deeds: [{ utc: START, id, by: 1 }] } })
    expect(faultsOf(deed('heading'))).toEqual([])
    expect(faultsOf(deed('polish'))).toEqual(['stations[0].rehearsalSetup.deeds[0].id'])
    const { paper } = { paper: { ...rehearsed(SETUP) } }
    expect(faultsOf({ rehearsalSetup: { ...SETUP, kind: 'x-y', paper } })).toEqual(['stations[0].rehearsalSetup.kind'])
    const broken = { ...paper, mount: { ...paper.mount, headingDeg: undefined } }
    expect(faultsOf({ rehearsalSetup: { ...SETUP, paper: broken } })).toEqual([
      'stations[0].rehearsalSetup.paper.mount.headingDeg',
    ])
  })
})
