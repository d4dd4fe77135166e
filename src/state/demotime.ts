/** A demo station with an hour of its own has the clock put there when it is shown; any other station has the phone's. */
import { computed, effect } from '@preact/signals'
import { instantMs } from '../core/records/instant.ts'
import { fieldBook } from './book.ts'
import { putClockAt } from './now.ts'

/** The hour of the station that is shown; null: the phone's own. */
const hour = computed((): string | null => {
  const station = fieldBook.station.value
  return station?.demo === true ? (station.demoUtc ?? null) : null
})

/** For as long as the page lives. */
export const followDemoTime = (): (() => void) =>
  effect(() => putClockAt(hour.value === null ? null : instantMs(hour.value)))
