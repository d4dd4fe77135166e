/** Shadow against signal: where each feed really sits, which way to move it and how far, what it costs now, what will remain. */
import type { FeedCheckJson } from '../../core/check/feedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { feedsOf } from '../../state/feed.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { decibels, lengthUnit, seenText } from '../kit/format.ts'
import { oneWayLoss } from '../kit/loss.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { WAYS } from '../kit/ways.ts'
import {
  costNote,
  countsSays,
  droopSays,
  FEED,
  placeSays,
  remainsSays,
  squintSays,
  verdictSays,
  wantedSays,
} from './words.ts'

export function CorrectFeed({ station }: { station: StationRecord }) {
  const { value: feeds, asking } = useAsked(useSolveKey(station), () => feedsOf(station))
  const toMove = feeds?.filter(f => f.verdict === 'move') ?? []
  const [first] = toMove
  const needsPeak = feeds?.some(f => f.verdict === 'unchecked' && f.sightings.signal === 0 && f.sightings.shadow > 0)
  return (
    <CorrectFrame
      station={station}
      title={WAYS.feed}
      action={
        first ? (
          <Action onPress={() => go('correct', 'feed', first.feed)}>{FEED.moved}</Action>
        ) : (
          <Action onPress={() => (needsPeak ? go('sight') : go('sight', 'noon'))}>
            {needsPeak ? FEED.peak : FEED.noon}
          </Action>
        )
      }
    >
      <Text>{FEED.why}</Text>
      {toMove.length > 0 && <DishCautions station={station} reach />}
      {feeds === null && <Sentence>{asking ? FEED.asking : FEED.failed}</Sentence>}
      {feeds?.map(f => (
        <OneFeed key={f.feed} feed={f} alone={feeds.length === 1} isFirst={f.feed === first?.feed} />
      ))}
      <ButtonRow>
        {first && <SecondaryButton onPress={() => go('sight', 'noon')}>{FEED.noon}</SecondaryButton>}
        <SecondaryButton onPress={() => go('sight', 'storm')}>{FEED.storm}</SecondaryButton>
      </ButtonRow>
    </CorrectFrame>
  )
}

function OneFeed({ feed: f, alone, isFirst }: { feed: FeedCheckJson; alone: boolean; isFirst: boolean }) {
  const unit = lengthUnit()
  const squint = squintSays(f)
  const isKnown = f.verdict !== 'not-yet' && f.verdict !== 'unchecked'
  const isGood = f.verdict === 'leave' || f.verdict === 'done'
  return (
    <section class="correct-part correct-ruled" aria-label={seenText(f.name)}>
      {!alone && <h2 class="correct-head">{seenText(f.name)}</h2>}
      {f.verdict === 'move' ? (
        <Sentence strong>{verdictSays(f, unit)}</Sentence>
      ) : (
        <Notice
          state={isGood ? 'good' : 'next'}
          word={f.verdict === 'done' ? FEED.done : isGood ? FEED.good : FEED.open}
        >
          <p>{verdictSays(f, unit)}</p>
          {!isGood && <p>{wantedSays(f)}</p>}
        </Notice>
      )}
      <Rows>
        {isKnown && (
          <>
            <Row label={FEED.sits}>{placeSays(f, unit)}</Row>
            <Row label={FEED.cost} note={costNote(f)}>
              {oneWayLoss(f.now.byShadowDb)}
            </Row>
            <Row label={FEED.costSkewed}>{decibels(f.now.skewedDb)}</Row>
            {f.verdict === 'move' && <Row label={FEED.remains}>{remainsSays(f, unit)}</Row>}
          </>
        )}
        <Row label={FEED.sightings}>{countsSays(f)}</Row>
        <Row label={FEED.droop} note={droopSays(f, unit)}>
          {''}
        </Row>
      </Rows>
      {squint && <Text>{squint}</Text>}
      {!isFirst && (
        <ButtonRow>
          <SecondaryButton onPress={() => go('correct', 'feed', f.feed)}>{FEED.moved}</SecondaryButton>
        </ButtonRow>
      )}
    </section>
  )
}
