/** What else gravity, the Sun and a clock can tell before the first sighting: a list with one line on each. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton } from '../kit/numbers.tsx'
import { LEVEL_MORE } from './morewords.ts'

export function LevelMore({ station }: { station: StationRecord }) {
  return (
    <MountFrame station={station} title={LEVEL_MORE.title}>
      <div class="level-list">
        {LEVEL_MORE.ways(station).map(way => (
          <RowButton
            key={way.to.join('/')}
            label={
              <>
                {way.word}
                <small>{way.why}</small>
              </>
            }
            onPress={() => go(way.place ?? 'mount', ...way.to)}
          />
        ))}
      </div>
    </MountFrame>
  )
}
