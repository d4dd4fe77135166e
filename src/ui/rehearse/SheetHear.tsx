/** What the receiver shows: the level, averaged over a second or ten; own echoes; the flux of the day. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { clockMs } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { Choice } from '../kit/Choice.tsx'
import { fixed } from '../kit/format.ts'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { Fill } from './Fill.tsx'
import { useTicking } from './ticking.ts'
import { REHEARSE } from './words.ts'

/** How often the meter's figure changes: a person reads no faster. */
const LOOK_MS = 400

export function SheetHear({ station }: { station: StationRecord }) {
  useTicking(LOOK_MS)
  const [seconds, setSeconds] = useState<'1' | '10'>('1')
  const world = rehearsal.world.value!
  const feed = feedHere(station)
  const { db, sigmaDb, echoDb } = world.hears(
    rehearsal.hands.value!,
    world.trueMs(clockMs()),
    Number(seconds),
    // A feed that was added in the book is not on the rehearsal's dish.
    world.paper.feeds.some(f => f.id === feed) ? feed : undefined,
  )
  const shown = fixed(db, 2)
  return (
    <>
      <BigNumber label={REHEARSE.level} value={shown} unit="dB" size={2} />
      <Text>{REHEARSE.trembles(fixed(sigmaDb, 3), Number(seconds))}</Text>
      <Sentence>{echoDb === null ? REHEARSE.noEchoes : REHEARSE.echoes(fixed(echoDb, 1))}</Sentence>
      <Fill values={[{ word: REHEARSE.level, text: shown }]} />
      <Choice
        label={REHEARSE.average}
        options={[
          { value: '1', word: '1 s' },
          { value: '10', word: '10 s' },
        ]}
        value={seconds}
        onPick={setSeconds}
      />
      <Text quiet>{REHEARSE.flux(fixed(world.receiver.sunSfu, 0))}</Text>
    </>
  )
}
