/** An inclinometer, a fastened phone, a tape to the rim, the feed to move, adjusters to turn. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { levelPlaces } from '../../core/rehearse/instruments.ts'
import type { LevelPlace } from '../../core/rehearse/mount.ts'
import { clockMs, now } from '../../state/now.ts'
import { moveFeed, rehearsal } from '../../state/rehearse.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DOWN_UP, fixed, LEFT_RIGHT } from '../kit/format.ts'
import { Text } from '../kit/numbers.tsx'
import { Fill } from './Fill.tsx'
import { laidTexts } from './laid.ts'
import { SheetAdjust } from './SheetAdjust.tsx'
import { SheetFastened } from './SheetFastened.tsx'
import { HEADINGS, HOURS, placeWord, REHEARSE } from './words.ts'

export function SheetMeasure({ station }: { station: StationRecord }) {
  const world = rehearsal.world.value!
  const hands = rehearsal.hands.value!
  const ms = world.trueMs(now.value)
  const places = levelPlaces(world.mountAt(ms))
  const [place, setPlace] = useState<LevelPlace>(places[0]!)
  const [moved, setMoved] = useState(false)
  const { laid, turned } = laidTexts(world, hands, ms, place)
  const feed = world.paper.feeds[0]!.id
  const move = async (id: 'feedRight' | 'feedUp', by: number) =>
    setMoved(await moveFeed(station, { id: `${id}:${feed}`, by }, clockMs()))
  return (
    <>
      <Choice
        label={REHEARSE.inclinometer}
        long
        options={places.map(value => ({ value, word: placeWord(station, value) }))}
        value={place}
        onPick={setPlace}
      />
      <Fill
        values={[
          { word: REHEARSE.asLaid, text: laid },
          { word: REHEARSE.turned, text: turned },
        ]}
      />
      {station.mount.kind === 'el-over-az' && (
        <>
          <h2 class="sheet-head">{REHEARSE.mast}</h2>
          <Fill values={HEADINGS.map(({ deg, word }) => ({ word, text: fixed(world.mast(deg, ms), 1) }))} />
        </>
      )}
      <SheetFastened station={station} />
      <h2 class="sheet-head">{REHEARSE.tape}</h2>
      <Fill values={HOURS.map(hour => ({ word: String(hour), text: fixed(world.rim(hour, ms), 0) }))} />
      <h2 class="sheet-head">{REHEARSE.feed}</h2>
      <div class="seconds">
        {[-5, 5].map(by => (
          <SecondaryButton key={by} onPress={() => void move('feedRight', by)}>
            {LEFT_RIGHT[by < 0 ? 0 : 1]}
          </SecondaryButton>
        ))}
        {[-5, 5].map(by => (
          <SecondaryButton key={by} onPress={() => void move('feedUp', by)}>
            {DOWN_UP[by < 0 ? 0 : 1]}
          </SecondaryButton>
        ))}
      </div>
      {moved && <Text>{REHEARSE.feedMoved}</Text>}
      <SheetAdjust station={station} />
    </>
  )
}
