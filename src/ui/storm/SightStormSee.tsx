/** What a check after a storm says: what moved, which axis explains it best, and what to do next. Computed again when shown. */
import type { StormCheckJson } from '../../core/check/feedjson.ts'
import type { StormCheckRecord } from '../../core/records/checks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { partsOf, stormCheckHere, stormSays } from '../../state/feed.ts'
import { isOwnStep } from '../../state/sightings.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, Second, Seconds } from '../kit/buttons.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { lengthUnit } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, partFromNames } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { UndoButton } from '../kit/undo.tsx'
import {
  changedBy,
  culpritSays,
  culpritWords,
  isEnough,
  STORM,
  STORM_NEXT,
  stormFeed,
  stormMiss,
  stormShadow,
  stormVerdict,
} from './words.ts'

export function SightStormSee({ station, id }: { station: StationRecord; id: string }) {
  const check = stormCheckHere(station, id)
  const parts = check && partsOf(station, check)
  const again = <Action onPress={() => go('sight', 'storm')}>{STORM.again}</Action>
  if (check === null || parts === null)
    return (
      <SunFrame station={station} title={STORM.answer} action={again}>
        <Sentence>{STORM.gone}</Sentence>
      </SunFrame>
    )
  return <Answer station={station} check={check} {...parts} />
}

type Parts = NonNullable<ReturnType<typeof partsOf>>

function Answer({ station, check, peak, shadow }: { station: StationRecord; check: StormCheckRecord } & Parts) {
  const first = station.sightings.every(s => s.id === peak.id || s.id === shadow?.id || s.utc >= peak.utc)
  const { value: said, asking } = useAsked(useSolveKey(station), () => stormSays(station, check.feed, peak, shadow))
  const names = said === null ? [] : changedBy(station, check.feed, said)
  return (
    <SunFrame
      station={station}
      title={STORM.answer}
      side={said && <Evidence station={station} said={said} />}
      action={
        names.length > 0 ? (
          <Action onPress={() => go('level', 'change', partFromNames(names), peak.utc)}>{STORM.noteChange}</Action>
        ) : (
          <Action onPress={() => go('sight')}>{STORM.onward}</Action>
        )
      }
    >
      <Text quiet>{whenToSecond(Date.parse(check.utc))}</Text>
      {said === null && <Sentence>{asking ? STORM.asking : STORM.cannot}</Sentence>}
      {said && first && <Notice state="next">{STORM.none}</Notice>}
      {said && <Verdict station={station} said={said} />}
      <Seconds>
        <Second onPress={() => go('sight', 'see', peak.id)}>{STORM.peak}</Second>
        {shadow && <Second onPress={() => go('sight', 'see', shadow.id)}>{STORM.shadow}</Second>}
        <Second onPress={() => go('correct', 'feed')}>{STORM.toFeed}</Second>
        <UndoButton of={isOwnStep} onUndone={() => go('sight', 'storm')} />
      </Seconds>
    </SunFrame>
  )
}

function Verdict({ station, said }: { station: StationRecord; said: StormCheckJson }) {
  const unit = lengthUnit()
  const which = culpritSays(station, said)
  return (
    <>
      <Sentence strong>{stormVerdict(said.verdict, said.shadow !== null)}</Sentence>
      {said.feed && <Text>{stormFeed(said.feed, unit)}</Text>}
      {which && <Text>{which}</Text>}
      <Notice state={said.verdict === 'as-before' ? 'good' : 'next'}>{STORM_NEXT[said.verdict]}</Notice>
      {said.verdict !== 'as-before' && <DishCautions station={station} reach />}
    </>
  )
}

function Evidence({ station, said }: { station: StationRecord; said: StormCheckJson }) {
  const unit = lengthUnit()
  return (
    <>
      <Rows>
        <Row label={STORM.atPeak}>{stormMiss(said)}</Row>
        {said.shadow && <Row label={STORM.ofShadow}>{stormShadow(said, unit)}</Row>}
      </Rows>
      {said.culprits.length > 0 && <Culprits station={station} said={said} />}
    </>
  )
}

function Culprits({ station, said }: { station: StationRecord; said: StormCheckJson }) {
  return (
    <>
      <h2 class="correct-head">{STORM.best}</h2>
      <Rows>
        {said.culprits.map(c => {
          const { what, value } = culpritWords(station, c)
          return (
            <Row key={c.id} label={what} note={isEnough(c) ? STORM.enough : STORM.notEnough}>
              {value}
            </Row>
          )
        })}
      </Rows>
    </>
  )
}
