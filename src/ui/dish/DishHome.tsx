/** "Measure the dish": what can be taped, what that gave, and the dish in one table. */

import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isOffsetFed } from '../../core/records/guesses.ts'
import { dishAnswer, type FeedRow, measuresOf } from '../../core/tape/measured.ts'
import type { SeenFrom } from '../../core/tape/rim.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { countOf, lengthUnit, safeText } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Name, RowButton, Sentence, Table, Text } from '../kit/numbers.tsx'
import { OFFSET_FED } from '../kit/offsetfedwords.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
import { DishBowl } from './DishBowl.tsx'
import { DishFrame } from './DishParts.tsx'
import { DishRim } from './DishRim.tsx'
import { DishStrings } from './DishStrings.tsx'
import {
  agreeSays,
  bowlSays,
  DISH_TAPE,
  feedCosts,
  feedSays,
  noPlaceSays,
  tableOfDish,
  tableOfFeed,
  warpSays,
} from './words.ts'

export function DishPlace({ station, what, id }: { station: StationRecord; what?: string; id?: string }) {
  const key = `${station.id}/${what}/${id}`
  if (what === 'bowl') return <DishBowl key={key} station={station} />
  if (what === 'strings') return <DishStrings key={key} station={station} />
  const feed = station.feeds.find(f => f.id === id)
  if (what === 'rim' && feed !== undefined) return <DishRim key={key} station={station} feed={feed} />
  return <DishHome station={station} />
}

function DishHome({ station }: { station: StationRecord }) {
  const unit = lengthUnit()
  const answer = dishAnswer(station)
  const measures = measuresOf(station)
  const rimOf = (feed: string) => [...(measures.rims ?? [])].reverse().find(r => r.feed === feed)
  const seenOf = (feed: string): SeenFrom => rimOf(feed)?.seenFrom ?? 'behind'
  const taped = measures.depthMm !== undefined
  return (
    <DishFrame
      station={station}
      title={WAYS.dish}
      side={
        <>
          <section class="book-section">
            <h2>{DISH_TAPE.table}</h2>
            <Table rows={tableOfDish(answer, unit)} />
          </section>
          {answer.feeds.map(row => (
            <section class="book-section" key={row.feed}>
              <h2>
                <Name>{row.name}</Name>
              </h2>
              <Table rows={tableOfFeed(row, seenOf(row.feed), unit)} />
            </section>
          ))}
          <SecondaryButton onPress={() => go('book')}>{DISH_TAPE.toBook}</SecondaryButton>
        </>
      }
    >
      <UnsavedNotice />
      <Sentence strong>{taped ? bowlSays(answer, unit) : DISH_TAPE.why}</Sentence>
      {answer.feeds.map(row => (
        <Place key={row.feed} row={row} seen={seenOf(row.feed)} several={answer.feeds.length > 1} />
      ))}
      {answer.warp !== null && <Text>{warpSays(answer, unit, measures.strings?.at(-1)?.seenFrom ?? 'behind')}</Text>}
      <UndoStrip of="dish" says />
      <div>
        <RowButton
          label={DISH_TAPE.bowl}
          value={taped ? DISH_TAPE.done : DISH_TAPE.toDo}
          onPress={() => go('book', 'dish', 'bowl')}
        />
        {station.feeds.map(feed => (
          <RowButton
            key={feed.id}
            label={DISH_TAPE.rim(safeText(feed.name))}
            value={
              isOffsetFed(station)
                ? OFFSET_FED.row
                : rimOf(feed.id)
                  ? countOf(rimOf(feed.id)!.distances.length, 'distance')
                  : DISH_TAPE.toDo
            }
            onPress={() => go('book', 'dish', 'rim', feed.id)}
          />
        ))}
        <RowButton
          label={DISH_TAPE.strings}
          value={answer.warp === null ? DISH_TAPE.toDo : DISH_TAPE.done}
          onPress={() => go('book', 'dish', 'strings')}
        />
      </div>
      <DishCautions station={station} reach />
    </DishFrame>
  )
}

function Place({ row, seen, several }: { row: FeedRow; seen: SeenFrom; several: boolean }) {
  const unit = lengthUnit()
  const { place } = row
  if (place === null) return null
  return (
    <section class="book-section">
      {several && (
        <h2>
          <Name>{row.name}</Name>
        </h2>
      )}
      {place.kind === 'place' ? (
        <>
          <Sentence>{feedSays(place, unit, seen)}</Sentence>
          {(place.suspectClock === null ? feedCosts(place, unit, seen) : [agreeSays(place, unit)!.text]).map(words => (
            <Text key={words}>{words}</Text>
          ))}
        </>
      ) : (
        <Text>{noPlaceSays(place)}</Text>
      )}
    </section>
  )
}
