/** How far an import is: the step in words, a bar, and what stopping means. */
import type { ImportStage } from '../../state/import.ts'
import { Text } from '../kit/numbers.tsx'
import { IMPORT } from './words.ts'

export interface Progress {
  part: ImportStage
  /** 0 to 1 */
  share: number
}

export function ImportProgress({ progress }: { progress: Progress }) {
  const words = IMPORT.parts[progress.part]
  return (
    <>
      <p role="status">{words}</p>
      <progress class="progress-bar" aria-label={words} max={100} value={Math.round(100 * progress.share)} />
      <Text quiet>{IMPORT.stopWhat}</Text>
    </>
  )
}
