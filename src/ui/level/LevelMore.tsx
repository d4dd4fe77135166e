/** What else gravity, the Sun and a clock can tell before the first sighting: a list with one line on each. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { go } from '../kit/navigation.ts'
import { RowButton } from '../kit/numbers.tsx'
import { LevelFrame } from './LevelParts.tsx'
import { LEVEL_MORE } from './morewords.ts'

export function LevelMore({ station }: { station: StationRecord }) {
  return (
    <LevelFrame station={station} title={LEVEL_MORE.title}>
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
            onPress={() => go(way.place ?? 'level', ...way.to)}
          />
        ))}
      </div>
    </LevelFrame>
  )
}
