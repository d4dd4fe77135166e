/** How far an axis still has to go, beside its reading: "down 41 · 27 s". */
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import type { Way } from '../../state/drive.ts'
import { wayWords } from './drivewords.ts'

export function WayBeside({ mount, axis, way }: { mount: MountRecord; axis: Axis; way: Way }) {
  const { amount, seconds } = wayWords(mount, axis, way)
  return (
    <span class="way">
      <strong>{amount}</strong>
      {seconds !== null && <span> · {seconds}</span>}
    </span>
  )
}
