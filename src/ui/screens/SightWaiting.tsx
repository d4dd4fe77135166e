/** Halves that wait: complete, join, or throw away. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type HalfSighting, joinHalves } from '../../core/records/halfsightings.ts'
import { dropHalves, halvesHere } from '../../state/sightings.ts'
import { utcAndLocal } from '../format.ts'
import { go } from '../navigation.ts'
import { Second, Seconds } from '../parts/buttons.tsx'
import { DemoMark } from '../parts/DemoMark.tsx'
import { RowButton, Sentence, Text } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { targetWords } from '../words/common.ts'
import { SIGHT, WHAT } from '../words/sight.ts'
import { forget } from './keptany.ts'
import { UndoLine, UnsavedNotice } from './SavedLine.tsx'
import { JoinOffers } from './SightJoin.tsx'

const timeOf = (half: HalfSighting): string => utcAndLocal(Date.parse(half.utc), 'second')

export function SightWaiting({ station }: { station: StationRecord }) {
  const halves = halvesHere(station)
  const joined = new Set(joinHalves(halves).map(pair => pair.readings.id))
  const hasLoneReadings = halves.some(half => half.time === 'about' && !joined.has(half.id))
  return (
    <Screen title={SIGHT.waitingTitle} utc={<UtcNow />} present="sight" onGo={id => go(id)}>
      <UnsavedNotice />
      {halves.length === 0 ? <Sentence>{SIGHT.nothingWaits}</Sentence> : <Text quiet>{SIGHT.waitingWhy}</Text>}
      <JoinOffers station={station} />
      {halves.map(half => (
        <section key={half.id}>
          <RowButton
            label={
              <>
                {half.target && <strong>{targetWords(half.target)}: </strong>}
                {half.time === 'stamped' ? SIGHT.waitingOne(timeOf(half)) : SIGHT.waitingAbout(timeOf(half))}
              </>
            }
            onPress={() => go('sight', 'half', half.id)}
          />
          <Seconds>
            <Second onPress={() => go('sight', 'half', half.id)}>{SIGHT.complete}</Second>
            <Second
              stop
              onPress={() => {
                forget(`half.${half.id}`)
                void dropHalves(station, [half.id], WHAT.drop(Date.parse(half.utc)))
              }}
            >
              {SIGHT.throwAway}
            </Second>
          </Seconds>
        </section>
      ))}
      {hasLoneReadings && <RowButton label={SIGHT.otherPhone} onPress={() => go('book', 'hand-out')} />}
      <UndoLine />
      <RowButton label={SIGHT.backToDial} onPress={() => go('sight')} />
      <DemoMark station={station} />
    </Screen>
  )
}
