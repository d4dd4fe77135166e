/** A marked time and readings that seem to be two halves of one sighting: offered wherever either of them is shown. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type HalfPair, joinedHalf, joinHalves } from '../../core/records/halfsightings.ts'
import { instantMs } from '../../core/records/instant.ts'
import { halvesHere, joinHalfPair } from '../../state/sightings.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { duration, utcAndLocal } from '../kit/format.ts'
import { ifStillHere } from '../kit/keep.tsx'
import { forget } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { SIGHT } from './words.ts'

const timeOf = (utc: string): string => utcAndLocal(instantMs(utc), 'second')

/** @param of  only the pair that this half is in; without it, all pairs */
export function JoinOffers({ station, of }: { station: StationRecord; of?: string }) {
  const pairs = joinHalves(halvesHere(station)).filter(
    p => of === undefined || p.stamped.id === of || p.readings.id === of,
  )
  const join = (pair: HalfPair) => {
    forget(`half.${pair.readings.id}`)
    const where = location.hash
    void joinHalfPair(station, joinedHalf(pair), pair.readings).then(() =>
      ifStillHere(where, () => go('sight', 'half', pair.stamped.id)),
    )
  }
  return (
    <>
      {pairs.map(pair => (
        <Notice key={pair.stamped.id} state="next">
          <p>{SIGHT.joinSay(timeOf(pair.stamped.utc), timeOf(pair.readings.utc), duration(pair.laterMs))}</p>
          <SecondaryButton onPress={() => join(pair)}>{SIGHT.join}</SecondaryButton>
        </Notice>
      ))}
    </>
  )
}
