/** The rehearsal's clock: paused or fast, skipped to an instant, and compared with a time signal. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Moment } from '../../core/rehearse/moments.ts'
import { now } from '../../state/now.ts'
import { discardRehearsal, rehearsal, SPEEDS, type Speed } from '../../state/rehearse.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { utcFull, utcTime } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { MOMENT_WORDS, REHEARSE, SPEED_WORDS } from './words.ts'

const MOMENTS = Object.keys(MOMENT_WORDS) as Moment[]

export function SheetTime({ station }: { station: StationRecord }) {
  const [none, setNone] = useState(false)
  const world = rehearsal.world.value!
  return (
    <>
      <Sentence strong>{utcFull(now.value)}</Sentence>
      <Choice
        label={REHEARSE.clock}
        options={SPEEDS.map(speed => ({ value: String(speed), word: SPEED_WORDS[speed] }))}
        value={String(rehearsal.speed.value)}
        onPick={speed => rehearsal.setSpeed(Number(speed) as Speed)}
      />
      <div class="seconds">
        {MOMENTS.map(moment => (
          <SecondaryButton key={moment} onPress={() => setNone(!rehearsal.skipTo(moment))}>
            {MOMENT_WORDS[moment]}
          </SecondaryButton>
        ))}
      </div>
      {none && <Text>{REHEARSE.none}</Text>}
      <Text>{REHEARSE.signal(utcTime(world.trueMs(now.value)))}</Text>
      <SecondaryButton onPress={() => go('book', 'rehearse', 'end')}>{REHEARSE.see}</SecondaryButton>
      <SecondaryButton stop onPress={() => void discardRehearsal(station)}>
        {REHEARSE.discard}
      </SecondaryButton>
    </>
  )
}
