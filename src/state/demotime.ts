/** A demo station with its own hour has the clock set to it when it is shown; a real station has the phone's. */
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
/** Call once; it runs as long as the page. A rehearsal has its own clock, which is not touched (`rehearse.ts`). */
export function followDemoTime(): void {
  if (isFollowed) return
  isFollowed = true
  effect(() => {
    if (hour.value !== null) putClockAt(instantMs(hour.value))
    else if (fieldBook.station.value?.rehearsal !== true) putClockAt(null)
  })
}
