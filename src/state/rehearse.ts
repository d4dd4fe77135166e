/**
 * The rehearsal that is shown: its dish, the positions of its drives, and its clock, which can be paused or fast. The positions are
 * no record: this phone remembers them beside the book, and they go with the rehearsal. A timer runs only while a drive moves.
 *
 * While a drive moves the clock runs at normal speed, whatever was chosen; the chosen speed returns once the drive rests.
 */
import { batch, computed, type ReadonlySignal, signal } from '@preact/signals'
import { AXES } from '../core/mount/names.ts'
import type { AdjusterRecord } from '../core/records/adjusters.ts'
import type { Axis, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { alteredBy } from '../core/rehearse/adjusting.ts'
import { driven, isMoving, pressed, still } from '../core/rehearse/drives.ts'
import { type Moment, nextMoment } from '../core/rehearse/moments.ts'
import { chanceAbout } from '../core/rehearse/seed.ts'
import type { RehearsalSetup } from '../core/rehearse/setup.ts'
import { type Hands, paperFor, type World, worldOf } from '../core/rehearse/world.ts'
import { type BookModel, fieldBook, newId, stationEntry } from './book.ts'
import { remember } from './memory.ts'
import { clockMs as clockHere, putClockAt as putClock } from './now.ts'
import { type KeptRehearsal, keptOf, keyOf } from './rehearsalkept.ts'

/** 0: paused. */
export type Speed = 0 | 1 | 60 | 600
export const SPEEDS: readonly Speed[] = [0, 1, 60, 600]

/** A rehearsal that is shown. */
interface Shown {
  id: string
  world: World
}

export interface RehearsalModel {
  /** The dish that does not exist; null at any other station. */
  world: ReadonlySignal<World | null>
  hands: ReadonlySignal<Hands | null>
  speed: ReadonlySignal<Speed>
  /** A drive runs. */
  isDriving: ReadonlySignal<boolean>
  /** Shows a station: the dish and clock of a rehearsal, neither for any other. */
  show(station: StationRecord | null): void
  /** A button is pressed, or released (0). */
  press(axis: Axis, held: -1 | 0 | 1): void
  /** Drives axes to readings at once, and puts the clock forward by the time it takes. */
  driveTo(to: Partial<Record<Axis, number>>): void
  setSpeed(speed: Speed): void
  /** Puts the clock forward by what a piece of work takes. */
  spend(seconds: number): void
  /** Puts the clock forward. @returns whether there is such an instant */
  skipTo(moment: Moment): boolean
  /** Remembers clock and positions for the next load. */
  save(): void
}

interface RehearsalDevice {
  clockMs: () => number
  putClockAt: (ms: number | null, speed?: number) => void
  /** Calls `act` at intervals; returns what stops it. */
  every: (ms: number, act: () => void) => () => void
}

const browser: RehearsalDevice = {
  clockMs: clockHere,
  putClockAt: putClock,
  every(ms, act) {
    const timer = setInterval(act, ms)
    return () => clearInterval(timer)
  },
}
const TICK_MS = 50

export function createRehearsal(device: RehearsalDevice = browser): RehearsalModel {
  const shown = signal<Shown | null>(null)
  const hands = signal<Hands | null>(null)
  const speed = signal<Speed>(0)
  let stop: (() => void) | null = null
  let lastMs = 0
  let made: { key: string; world: World } | null = null

  const isDriving = computed(() => {
    const at = hands.value
    return at !== null && (isMoving(at.lower) || isMoving(at.upper))
  })
  const worldFor = (setup: RehearsalSetup): World => {
    const key = JSON.stringify(setup)
    if (made?.key !== key) made = { key, world: worldOf(setup) }
    return made.world
  }
  const save = () => {
    const [of, at] = [shown.peek(), hands.peek()]
    if (of === null || at === null) return
    const place = (axis: Axis) => ({ at: at[axis].at, side: at[axis].side })
    const kept: KeptRehearsal = { clockMs: device.clockMs(), lower: place('lower'), upper: place('upper') }
    remember(keyOf(of.id), JSON.stringify(kept))
  }
  const rest = () => {
    stop?.()
    stop = null
  }
  const settle = () => {
    rest()
    device.putClockAt(device.clockMs(), speed.peek())
    save()
  }
  const tick = () => {
    const [of, at] = [shown.peek(), hands.peek()]
    if (of === null || at === null) return
    const ms = device.clockMs()
    const seconds = Math.max(0, ms - lastMs) / 1000
    lastMs = ms
    const one = (axis: Axis) => driven(of.world.drives[axis], at[axis], seconds)
    hands.value = { lower: one('lower'), upper: one('upper') }
    if (!isDriving.peek()) settle()
  }

  return {
    world: computed(() => shown.value?.world ?? null),
    hands,
    speed,
    isDriving,
    show(station) {
      const setup = station?.rehearsal === true ? station.rehearsalSetup : undefined
      if (station === null || setup === undefined) {
        if (shown.peek() === null) return
        rest()
        save()
        batch(() => {
          shown.value = null
          hands.value = null
          // A demo puts the clock at its own hour (demotime.ts).
          if (station?.demo !== true) device.putClockAt(null)
        })
        return
      }
      const world = worldFor(setup)
      if (shown.peek()?.id === station.id) {
        // Only the dish was altered (its feed, an adjuster): the drives stay where they are.
        shown.value = { id: station.id, world }
        return
      }
      rest()
      save()
      const kept = keptOf(station.id)
      batch(() => {
        shown.value = { id: station.id, world }
        hands.value =
          kept === null
            ? world.first
            : { lower: still(kept.lower.at, kept.lower.side), upper: still(kept.upper.at, kept.upper.side) }
        speed.value = 0
        device.putClockAt(kept?.clockMs ?? instantMs(setup.startUtc), 0)
      })
    },
    press(axis, held) {
      const [of, at] = [shown.peek(), hands.peek()]
      if (of === null || at === null) return
      if (stop === null) {
        if (held === 0) return
        device.putClockAt(device.clockMs(), 1)
        lastMs = device.clockMs()
        stop = device.every(TICK_MS, tick)
      } else tick()
      const now = hands.peek()!
      hands.value = { ...now, [axis]: pressed(of.world.drives[axis], now[axis], held) }
    },
    driveTo(to) {
      const [of, at] = [shown.peek(), hands.peek()]
      if (of === null || at === null) return
      rest()
      const ms = device.clockMs()
      let seconds = 0
      const next = { ...at }
      for (const axis of AXES) {
        const wanted = to[axis]
        const drive = of.world.drives[axis]
        if (wanted === undefined) continue
        const target = of.world.driveFor(axis, wanted, of.world.trueMs(ms))
        const way = Math.min(drive.high, Math.max(drive.low, target)) - at[axis].at
        const time = Math.abs(way) / drive.readingsPerS
        // Released early enough: it arrives without overrun, its slack taken up on the way.
        next[axis] = {
          ...driven(drive, pressed(drive, still(at[axis].at, at[axis].side), way < 0 ? -1 : 1), time),
          held: 0,
          speed: 0,
        }
        seconds = Math.max(seconds, time)
      }
      batch(() => {
        hands.value = next
        device.putClockAt(ms + 1000 * seconds, speed.peek())
      })
      save()
    },
    setSpeed(next) {
      speed.value = next
      if (stop === null) device.putClockAt(device.clockMs(), next)
      save()
    },
    spend(seconds) {
      if (shown.peek() === null) return
      const at = device.clockMs() + 1000 * seconds
      device.putClockAt(at, stop === null ? speed.peek() : 1)
      lastMs = at
      save()
    },
    skipTo(moment) {
      const of = shown.peek()
      if (of === null) return false
      const at = nextMoment(of.world, device.clockMs(), moment)
      if (at === null) return false
      device.putClockAt(at, stop === null ? speed.peek() : 1)
      lastMs = at
      save()
      return true
    },
    save,
  }
}

/** The rehearsal of this page. */
export const rehearsal: RehearsalModel = createRehearsal()

/** A station in rehearsal, as its records are written. */
export function rehearsalStation(name: string, setup: RehearsalSetup, id = newId()): StationRecord {
  return { ...paperFor(setup), id, name, sightings: [], rehearsal: true, rehearsalSetup: setup }
}

/** Makes a rehearsal in the book and shows it. @returns whether it is written */
export async function beginRehearsal(
  name: string,
  setup: RehearsalSetup,
  book: BookModel = fieldBook,
  model: RehearsalModel = rehearsal,
): Promise<boolean> {
  const station = rehearsalStation(name, setup)
  // On an empty phone a written station is shown at once, so the rehearsal's clock must be set before. Elsewhere it must not be: a real
  // station is on the screen until the rehearsal is chosen.
  const isFirst = book.station.peek() === null
  if (isFirst) model.show(station)
  const step = { kind: 'begin-rehearsal', place: 'book', subject: { station: station.id, name } } as const
  const kept = await book.keep(step, [stationEntry(station)])
  if (kept.kind !== 'done') {
    if (isFirst) model.show(null)
    return false
  }
  batch(() => {
    model.show(station)
    book.chooseStation(station.id)
  })
  return true
}

/** Deletes the whole rehearsal; undo brings it back. */
export const discardRehearsal = (station: StationRecord, book: BookModel = fieldBook) =>
  book.deleteStation(station.id, null)

/** Alters the dish itself from an instant on. @returns whether it is written */
async function alter(
  kind: 'move-feed' | 'turn-adjuster',
  station: StationRecord,
  by: { id: string; by: number },
  atMs: number,
  book: BookModel,
): Promise<boolean> {
  const { rehearsalSetup: setup } = station
  if (setup === undefined) return false
  const deed = { utc: new Date(atMs).toISOString().replace(/\.\d+Z$/, 'Z'), ...by }
  const rehearsalSetup = { ...setup, deeds: [...(setup.deeds ?? []), deed] }
  const kept = await book.keep({ kind, place: 'book', subject: { station: station.id, name: station.name } }, [
    stationEntry({ ...station, rehearsalSetup }),
  ])
  return kept.kind === 'done'
}

/** Moves the feed on the real dish: mm, as seen from behind. */
export const moveFeed = (
  station: StationRecord,
  by: { id: string; by: number },
  atMs: number,
  book: BookModel = fieldBook,
): Promise<boolean> => alter('move-feed', station, by, atMs, book)

/**
 * Turns an adjuster of the real dish, as accurately as by hand. No adjuster: turns the lower axis by degrees.
 *
 * @param amount  in the adjuster's unit (rehearse/adjusting.ts), + the way that makes the parameter larger
 */
export function turnAdjuster(
  station: StationRecord,
  { adjuster, id, amount }: { adjuster: AdjusterRecord | null; id: string; amount: number },
  atMs: number,
  book: BookModel = fieldBook,
): Promise<boolean> {
  const { seed = 0, deeds = [] } = station.rehearsalSetup ?? {}
  const by = Number(alteredBy(adjuster, amount, chanceAbout(seed, 'adjuster', deeds.length)).toFixed(4))
  return alter('turn-adjuster', station, { id, by }, atMs, book)
}
