/**
 * How a rehearsal stood when it was last looked at, as this phone remembers it; and its clock until the rehearsal's own code is
 * there, so that no screen says the phone's time of a dish that does not exist. Small: it is loaded with the first screen.
 */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { remembered } from './memory.ts'
import { putClockAt as putClock } from './now.ts'

interface Place {
  at: number
  side: number
}
export interface Kept {
  clockMs: number
  lower: Place
  upper: Place
}

export const keyOf = (station: string): string => `moonplumb.rehearsal.${station}`
const isPlace = (x: unknown): x is Place =>
  typeof x === 'object' && x !== null && 'at' in x && 'side' in x && Number.isFinite(x.at) && Number.isFinite(x.side)

/** Null where nobody remembers. */
export function keptOf(station: string): Kept | null {
  try {
    const kept = JSON.parse(remembered(keyOf(station)) ?? 'null') as Kept | null
    return kept !== null && Number.isFinite(kept.clockMs) && isPlace(kept.lower) && isPlace(kept.upper) ? kept : null
  } catch {
    return null
  }
}

/**
 * Puts the clock where a rehearsal's clock waits, and for any other station back to the phone's, unless its own code has come:
 * that has the clock then, and this does nothing more.
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
