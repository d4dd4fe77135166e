/** The first screen: how well the beam follows the Moon, Sun and Moon now, and the one next thing to do. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { fieldBook } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { beamwidthDeg } from '../../state/losses.ts'
import { type BodyNow, bodiesNow, landscape } from '../../state/sky.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import {
  allowedDecibels,
  angleStyle,
  countOf,
  decibels,
  degrees,
  localTime,
  NBSP,
  NONE,
  utcTime,
} from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LineBar } from '../kit/LineBar.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled, placeWords, SKY } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UpdateNotice } from '../kit/UpdateNotice.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import './now.css'
import { trueNow } from '../../state/ask.ts'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { LOSS, lossWords, oneWay, verdictWords } from '../kit/loss.ts'
import { allAside } from '../kit/suspectwords.ts'
import { NowBackup } from './NowBackup.tsx'
import { Welcome } from './Welcome.tsx'
import { EVENT_WORDS, NOW, nextWhy, nextWords } from './words.ts'

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
          {solution && <NextThing solution={solution} />}
          <NowBackup station={station} />
          <UpdateNotice />
          <div class="now-more">{solution && solution.fit.used > 0 && <RestsOn solution={solution} />}</div>
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
  const allowed = station.tolerance?.echoLossDb ?? 0.5
  const worst = landscape.value?.worst
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
  return (
    <>
      {isBeamOffTarget(sky.echoLossP95Db) ? (
        <>
          <Sentence strong>{LOSS.misses}</Sentence>
          <Text>{LOSS.missesWhy(sky.after.p95Deg, beamwidthDeg(station, solution.feed))}</Text>
        </>
      ) : (
        <>
          <Sentence strong>{LOSS.lead}</Sentence>
          <BigNumber
            value={decibels(sky.echoLossP95Db, allowed).replace(`${NBSP}dB`, '').replace(`under${NBSP}`, '<')}
            unit="dB"
            beside={
              <>
                {NOW.ofEchoes}; {oneWay(sky.echoLossP95Db)}
                <br />
                {NOW.allowed(allowed)}
                <span class="now-more">
                  ; worst {lossWords(sky.echoLossWorstDb, allowed)}
                  {worst && `, ${placeWords(worst.azDeg, worst.elDeg)}`}
                </span>
              </>
            }
          />
          <LineBar
            value={sky.echoLossP95Db}
            allowed={allowed}
            words={`Echo loss ${decibels(sky.echoLossP95Db, allowed)}, allowed ${allowedDecibels(allowed)}`}
          />
        </>
      )}
      <FeedInUse station={station} />
      <Text quiet>
        {verdictWords(solution)}
        <span class="now-more"> {NOW.from(countOf(fit.used, 'sighting'), fit.outliers)}</span>
        {stale ? ` ${NOW.computing}` : ''}
      </Text>
    </>
  )
}

/** What the number is made of; and the scatter of the sightings, which is no part of that sum. */
function RestsOn({ solution: { fit } }: { solution: Solution }) {
  const made = landscape.value?.made
  return (
    <HelpLine word={NOW.restsOn}>
      {made && <p>{NOW.madeOf(degrees(made.openDeg, 2), degrees(made.floorDeg, 2))}</p>}
      <p>{NOW.scatter(degrees(fit.rmsDeg, 2))}</p>
      {LOSS.help.map(text => (
        <p key={text}>{text}</p>
      ))}
    </HelpLine>
  )
}

/** Sun and Moon with both readings. */
function Bodies({ station }: { station: StationRecord }) {
  return (
    <div class="body-rows">
      {[...bodiesNow.value].reverse().map(b => (
        <Body key={b.body} body={b} station={station} />
      ))}
    </div>
  )
}

function Body({ body, station }: { body: BodyNow; station: StationRecord }) {
  const { mount } = station
  const show = (axis: 'lower' | 'upper') => {
    const reading = body[axis]
    const isUp = body.elDeg > 0 && reading !== null && body.reachable
    return { label: axisName(mount, axis), ...(isUp ? dialled(mount, axis, reading) : { value: NONE }) }
  }
  return (
    <div class={angleStyle() === 'decimal' ? 'body-row' : 'body-row body-row-minutes'}>
      <div class="body-name">
        <strong>{body.body === 'sun' ? 'Sun' : 'Moon'}</strong>
        <small>
          {body.event === null ? body.elDeg > 0 ? NOW.upAllDay : NOW.downAllDay : <Event event={body.event} />}
          {body.elDeg > 0 && !body.reachable && body.event?.what !== 'comes-within-reach' && `, ${NOW.outOfReach}`}
        </small>
      </div>
      <BigNumber {...show('lower')} size="row" axis="lower" />
      <BigNumber {...show('upper')} size="row" axis="upper" />
    </div>
  )
}

/** "rises 06:35 UTC (07:35 here)"; on a small phone the local time is under Sight alone. */
function Event({ event }: { event: NonNullable<BodyNow['event']> }) {
  const local = localTime(event.utcMs)
  return (
    <>
      {EVENT_WORDS[event.what]} {utcTime(event.utcMs, 'minute')}
      {NBSP}UTC{local && <span class="now-local"> ({local})</span>}
    </>
  )
}

function NextThing({ solution }: { solution: Solution }) {
  const next = solution.next[0]
  if (!next) return null
  return (
    <Notice state="next">
      <strong>{nextWords(next, trueNow.value)}</strong>
      <span class="now-more now-why">{nextWhy(solution, next)}</span>
    </Notice>
  )
}
