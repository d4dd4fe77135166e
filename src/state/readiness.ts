/** What "Ready for the field" shows: facts of this phone, asked for when the screen opens. */
import { type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { type Installed, installed } from '../device/installed.ts'
import { createWakeLock, type WakeLock, type WakeState } from '../device/wakelock.ts'
import type { BackupNeed } from '../store/backup.ts'
import { askToPersist, type Persistence, persistence, roomLeft } from '../store/room.ts'
import { fieldBook } from './book.ts'
import { type AttitudeState, type Live, phoneLevel } from './level.ts'
import { mendOffline, type OfflineState, offlineState, type RefusedPart, refusedParts } from './service.ts'

export type { BackupNeed, Installed, OfflineState, Persistence, WakeState }
export { version }

export interface Readiness {
  offline: OfflineState
  /** Parts that a host sent different from how they were built, so that a version could not be installed. */
  refused?: readonly RefusedPart[]
  persistence: Persistence
  room: { usedBytes: number; quotaBytes: number } | null
  installed: Installed
  /** null: being tried. */
  wake: WakeState | null
  /** What the tilt sensors say; null: being tried. */
  sensors: AttitudeState | null
  /** Unix ms of the last clock check of the station in use; null when there was none. */
  clockCheckMs: number | null
  backups: readonly BackupNeed[]
}

/** The latest instant of a list of clock checks, whatever else they hold. */
export function lastClockCheck(station: StationRecord | null): number | null {
  const instants = (station?.clockChecks ?? []).flatMap(check => {
    const utc = typeof check === 'object' && check !== null ? (check as { utc?: unknown }).utc : undefined
    const ms = typeof utc === 'string' ? instantMs(utc) : Number.NaN
    return Number.isFinite(ms) ? [ms] : []
  })
  return instants.length === 0 ? null : Math.max(...instants)
}

let ours: WakeLock | undefined
const ownLock = (): WakeLock => {
  ours ??= createWakeLock()
  return ours
}

/** Takes the wake lock and releases it again. @returns what the phone said */
export async function tryWakeLock(lock: WakeLock = ownLock(), patienceMs = 1500): Promise<WakeState> {
  if (lock.state === 'absent') return 'absent'
  return new Promise(resolve => {
    let release = () => {}
    const end = (state: WakeState) => {
      clearTimeout(limit)
      forget()
      release()
      resolve(state)
    }
    const limit = setTimeout(() => end('refused'), patienceMs)
    const forget = lock.onState(state => {
      if (state === 'held' || state === 'refused') end(state)
    })
    release = lock.hold()
  })
}

/** Listens to the sensors until their state is known. */
export async function trySensors(
  live: ReadonlySignal<Live | null> = phoneLevel.live,
  patienceMs = 4000,
): Promise<AttitudeState> {
  return new Promise(resolve => {
    const end = (state: AttitudeState) => {
      clearTimeout(limit)
      // Not while the signal notifies.
      setTimeout(() => forget(), 0)
      resolve(state)
    }
    const limit = setTimeout(() => end('absent'), patienceMs)
    const forget = live.subscribe(now => {
      if (now !== null && now.attitude.state !== 'starting') end(now.attitude.state)
    })
  })
}

interface Asked {
  persistence: Persistence
  room: Readiness['room']
  wake: WakeState | null
  sensors: AttitudeState | null
}
const asked = signal<Asked>({ persistence: 'unknown', room: null, wake: null, sensors: null })

/** Asks the phone again. */
export async function lookReady(): Promise<void> {
  asked.value = { ...asked.value, wake: null, sensors: null }
  const [kept, room] = await Promise.all([persistence(), roomLeft(), mendOffline()])
  asked.value = { ...asked.value, persistence: kept, room }
  const wake = await tryWakeLock()
  asked.value = { ...asked.value, wake }
  const sensors = await trySensors()
  asked.value = { ...asked.value, sensors }
}

/** Asks the browser to keep the data, in the person's tap. */
export async function keepData(): Promise<Persistence> {
  const answer = await askToPersist()
  asked.value = { ...asked.value, persistence: answer }
  return answer
}

/** Whether it runs as an app of its own. */
export const installState = (): Installed => installed()

/** Read in a component, it follows everything that it is made of. */
export const readiness = (): Readiness => ({
  ...asked.value,
  offline: offlineState.value,
  refused: refusedParts.value,
  installed: installed(),
  clockCheckMs: lastClockCheck(fieldBook.station.value),
  backups: fieldBook.backups.value,
})
