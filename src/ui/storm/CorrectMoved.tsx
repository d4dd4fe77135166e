/** Has it moved? All that was measured since the last change, visit by visit, against what came before. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { moved } from '../../state/moved.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { go, partFromNames } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { SUSPECT_WORDS } from '../kit/suspectwords.ts'
import { goToStep } from '../kit/WorthBox.tsx'
import { WAYS } from '../kit/ways.ts'
import { firstWhyNot } from '../kit/whynotwords.ts'
import { MOVED, movedSentence, whenMoved } from './movedwords.ts'
import { StormEvidence, StormFindings, StormToDo } from './StormParts.tsx'
import { changedBy, STORM, stepDo } from './words.ts'

export function CorrectMoved({ station }: { station: StationRecord }) {
  const said = moved.value
  const { solution } = answer.value
  const why = solution && firstWhyNot(solution)
  const check = said?.check ?? null
  const when = said && whenMoved(said)
  // The last visit's own verdict does not count unless all visits together confirm it.
  const isTold = check !== null && (said?.verdict === 'moved' || check.verdict !== 'moved')
  return (
    <CorrectFrame
      station={station}
      title={WAYS.moved}
      side={check && <StormEvidence station={station} said={check} />}
      action={<Next />}
    >
      {said === null && <Text>{SOLVING.computing}</Text>}
      {why?.kind === 'suspect' && (
        <RowButton
          label={MOVED.suspects}
          value={SUSPECT_WORDS[why.suspect]}
          onPress={() => go('correct', 'suspects')}
        />
      )}
      {said && !isTold && <Sentence strong>{movedSentence(station, said)}</Sentence>}
      {said && check && isTold && (
        <StormFindings station={station} said={check} sentence={movedSentence(station, said)} />
      )}
      {when && <Text>{when}</Text>}
      {check && isTold && said?.verdict !== 'holds' && <StormToDo said={check} onStep={step => void goToStep(step)} />}
      <Text quiet>{MOVED.lead}</Text>
    </CorrectFrame>
  )
}

/** The one action. */
function Next() {
  const said = moved.value
  const check = said?.check
  if (said?.verdict === 'moved' && check && said.since) {
    const { firstUtc } = said.since
    return (
      <Action onPress={() => go('mount', 'change', partFromNames(changedBy(check)), firstUtc)}>
        {STORM.noteChange}
      </Action>
    )
  }
  const step = said?.verdict === 'cannot-tell' && check?.verdict !== 'moved' ? check?.next[0] : undefined
  if (step) return <Action onPress={() => void goToStep(step)}>{stepDo(step)}</Action>
  return <Action onPress={() => go('sight')}>{STORM.onward}</Action>
}
