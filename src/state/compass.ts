/** The phone's compass for the screens: what it shows now, only while something watches; and a rough heading put in. */
import { type ReadonlySignal, signal } from '@preact/signals'
import { splitPriorId } from '../core/fit/parameters.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import { COMPASS_SIGMA_DEG } from '../core/sky/magnetic.ts'
import { type CompassSeen, watchCompass } from '../device/compass.ts'
import type { Kept } from '../store/database.ts'
import { fieldBook, stationEntry } from './book.ts'

export type { CompassSeen }

let stop: (() => void) | undefined
const seen = signal<CompassSeen | null>(null, {
  watched() {
    stop = watchCompass(now => {
      seen.value = now
    })
  },
  unwatched() {
    stop?.()
  },
})
/** Null until the phone has said something of north. */
export const compass: ReadonlySignal<CompassSeen | null> = seen

/** The station with a rough heading: where the mount faces, and a prior that says how rough it is. */
export function withRoughHeading(station: StationRecord, trueDeg: number): StationRecord {
  const others = (station.priors ?? []).filter(p => splitPriorId(p).id !== 'heading')
  const headingDeg = Math.round(trueDeg * 10) / 10
  return {
    ...station,
    priors: [...others, { id: 'heading', value: 0, sigma: COMPASS_SIGMA_DEG, measured: true }],
    mount: { ...station.mount, headingDeg: headingDeg >= 360 ? 0 : headingDeg },
  }
}

export const putHeading = (station: StationRecord, trueDeg: number): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'rough-heading', place: 'mount', subject: { deg: trueDeg } }, [
    stationEntry(withRoughHeading(station, trueDeg)),
  ])
