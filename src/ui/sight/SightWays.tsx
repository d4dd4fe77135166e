/** The other ways to a sighting, a row each with what it is for. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { DemoMark } from '../kit/DemoMark.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { RowButton } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { WAYS } from '../kit/ways.ts'
import { SIGHT } from './words.ts'

export function SightWays({ station }: { station: StationRecord }) {
  const row = (word: string, why: string, ...to: string[]) => (
    <RowButton
      label={
        <>
          <strong>{word}</strong>
          <small class="book-small">{why}</small>
        </>
      }
      onPress={() => go('sight', ...to)}
    />
  )
  return (
    <PlaceFrame present="sight" title={SIGHT.waysTitle}>
      <div>
        {row(MORE_WAYS.search, SIGHT.why.search, 'search')}
        {row(WAYS.noon, SIGHT.why.noon, 'noon')}
        {row(WAYS.drift, SIGHT.why.drift, 'drift')}
        {row(WAYS.cross, SIGHT.why.cross, 'cross')}
        {row(WAYS.storm, SIGHT.why.storm, 'storm')}
        {row(SIGHT.typeIn, SIGHT.why.typeIn, 'new')}
        {row(SIGHT.readingsTitle, SIGHT.why.readings, 'readings')}
      </div>
      <DemoMark station={station} />
    </PlaceFrame>
  )
}
