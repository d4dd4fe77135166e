/** The sightings that would help most in the coming three days: when, where, both readings, what each would buy. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { NextSighting } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { trueNow } from '../../state/ask.ts'
import { chooseTarget } from '../../state/pointing.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { degrees } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { AxisPair, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled, placeWords } from '../kit/phrases.ts'
import { CORRECT, nextBuys, nextHead, nextWhen } from './words.ts'

function ontoDial(next: NextSighting): void {
  chooseTarget({ type: next.target })
  go('sight')
}

export function CorrectNext({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const next = solution?.next ?? []
  const first = next[0]
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.next}
      action={first && <Action onPress={() => ontoDial(first)}>{CORRECT.ontoDial(first.target)}</Action>}
    >
      {solution && next.length === 0 && (
        <>
          <Sentence strong>{CORRECT.noNext}</Sentence>
          <Text quiet>{CORRECT.noNextWhy}</Text>
        </>
      )}
      {solution && first && !solution.sky.within && first.rmsAfterDeg > solution.sky.toleranceDeg / 2 && (
        <Text>{CORRECT.oneIsNotEnough}</Text>
      )}
      {solution &&
        next.map(n => (
          <OneNext
            key={`${n.target} ${n.method} ${n.utc}`}
            next={n}
            station={station}
            before={solution.sky.after.rmsDeg}
            other={n.target !== first?.target}
          />
        ))}
    </CorrectFrame>
  )
}

interface OneNextProps {
  next: NextSighting
  station: StationRecord
  before: number
  /** Another body than the action at the foot is about. */
  other: boolean
}

function OneNext({ next: n, station, before, other }: OneNextProps) {
  const { mount } = station
  const show = (axis: 'lower' | 'upper') => ({ label: axisName(mount, axis), ...dialled(mount, axis, n[axis]) })
  const when = Math.floor(trueNow.value / 60_000) * 60_000
  return (
    <section class="correct-part correct-ruled" aria-label={`${nextHead(n)}, ${nextWhen(n, when)}`}>
      <h2 class="correct-head">{nextHead(n)}</h2>
      <Text>
        {nextWhen(n, when)}; {placeWords(n.azDeg, n.elDeg)}: azimuth {degrees(n.azDeg, 1)}, elevation{' '}
        {degrees(n.elDeg, 1)}
      </Text>
      <AxisPair lower={show('lower')} upper={show('upper')} size="row" />
      <Text quiet>{nextBuys(before, n.rmsAfterDeg)}.</Text>
      {other && (
        <ButtonRow>
          <SecondaryButton onPress={() => ontoDial(n)}>{CORRECT.ontoDial(n.target)}</SecondaryButton>
        </ButtonRow>
      )}
    </section>
  )
}
