/** A demo station with an hour of its own has the clock put there when it is shown; a real station has the phone's. */
import { computed, effect } from '@preact/signals'
import { instantMs } from '../core/records/instant.ts'
import { fieldBook } from './book.ts'
import { putClockAt } from './now.ts'

/** The hour of the station that is shown; null: the phone's own. */
const hour = computed((): string | null => {
  const station = fieldBook.station.value
  return station?.demo === true ? (station.demoUtc ?? null) : null
})

let isFollowed = false
/** For as long as the page lives; once. A rehearsal has a clock of its own, which is not touched (`rehearse.ts`). */
export function followDemoTime(): void {
  if (isFollowed) return
  isFollowed = true
  effect(() => {
    if (hour.value !== null) putClockAt(instantMs(hour.value))
    else if (fieldBook.station.value?.rehearsal !== true) putClockAt(null)
  })
}
