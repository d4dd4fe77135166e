/** What the first screen says of a solution: how well the beam follows the Moon, what that rests on, and what is worth doing next. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { allowedDb } from '../../state/losses.ts'
import { sightedAt } from '../../state/sighted.ts'
import { landscape } from '../../state/sky.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { allowedDecibels, countOf, decibels, degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LossHead } from '../kit/LossHead.tsx'
import { LOSS, madeOf, verdictWords, worstWords } from '../kit/loss.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { placeWords, SKY } from '../kit/phrases.ts'
import { firstWhyNot, noneCounts } from '../kit/whynotwords.ts'
import { ANSWER } from './answerwords.ts'
import { LineBar } from './LineBar.tsx'
import { NOW } from './words.ts'

export { UnsavedNotice } from '../kit/SavedLine.tsx'
export { WorthBox } from '../kit/WorthBox.tsx'

/** Of a station where no sighting counts: known before any answer, so that no row moves under a finger when that comes. */
export function NothingSighted({ station }: { station: StationRecord }) {
  const sighted = sightedAt(station)
  return (
    <>
      <Sentence strong>{noneCounts(sighted)}</Sentence>
      <Text>{sighted.kind === 'none' ? ANSWER.noSightingsWhy : ANSWER.noneCountsWhy}</Text>
      <SecondaryButton onPress={() => go('align')}>{ANSWER.align}</SecondaryButton>
    </>
  )
}

/** The number that matters, in words. */
export function HowWell({ solution, stale, station }: { solution: Solution; stale: boolean; station: StationRecord }) {
  const { sky, fit } = solution
  const allowed = allowedDb(station)
  const sighted = sightedAt(station)
  if (sighted.kind === 'set-aside') {
    return (
      <>
        <Sentence strong>{noneCounts(sighted)}</Sentence>
        <Text>{ANSWER.allAsideWhy}</Text>
      </>
    )
  }
  if (sighted.kind === 'computing') return <Sentence>{noneCounts(sighted)}</Sentence>
  const isOther = solution.feed !== feedHere(station)
  if (isOther || sky.hours === 0) {
    return (
      <>
        {isOther ? <Sentence>{NOW.computing}</Sentence> : <Notice state="stop">{SKY.notReached}</Notice>}
        <FeedInUse station={station} />
      </>
    )
  }
  // It is said already, larger.
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

interface OfSolution {
  station: StationRecord
  solution: Solution
}

/** What the number is based on, folded. */
export const RestsOn = (p: OfSolution) => (
  <HelpLine word={ANSWER.restsOn}>
    <Facts {...p} />
  </HelpLine>
)

/** The same, open: where a wide window has room under the number. */
export const RestsOnOpen = (p: OfSolution) => (
  <section class="now-facts">
    <h2>{ANSWER.restsOn}</h2>
    <Facts {...p} />
  </section>
)

/** What the number is made of; and the scatter of the sightings, which is not part of that sum. */
function Facts({ station, solution }: OfSolution) {
  const { fit } = solution
  const { made, worst } = landscape.value ?? {}
  return (
    <>
      {worst && <p>{worstWords(solution, allowedDb(station), placeWords(worst.azDeg, worst.elDeg))}</p>}
      {made && <p>{madeOf(made)}</p>}
      <p>{ANSWER.scatter(degrees(fit.rmsDeg, 2))}</p>
      {LOSS.help.map(text => (
        <p key={text}>{text}</p>
      ))}
    </>
  )
}
