/** How far an axis still has to go, beside its reading: "down 41 · 27 s", "down 51 then up 10 · 33 s". */
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import type { WayToGo } from '../../state/drive.ts'
import { wayWords } from './drivewords.ts'

export function WayBeside({ mount, axis, way }: { mount: MountRecord; axis: Axis; way: WayToGo }) {
  const { amount, after, seconds } = wayWords(mount, axis, way)
  const rest = [after, seconds].filter(Boolean).join(' · ')
  return (
    <span class="way">
      <strong>{amount}</strong>
      {rest !== '' && (after === null ? ' · ' : ' ')}
      {rest !== '' && <span>{rest}</span>}
    </span>
  )
}
