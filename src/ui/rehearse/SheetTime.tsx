/** The rehearsal's clock: paused or fast, skipped to an instant, and compared with a time signal. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Moment } from '../../core/rehearse/moments.ts'
import { pipAt } from '../../core/rehearse/signal.ts'
import type { World } from '../../core/rehearse/world.ts'
import { clockMs, clockSpeed, now } from '../../state/now.ts'
import { discardRehearsal, rehearsal, SPEEDS, type Speed } from '../../state/rehearse.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { utcFull, utcTime } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { useTicking } from './ticking.ts'
import { MOMENT_WORDS, REHEARSE, SPEED_WORDS } from './words.ts'

const MOMENTS = Object.keys(MOMENT_WORDS) as Moment[]

/** A pip lasts a tenth of a second. */
const LOOK_MS = 40

/** The time signal as announced; at normal speed with its pips, to be tapped on. */
function Signal({ world }: { world: World }) {
  if (clockSpeed.value === 1) return <Pips world={world} />
  return (
    <>
      <Text>{REHEARSE.signal(utcTime(world.trueMs(now.value)))}</Text>
      <Text quiet>{REHEARSE.noPips}</Text>
    </>
  )
}

function Pips({ world }: { world: World }) {
  useTicking(LOOK_MS)
  const ms = world.trueMs(clockMs())
  const pip = pipAt(ms)
  return (
    <p class="sheet-signal">
      <svg class="sheet-pip" viewBox="0 0 24 24" aria-hidden="true">
        <circle cx="12" cy="12" r="10" data-lit={pip !== null} />
      </svg>
      {REHEARSE.signal(utcTime(ms))}
    </p>
  )
}

export function SheetTime({ station }: { station: StationRecord }) {
  const [none, setNone] = useState(false)
  const world = rehearsal.world.value!
  return (
    <>
      <Sentence strong>{utcFull(now.value)}</Sentence>
      <Signal world={world} />
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
      <SecondaryButton onPress={() => go('book', 'rehearse', 'end')}>{REHEARSE.see}</SecondaryButton>
      <SecondaryButton stop onPress={() => void discardRehearsal(station)}>
        {REHEARSE.discard}
      </SecondaryButton>
    </>
  )
}
