/** What is worth doing next: levels, marks, shadows, a drift, the clock, sightings; what each brings and how long it takes. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { WorthJson } from '../../core/plan/worthjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { trueNow } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { worth } from '../../state/worth.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { go } from '../kit/navigation.ts'
import { AxisPair, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled } from '../kit/phrases.ts'
import { goToStep } from '../kit/WorthBox.tsx'
import { settleFirst, worthBrings, worthHead, worthWhere } from '../kit/worthwords.ts'
import { CORRECT } from './words.ts'

export function CorrectNext({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const plan = worth.value?.feed === feedHere(station) ? worth.value : null
  const [first, ...others] = plan?.steps ?? []
  const settle = solution && settleFirst(solution.sky.whyNot)
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.next}
      action={
        first && <Action onPress={() => void goToStep(first.step)}>{worthHead(station.mount, first.step)}</Action>
      }
    >
      {settle && <RowButton label={settle.head} onPress={() => go(...settle.way)} />}
      {solution && plan === null && <Text>{SOLVING.computing}</Text>}
      {plan && first === undefined && (
        <>
          <Sentence strong>{CORRECT.noNext}</Sentence>
          <Text quiet>
            {solution && isBeamOffTarget(solution.sky.echoLossP95Db) ? CORRECT.noNextFar : CORRECT.noNextWhy}
          </Text>
        </>
      )}
      {first && <Text quiet>{CORRECT.nextLead}</Text>}
      {first && <One worth={first} station={station} isFirst />}
      {others.map(w => (
        <One key={worthHead(station.mount, w.step)} worth={w} station={station} />
      ))}
      {plan && <RowButton label={CORRECT.aheadRow} onPress={() => go('correct', 'ahead')} />}
    </CorrectFrame>
  )
}

/** The first has its button at the foot; of a sighting both readings are shown. */
function One({ worth: w, station, isFirst = false }: { worth: WorthJson; station: StationRecord; isFirst?: boolean }) {
  const { mount } = station
  const { step } = w
  const head = worthHead(mount, step)
  const where = worthWhere(mount, step, trueNow.value)
  const show = (axis: 'lower' | 'upper', reading: number) => ({
    label: axisName(mount, axis),
    ...dialled(mount, axis, reading),
  })
  return (
    <section class="correct-part correct-ruled" aria-label={head}>
      {isFirst ? (
        <h2 class="correct-head">{head}</h2>
      ) : (
        <RowButton label={<strong>{head}</strong>} onPress={() => void goToStep(step)} />
      )}
      {where && <Text>{where}</Text>}
      {step.kind === 'sighting' && (
        <AxisPair lower={show('lower', step.lower)} upper={show('upper', step.upper)} size="row" />
      )}
      <Text quiet>{worthBrings(w)}</Text>
    </section>
  )
}
