/** Halves that wait: complete, join, or discard. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type HalfSighting, joinHalves } from '../../core/records/halfsightings.ts'
import { instantMs } from '../../core/records/instant.ts'
import { dropHalf, halvesHere } from '../../state/sightings.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { utcAndLocal } from '../kit/format.ts'
import { forget } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { targetWords } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { JoinOffers } from './SightJoin.tsx'
import { SIGHT } from './words.ts'

const timeOf = (half: HalfSighting): string => utcAndLocal(instantMs(half.utc), 'second')

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
          <ButtonRow>
            <SecondaryButton onPress={() => go('sight', 'half', half.id)}>{SIGHT.complete}</SecondaryButton>
            <SecondaryButton
              stop
              onPress={() => {
                forget(`half.${half.id}`)
                void dropHalf(station, half)
              }}
            >
              {SIGHT.throwAway}
            </SecondaryButton>
          </ButtonRow>
        </section>
      ))}
      {hasLoneReadings && <RowButton label={SIGHT.otherPhone} onPress={() => go('book', 'export')} />}
      <UndoStrip of="sight" />
      <RowButton label={SIGHT.backToDial} onPress={() => go('sight')} />
      <DemoMark station={station} />
    </Screen>
  )
}
