/** On the screens that a step of the alignment leads to: the way back to it, and out of the guidance. */
import { useEffect } from 'preact/hooks'
import { ALIGNMENT_STEPS, type AlignmentStep } from '../../core/records/alignment.ts'
import { guidedBy, guideFrom } from '../kit/guided.ts'
import { go, route } from '../kit/navigation.ts'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { ALIGN } from './words.ts'

/** The places that a step leads to; Now and "When" have a way back of their own. */
const LED = new Set(['mount', 'sight', 'correct', 'book'])

export const isStepId = (id: string | null | undefined): id is AlignmentStep =>
  (ALIGNMENT_STEPS as readonly unknown[]).includes(id)

export function WayBack() {
  const step = guidedBy.value
  const isLed = LED.has(route.value[0]!)
  // At the list, at a step, or at Now the guidance ends.
  useEffect(() => {
    if (!isLed) guideFrom(null)
  }, [isLed])
  if (!isStepId(step) || !isLed) return null
  return (
    <nav class="align-back" aria-label={ALIGN.guided}>
      <button type="button" class="second" onClick={() => go('align', step)}>
        {ALIGN.back(STEP_NAMES[step])}
      </button>
      <button type="button" class="second" onClick={() => guideFrom(null)}>
        {ALIGN.leaveGuide}
      </button>
    </nav>
  )
}
