/** One line that says a station is a demo; nothing for a real one. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { DEMO_MARK, isDemo } from './phrases.ts'

export function DemoMark({ station }: { station: StationRecord | null }) {
  return isDemo(station) ? <p class="demo-mark">{DEMO_MARK}</p> : null
}
