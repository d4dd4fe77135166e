/** What the first screen says of a solution: how well the beam follows the Moon, what that rests on, and what is worth doing next. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { allowedDb } from '../../state/losses.ts'
import { landscape } from '../../state/sky.ts'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { allowedDecibels, countOf, decibels, degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LineBar } from '../kit/LineBar.tsx'
import { LossHead } from '../kit/LossHead.tsx'
import { LOSS, madeOf, verdictWords, worstWords } from '../kit/loss.ts'
import { Notice } from '../kit/Notice.tsx'
import { Sentence, Text } from '../kit/numbers.tsx'
import { placeWords, SKY } from '../kit/phrases.ts'
import { allAside, firstWhyNot } from '../kit/suspectwords.ts'
import { ANSWER } from './answerwords.ts'
import { NOW } from './words.ts'

export { WorthBox } from '../kit/WorthBox.tsx'

/** The number that matters, in words. */
export function HowWell({ solution, stale, station }: { solution: Solution; stale: boolean; station: StationRecord }) {
  const { sky, fit } = solution
  const allowed = allowedDb(station)
  if (fit.used === 0 && fit.outliers > 0) {
    return (
      <>
        <Sentence strong>{allAside(fit.outliers)}</Sentence>
        <Text>{ANSWER.allAsideWhy}</Text>
      </>
    )
  }
  if (fit.used === 0) {
    return (
      <>
        <Sentence strong>{ANSWER.noSightings}</Sentence>
        <Text>{ANSWER.noSightingsWhy}</Text>
      </>
    )
  }
  const isOther = solution.feed !== feedHere(station)
  if (isOther || sky.hours === 0) {
    return (
      <>
        {isOther ? <Sentence>{NOW.computing}</Sentence> : <Notice state="stop">{SKY.notReached}</Notice>}
        <FeedInUse station={station} />
      </>
    )
  }
  // That is said already, larger.
  const isOffTarget = isBeamOffTarget(sky.echoLossP95Db)
  return (
    <>
      <LossHead station={station} solution={solution} />
      {!isOffTarget && (
        <LineBar
          value={sky.echoLossP95Db}
          allowed={allowed}
          words={`Echo loss ${decibels(sky.echoLossP95Db, allowed)}, allowed ${allowedDecibels(allowed)}`}
        />
      )}
      <FeedInUse station={station} />
      <Text quiet>
        {!(isOffTarget && firstWhyNot(solution)?.kind === 'loss') && verdictWords(solution)}
        <span class="now-more"> {ANSWER.from(countOf(fit.used, 'sighting'), fit.outliers)}</span>
        {stale ? ` ${NOW.computing}` : ''}
      </Text>
    </>
  )
}

/** What the number is made of; and the scatter of the sightings, which is no part of that sum. */
export function RestsOn({ station, solution }: { station: StationRecord; solution: Solution }) {
  const { fit } = solution
  const { made, worst } = landscape.value ?? {}
  return (
    <HelpLine word={ANSWER.restsOn}>
      {worst && <p>{worstWords(solution, allowedDb(station), placeWords(worst.azDeg, worst.elDeg))}</p>}
      {made && <p>{madeOf(degrees(made.openDeg, 2), degrees(made.floorDeg, 2))}</p>}
      <p>{ANSWER.scatter(degrees(fit.rmsDeg, 2))}</p>
      {LOSS.help.map(text => (
        <p key={text}>{text}</p>
      ))}
    </HelpLine>
  )
}
