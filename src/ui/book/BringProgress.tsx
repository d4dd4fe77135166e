/** How far the bringing in of a field book is: the step in words, a bar, and what stopping means. */
import type { BringStage } from '../../state/bringin.ts'
import { Text } from '../kit/numbers.tsx'
import { BRING } from './words.ts'

export interface Progress {
  part: BringStage
  /** 0 to 1 */
  share: number
}

export function BringProgress({ progress }: { progress: Progress }) {
  const words = BRING.parts[progress.part]
  return (
    <>
      <p role="status">{words}</p>
      <progress class="book-progress" aria-label={words} max={100} value={Math.round(100 * progress.share)} />
      <Text quiet>{BRING.stopWhat}</Text>
    </>
  )
}
