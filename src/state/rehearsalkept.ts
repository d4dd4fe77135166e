/**
 * Clock and drive positions of a rehearsal as this phone last had them; and the rehearsal's clock until its own code is loaded, so
 * that no screen shows the phone's time for it. Small: it is loaded with the first screen.
 */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { remembered } from './memory.ts'
import { putClockAt as putClock } from './now.ts'

interface Place {
  at: number
  side: number
}
export interface KeptRehearsal {
  clockMs: number
  lower: Place
  upper: Place
}

export const keyOf = (station: string): string => `moonplumb.rehearsal.${station}`
const isPlace = (x: unknown): x is Place =>
  typeof x === 'object' && x !== null && 'at' in x && 'side' in x && Number.isFinite(x.at) && Number.isFinite(x.side)

/** Null where nothing is remembered, or something illegible. */
export function keptOf(station: string): KeptRehearsal | null {
  try {
    const kept = JSON.parse(remembered(keyOf(station)) ?? 'null') as KeptRehearsal | null
    return kept !== null && Number.isFinite(kept.clockMs) && isPlace(kept.lower) && isPlace(kept.upper) ? kept : null
  } catch {
    return null
  }
}

/**
 * Sets the clock to a rehearsal's paused time, and back to the phone's for any other station. Once the rehearsal's own code has taken
 * the clock over, this does nothing.
 */
export function createWaitingClock(putClockAt: (ms: number | null, speed?: number) => void = putClock) {
  let waits: string | null = null
  let isTaken = false
  return {
    show(station: StationRecord | null): void {
      if (isTaken) return
      const setup = station?.rehearsal === true ? station.rehearsalSetup : undefined
      if (station === null || setup === undefined) {
        // A demo puts the clock at its own hour (demotime.ts).
        if (waits !== null && station?.demo !== true) putClockAt(null)
        waits = null
      } else if (waits !== station.id) {
        waits = station.id
        putClockAt(keptOf(station.id)?.clockMs ?? instantMs(setup.startUtc), 0)
      }
    },
    take(): void {
      isTaken = true
    },
  }
}

export const waitingClock = createWaitingClock()
