/** The one thing worth doing next, as a button: one tap leads to the screen that does it. */
import type { WorthStepJson } from '../../core/plan/worthjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { trueNow } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { worth } from '../../state/worth.ts'
import { STATE_WORDS } from './Notice.tsx'
import { go } from './navigation.ts'
import { settleFirst, worthBrings, worthHead, worthWay, worthWhere } from './worthwords.ts'

/** To the screen that does a step, with its body chosen on Sight. @param storm  the check after a storm that a Sun peak continues */
export async function goToStep(step: WorthStepJson, storm?: string): Promise<void> {
  if (step.kind === 'sighting') {
    // The code of Sight is not loaded with the first screen.
    const { chooseTarget } = await import('../../state/pointing.ts')
    chooseTarget({ type: step.target })
  }
  go(...worthWay(step, storm))
}

export function WorthBox({ station, solution }: { station: StationRecord; solution: Solution }) {
  const first = settleFirst(solution.sky.whyNot)
  if (first) return <Box head={first.head} onPress={() => go(...first.way)} />
  const plan = worth.value
  const best = plan?.feed === feedHere(station) ? plan.steps[0] : undefined
  if (!best) return null
  const { step } = best
  return (
    <Box
      head={worthHead(station.mount, step)}
      where={worthWhere(station.mount, step, trueNow.value)}
      brings={worthBrings(best)}
      onPress={() => void goToStep(step)}
    />
  )
}

interface BoxProps {
  head: string
  where?: string | null
  brings?: string
  onPress: () => void
}

function Box({ head, where = null, brings, onPress }: BoxProps) {
  return (
    <button type="button" class="notice notice-next worth" onClick={onPress}>
      <span class="notice-word">{STATE_WORDS.next}</span>
      <strong>
        {head}
        {where && `, ${where}`}
      </strong>
      {brings && <span class="now-more">{brings}</span>}
    </button>
  )
}
