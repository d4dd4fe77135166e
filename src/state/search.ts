/** The first search as the screen needs it: the plan and the readings of a step, asked of the core; the sighting that it makes; the screen kept on. */
import type { FirstSearchJson, SearchStepJson } from '../core/plan/firstsearchjson.ts'
import { checkAt, offsetOf } from '../core/records/clockchecks.ts'
import type { SightingRecord, StationRecord } from '../core/records/fieldbook.ts'
import { createWakeLock, type WakeLock } from '../device/wakelock.ts'
import { ask, type Told } from './ask.ts'
import { clockStep, takeStamp } from './now.ts'

export const askSearch = (
  station: StationRecord,
  about: { feed: string; startedUtc: string; secondsEach: number },
): Promise<Told<FirstSearchJson>> => ask(station, 'firstSearch', about)

export const askStep = (
  station: StationRecord,
  about: { feed: string; startedUtc: string; step: number },
): Promise<Told<SearchStepJson | null>> => ask(station, 'searchStep', about)

/** The sighting of a Sun that was heard at a step, now: by signal, with the uncertainty of a step. */
export function heardSighting(
  station: StationRecord,
  feed: string,
  at: { lower: number; upper: number },
  sigmaDeg: number,
  id: string,
  note: string,
): SightingRecord {
  const { utcMs, monotonicMs } = takeStamp()
  const utc = new Date(utcMs).toISOString()
  const check = checkAt(station, utc)
  const step = clockStep.peek()
  return {
    id,
    utc,
    ...(check !== null && step === null && { clockOffsetS: offsetOf(check) }),
    stamp: { monotonicMs: Math.round(monotonicMs), ...(step && { clockStepS: step.stepMs / 1000 }) },
    target: { type: 'sun' },
    ...at,
    method: 'signal-peak',
    ...(station.feeds.length > 1 && { feed }),
    sigmaDeg: Number(sigmaDeg.toFixed(1)),
    note,
  }
}

let lock: WakeLock | undefined

/** Keeps the screen on while a search runs. @returns the way to release it */
export function keepScreenOn(): () => void {
  lock ??= createWakeLock()
  return lock.hold()
}
