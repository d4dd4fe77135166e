/**
 * Where the axes are, as the person last said or showed it, and how far each still has to go. The axes are not followed: what was
 * typed, or what a later sighting read, holds until something newer is said; the target moves on, so the way grows.
 */
import { computed, type ReadonlySignal, signal } from '@preact/signals'
import { isScanMethod } from '../core/fit/methods.ts'
import { type Stopped, type WayToGo, wayToGo } from '../core/plan/waytogo.ts'
import type { Axis, DriveRecord, StationRecord, StowRecord } from '../core/records/fieldbook.ts'
import { isLimitGuessed } from '../core/records/guesses.ts'
import { waitingHalves } from '../core/records/halfsightings.ts'
import { instantMs } from '../core/records/instant.ts'
import { shownStep } from '../core/records/shownstep.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { fieldBook, stationEntry } from './book.ts'
import { remember, remembered } from './memory.ts'
import { now, takeStamp } from './now.ts'
import { pointing } from './pointing.ts'

export type { Stopped, WayToGo }

/** Where both axes stand, and since when that is known, by the phone's clock. */
export interface Present {
  lower: number
  upper: number
  atMs: number
}

const KEY = 'moonplumb.present'

function rememberedPresents(): Readonly<Record<string, Present>> {
  try {
    const all: unknown = JSON.parse(remembered(KEY) ?? '{}')
    if (typeof all !== 'object' || all === null) return {}
    const isOne = (x: Partial<Present> | null): x is Present =>
      [x?.lower, x?.upper, x?.atMs].every(n => typeof n === 'number' && Number.isFinite(n))
    return Object.fromEntries(Object.entries(all).filter(([, one]) => isOne(one)))
  } catch {
    return {}
  }
}

/** Station id → where its axes stand, as said. */
const said = signal(rememberedPresents())

export function sayPresent(station: StationRecord, readings: { lower: number; upper: number } | null): void {
  const { [station.id]: _, ...others } = said.peek()
  said.value =
    readings === null
      ? others
      : { ...others, [station.id]: { lower: readings.lower, upper: readings.upper, atMs: takeStamp().utcMs } }
  remember(KEY, JSON.stringify(said.value))
}

/**
 * Where the axes are; null: not known. A later sighting replaces what was typed; a scan's readings are those of its peak,
 * and say nothing of where the axes were left.
 */
export function presentOf(station: StationRecord, typed: Present | null, nowMs: number): Present | null {
  if (typed === null) return null
  let newest = typed
  const look = (utc: string, lower: number | undefined, upper: number | undefined) => {
    const atMs = instantMs(utc)
    if (lower !== undefined && upper !== undefined && atMs > newest.atMs && atMs <= nowMs)
      newest = { lower, upper, atMs }
  }
  for (const s of station.sightings) if (!isScanMethod(s.method)) look(s.utc, s.lower, s.upper)
  for (const half of waitingHalves(station)) look(half.utc, half.lower, half.upper)
  return newest
}

/** Where the axes of a station stand now. */
export const presentHere = (station: StationRecord): Present | null =>
  presentOf(station, said.value[station.id] ?? null, now.value)

/** Half of the step that a reading is shown to. */
const withinOf = (station: StationRecord, axis: Axis): number => shownStep(station.mount[axis]) / 2

/** The way of one axis from where it stands to a reading that moves on. @param runUp readings in a degree */
export function wayOf(
  station: StationRecord,
  axis: Axis,
  present: number,
  to: { reading: number; perS: number; runUp: number; side?: 'any' },
): WayToGo {
  const { drive, minReading, maxReading } = station.mount[axis]
  const isGuessed = isLimitGuessed(station, axis)
  return wayToGo({
    present,
    target: to.reading,
    targetPerS: to.perS,
    drive: drive
      ? {
          readingsPerS: drive.readingsPerS,
          overrun: drive.overrun ?? 0,
          arriveFrom: to.side === 'any' ? null : (drive.arriveFrom ?? null),
        }
      : null,
    runUp: to.runUp,
    min: isGuessed ? null : minReading,
    max: isGuessed ? null : maxReading,
    // Where any side will do, within the overrun is near enough.
    within: Math.max(withinOf(station, axis), to.side === 'any' ? (drive?.overrun ?? 0) : 0),
  })
}

export type Ways = Record<Axis, WayToGo | null>
const NO_WAYS: Ways = { lower: null, upper: null }

/** To the chosen target at this second; null where it is not known where the axis stands, or the target has no reading. */
export const ways: ReadonlySignal<Ways> = computed(() => {
  const station = fieldBook.station.value
  const at = pointing.value
  const present = station && presentHere(station)
  if (station === null || at === null || present === null || !at.reachable) return NO_WAYS
  const way = (axis: Axis): WayToGo | null => {
    const reading = at[axis]
    const runUp = at.perDeg[axis]
    return reading === null || runUp === null
      ? null
      : wayOf(station, axis, present[axis], { reading, perS: at.perS[axis], runUp })
  }
  return { lower: way('lower'), upper: way('upper') }
})

/** To the stow position, which stands still. The side of arrival does not matter there. */
export function stowWays(station: StationRecord, stow: StowRecord): Ways {
  const present = presentHere(station)
  if (present === null) return NO_WAYS
  const way = (axis: Axis) =>
    wayOf(station, axis, present[axis], { reading: stow[axis], perS: 0, runUp: 1, side: 'any' })
  return { lower: way('lower'), upper: way('upper') }
}

/** Keeps how an axis is driven, as measured again; null removes it. */
export function keepDrive(
  station: StationRecord,
  axis: Axis,
  drive: DriveRecord | null,
): Promise<Kept<StoredRecord[]>> {
  const { drive: _, ...rest } = station.mount[axis]
  const mount = { ...station.mount, [axis]: drive === null ? rest : { ...rest, drive } }
  return fieldBook.keep({ kind: 'set-drive', place: 'sight', subject: { station: station.id, axis } }, [
    stationEntry({ ...station, mount }),
  ])
}

export function keepStow(station: StationRecord, stow: StowRecord | null): Promise<Kept<StoredRecord[]>> {
  const { stow: _, ...rest } = station
  return fieldBook.keep({ kind: 'set-stow', place: 'sight', subject: { station: station.id } }, [
    stationEntry(stow === null ? rest : { ...rest, stow }),
  ])
}
