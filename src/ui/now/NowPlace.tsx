/** The first screen: how well the beam follows the Moon, Sun and Moon now, and the one next thing to do. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { fieldBook } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { comingHours } from '../../state/coming.ts'
import { allowedDb } from '../../state/losses.ts'
import { type BodyNow, bodiesNow, landscape } from '../../state/sky.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { allowedDecibels, angleStyle, countOf, decibels, degrees, localTime, NBSP, utcTime } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LineBar } from '../kit/LineBar.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled, placeWords, SKY } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UpdateNotice } from '../kit/UpdateNotice.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import './now.css'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { LossHead } from '../kit/LossHead.tsx'
import { LOSS, madeOf, verdictWords, worstWords } from '../kit/loss.ts'
import { allAside, firstWhyNot } from '../kit/suspectwords.ts'
import { WorthBox } from '../kit/WorthBox.tsx'
import { NowBackup } from './NowBackup.tsx'
import { Welcome } from './Welcome.tsx'
import { EVENT_WORDS, NOW, untilWords } from './words.ts'

export function NowPlace() {
  const station = fieldBook.station.value
  return station === null ? <Welcome /> : <Standing station={station} />
}

function Standing({ station }: { station: StationRecord }) {
  const { solution, stale, failure, faults } = answer.value
  return (
    <Screen
      title={station.name}
      utc={<UtcNow />}
      present="now"
      onGo={id => go(id)}
      action={<Action onPress={() => go('sight')}>{NOW.record}</Action>}
      side={
        <>
          <Bodies station={station} />
          {solution && <WorthBox station={station} solution={solution} />}
          <NowBackup station={station} />
          <UpdateNotice />
          <div class="now-more">
            {solution && solution.fit.used > 0 && <RestsOn station={station} solution={solution} />}
          </div>
        </>
      }
    >
      <DemoMark station={station} />
      {failure && (
        <Notice state="stop">The computation failed: {failure.message}. Export the book and report it.</Notice>
      )}
      {faults.map(f => (
        <Notice key={f.path} state="stop">
          {f.path}: {f.rule}
        </Notice>
      ))}
      {solution === null ? (
        stale && <Sentence>{NOW.computing}</Sentence>
      ) : (
        <HowWell solution={solution} stale={stale} station={station} />
      )}
    </Screen>
  )
}

/** The number that matters, in words. */
function HowWell({ solution, stale, station }: { solution: Solution; stale: boolean; station: StationRecord }) {
  const { sky, fit } = solution
  const allowed = allowedDb(station)
  if (fit.used === 0 && fit.outliers > 0) {
    return (
      <>
        <Sentence strong>{allAside(fit.outliers)}</Sentence>
        <Text>{NOW.allAsideWhy}</Text>
      </>
    )
  }
  if (fit.used === 0) {
    return (
      <>
        <Sentence strong>{NOW.noSightings}</Sentence>
        <Text>{NOW.noSightingsWhy}</Text>
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
        <span class="now-more"> {NOW.from(countOf(fit.used, 'sighting'), fit.outliers)}</span>
        {stale ? ` ${NOW.computing}` : ''}
      </Text>
    </>
  )
}

/** What the number is made of; and the scatter of the sightings, which is no part of that sum. */
function RestsOn({ station, solution }: { station: StationRecord; solution: Solution }) {
  const { fit } = solution
  const { made, worst } = landscape.value ?? {}
  return (
    <HelpLine word={NOW.restsOn}>
      {worst && <p>{worstWords(solution, allowedDb(station), placeWords(worst.azDeg, worst.elDeg))}</p>}
      {made && <p>{madeOf(degrees(made.openDeg, 2), degrees(made.floorDeg, 2))}</p>}
      <p>{NOW.scatter(degrees(fit.rmsDeg, 2))}</p>
      {LOSS.help.map(text => (
        <p key={text}>{text}</p>
      ))}
    </HelpLine>
  )
}

/** The way to the days ahead, with their hours as soon as they are known. */
function Coming() {
  const hours = comingHours.value
  return <RowButton label={NOW.coming} value={hours === null ? '' : NOW.hours(hours)} onPress={() => go('when')} />
}

/** Sun and Moon with both readings. */
function Bodies({ station }: { station: StationRecord }) {
  return (
    <div class="body-rows">
      {[...bodiesNow.value].reverse().map(b => (
        <Body key={b.body} body={b} station={station} />
      ))}
      <div class="now-ways">
        <Coming />
        <RowButton label={NOW.align} onPress={() => go('align')} />
      </div>
    </div>
  )
}

function Body({ body, station }: { body: BodyNow; station: StationRecord }) {
  const { mount } = station
  const { event } = body
  const at = (axis: 'lower' | 'upper') => {
    const reading = body[axis]
    return reading === null || body.elDeg <= 0 || !body.reachable ? null : dialled(mount, axis, reading)
  }
  const [lower, upper] = [at('lower'), at('upper')]
  const isOut = lower === null || upper === null
  return (
    <div class={angleStyle() === 'decimal' ? 'body-row' : 'body-row body-row-minutes'}>
      <div class="body-name">
        <strong>{body.body === 'sun' ? 'Sun' : 'Moon'}</strong>
        <small>
          {isOut ? body.elDeg > 0 ? NOW.outOfReach : NOW.down : event === null ? NOW.upAllDay : <Event event={event} />}
        </small>
      </div>
      {isOut ? (
        <Until body={body} />
      ) : (
        <>
          <BigNumber label={axisName(mount, 'lower')} {...lower} size="row" axis="lower" />
          <BigNumber label={axisName(mount, 'upper')} {...upper} size="row" axis="upper" />
        </>
      )}
    </div>
  )
}

/** Nothing to dial: when there will be, large, and how long that is. */
function Until({ body: { event, utcMs } }: { body: BodyNow }) {
  if (event === null) return <Text>{NOW.notToday}</Text>
  const local = localTime(event.utcMs)
  return (
    <div class="body-until">
      <BigNumber value={utcTime(event.utcMs, 'minute')} unit="UTC" size="row" />
      <small>
        {untilWords(event.what, event.utcMs - utcMs)}
        {local && <span class="now-local">, {local}</span>}
      </small>
    </div>
  )
}

/** "in reach till 13:33 UTC (14:33 here)"; on a small phone the local time is under Sight alone. */
function Event({ event }: { event: NonNullable<BodyNow['event']> }) {
  const local = localTime(event.utcMs)
  return (
    <>
      {EVENT_WORDS[event.what]} {utcTime(event.utcMs, 'minute')}
      {NBSP}UTC{local && <span class="now-local"> ({local})</span>}
    </>
  )
}
