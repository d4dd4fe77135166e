/** The time in the header, once a second; not announced as it ticks. */
import { isDemoTime, now } from '../../state/now.ts'
import { utcTime } from './format.ts'
import { DEMO_TIME } from './phrases.ts'

export function UtcNow() {
  return (
    <span role="timer" aria-live="off">
      {isDemoTime.value && `${DEMO_TIME} `}
      {utcTime(now.value)} UTC
    </span>
  )
}
