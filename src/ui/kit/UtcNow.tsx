/** The time in the header, once a second; not announced as it ticks. */
import { now } from '../../state/now.ts'
import { utcTime } from './format.ts'

export function UtcNow() {
  return (
    <span role="timer" aria-live="off">
      {utcTime(now.value)} UTC
    </span>
  )
}
