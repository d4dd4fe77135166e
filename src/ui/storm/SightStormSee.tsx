/** What a check after a storm says, of all that was measured since: one of three answers, and what to do next. */
import type { StepJson } from '../../core/plan/stepjson.ts'
import type { StormCheckJson } from '../../core/plan/stormjson.ts'
import type { StormCheckRecord } from '../../core/records/checks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { trueNow } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { openStormCheck, sightingsOfCheck, stormCheckHere, stormSays } from '../../state/feed.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { go, partFromNames } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { goToStep } from '../kit/WorthBox.tsx'
import { StormEvidence, StormFindings, StormToDo } from './StormParts.tsx'
import { changedBy, STORM, stepDo } from './words.ts'

export function SightStormSee({ station, id }: { station: StationRecord; id: string }) {
  const check = stormCheckHere(station, id)
  const parts = check && sightingsOfCheck(station, check)
  if (check === null || parts === null)
    return (
      <SunFrame
        station={station}
        title={STORM.answer}
        action={<Action onPress={() => go('sight', 'storm')}>{STORM.again}</Action>}
      >
        <Sentence>{STORM.gone}</Sentence>
      </SunFrame>
    )
  return <Answer station={station} check={check} />
}

function Answer({ station, check }: { station: StationRecord; check: StormCheckRecord }) {
  // What can be done next is worked out for the half hour that runs.
  const halfHour = Math.floor(trueNow.value / 1_800_000)
  const { value: said, asking } = useAsked(`${useSolveKey(station)} ${halfHour}`, () => stormSays(station, check))
  const isOpen = openStormCheck(station)?.id === check.id
  const toStep = (step: StepJson) => void goToStep(step, check.id)
  return (
    <SunFrame
      station={station}
      title={STORM.answer}
      side={said && <StormEvidence station={station} said={said} />}
      action={<Next said={said} check={check} isOpen={isOpen} onStep={toStep} />}
    >
      <Text quiet>{whenToSecond(instantMs(check.utc))}</Text>
      {said === null && <Sentence>{asking ? STORM.asking : STORM.cannot}</Sentence>}
      {said && <StormFindings station={station} said={said} />}
      {said && isOpen && <StormToDo said={said} onStep={toStep} />}
      <ButtonRow>
        {said?.verdict === 'moved' && isOpen && (
          <SecondaryButton onPress={() => go('sight', 'storm', 'more', check.id)}>{STORM.more}</SecondaryButton>
        )}
        <SecondaryButton onPress={() => go('correct', 'feed')}>{STORM.toFeed}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'list')}>{STORM.list}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'storm')}>{STORM.again}</SecondaryButton>
      </ButtonRow>
      <UndoStrip
        of="sight"
        onUndone={() => {
          // After an undo: either a continuation was undone and the check stays, or the check itself is gone.
          const now = fieldBook.station.peek()
          if (now === null || stormCheckHere(now, check.id) === null) go('sight', 'storm')
        }}
      />
    </SunFrame>
  )
}

interface NextProps {
  said: StormCheckJson | null
  check: StormCheckRecord
  isOpen: boolean
  onStep: (step: StepJson) => void
}

/** The one action. */
function Next({ said, check, isOpen, onStep }: NextProps) {
  if (said?.verdict === 'moved') {
    const names = changedBy(said)
    return <Action onPress={() => go('mount', 'change', partFromNames(names), check.utc)}>{STORM.noteChange}</Action>
  }
  if (said?.why === 'odd-one' && said.odd !== null) {
    const { odd } = said
    return <Action onPress={() => go('sight', 'see', odd)}>{STORM.seeOdd}</Action>
  }
  const first = said?.next[0]
  if (isOpen && first) return <Action onPress={() => onStep(first)}>{stepDo(first)}</Action>
  if (isOpen && said?.why === 'unseen')
    return <Action onPress={() => go('sight', 'storm', 'more', check.id)}>{STORM.more}</Action>
  return <Action onPress={() => go('sight')}>{STORM.onward}</Action>
}
