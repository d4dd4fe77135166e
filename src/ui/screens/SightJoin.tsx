/** A stamp and readings that seem to be two halves of one sighting: offered wherever either of them shows. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type HalfPair, joinedHalf, joinHalves } from '../../core/records/halfsightings.ts'
import { halvesHere, joinHalfPair } from '../../state/sightings.ts'
import { duration, utcAndLocal } from '../format.ts'
import { go } from '../navigation.ts'
import { Second } from '../parts/buttons.tsx'
import { Notice } from '../parts/Notice.tsx'
import { SIGHT, WHAT } from '../words/sight.ts'
import { forget } from './keptany.ts'

const timeOf = (utc: string): string => utcAndLocal(Date.parse(utc), 'second')

/** @param of  only the pair that this half is in; without it, all pairs */
export function JoinOffers({ station, of }: { station: StationRecord; of?: string }) {
  const pairs = joinHalves(halvesHere(station)).filter(
    p => of === undefined || p.stamped.id === of || p.readings.id === of,
  )
  const join = (pair: HalfPair) => {
    forget(`half.${pair.readings.id}`)
    void joinHalfPair(station, joinedHalf(pair), pair.readings.id, WHAT.join(Date.parse(pair.readings.utc))).then(() =>
      go('sight', 'half', pair.stamped.id),
    )
  }
  return (
    <>
      {pairs.map(pair => (
        <Notice key={pair.stamped.id} state="next">
          <p>{SIGHT.joinSay(timeOf(pair.stamped.utc), timeOf(pair.readings.utc), duration(pair.laterMs))}</p>
          <Second onPress={() => join(pair)}>{SIGHT.join}</Second>
        </Notice>
      ))}
    </>
  )
}
