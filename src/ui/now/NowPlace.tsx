/** The first screen: how well the beam follows the Moon, Sun and Moon now, and the one next thing to do. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer, hasNoneInUse } from '../../state/answer.ts'
import { fieldBook } from '../../state/book.ts'
import { comingHours } from '../../state/coming.ts'
import { type BodyNow, bodiesNow } from '../../state/sky.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { angleStyle, localTime, NBSP, utcTime } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled, LOADING } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { SolveTrouble } from '../kit/SolveTrouble.tsx'
import { UpdateNotice } from '../kit/UpdateNotice.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { answerViews, loadAnswer } from './answerviews.ts'
import './now.css'
import { NowBackup } from './NowBackup.tsx'
import { Welcome, WhatItIs } from './Welcome.tsx'
import { EVENT_WORDS, NOW, untilWords } from './words.ts'

export function NowPlace() {
  const station = fieldBook.station.value
  return station === null ? <Welcome /> : <Standing station={station} />
}

function Standing({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  void loadAnswer() // while the answer is computed
  const views = answerViews.value
  const said = views === null || views === 'lost' ? null : views
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
          {solution && said && <said.WorthBox station={station} solution={solution} />}
          <NowBackup station={station} />
          <UpdateNotice />
          <div class="now-more now-narrow">
            {solution && said && solution.fit.used > 0 && <said.RestsOn station={station} solution={solution} />}
          </div>
        </>
      }
    >
      <DemoMark station={station} />
      {said && <said.UnsavedNotice />}
      <SolveTrouble />
      <HowItStands station={station} />
    </Screen>
  )
}

/** The number that matters, or what stands in its place. */
function HowItStands({ station }: { station: StationRecord }) {
  const { solution, stale, failure, faults } = answer.value
  const views = answerViews.value
  const isEmpty = hasNoneInUse(station)
  if (views === 'lost')
    return (
      <Notice state="stop" live="alert">
        <p>{LOADING.lost}</p>
        <SecondaryButton onPress={() => location.reload()}>{LOADING.again}</SecondaryButton>
      </Notice>
    )
  if (views && solution && !isEmpty)
    return (
      <>
        <views.HowWell solution={solution} stale={stale} station={station} />
        <div class="now-wide">
          {solution.fit.used > 0 ? <views.RestsOnOpen station={station} solution={solution} /> : <WhatItIs />}
        </div>
      </>
    )
  if (failure || faults.length > 0) return null
  if (views && isEmpty)
    return (
      <>
        <views.NothingSighted station={station} />
        <div class="now-wide">
          <WhatItIs />
        </div>
      </>
    )
  return <Sentence>{NOW.computing}</Sentence>
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

/** Nothing to drive to: when there will be, large, and how long until then. */
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

/** "in reach until 13:33 UTC (14:33 here)"; on a small phone only Sight shows the local time. */
function Event({ event }: { event: NonNullable<BodyNow['event']> }) {
  const local = localTime(event.utcMs)
  return (
    <>
      {EVENT_WORDS[event.what]} {utcTime(event.utcMs, 'minute')}
      {NBSP}UTC{local && <span class="now-local"> ({local})</span>}
    </>
  )
}
