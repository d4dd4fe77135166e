/** The time in the header, once a second; not announced as it ticks. */
import { fieldBook } from '../../state/book.ts'
import { isOwnTime, now } from '../../state/now.ts'
import { utcTime } from './format.ts'
import { DEMO_TIME, isDemo, REHEARSAL_TIME } from './phrases.ts'

export function UtcNow() {
  return (
    <span role="timer" aria-live="off">
      {isOwnTime.value && `${isDemo(fieldBook.station.value) ? DEMO_TIME : REHEARSAL_TIME} `}
      {utcTime(now.value)} UTC
    </span>
  )
}
