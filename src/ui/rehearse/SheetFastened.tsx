/** A phone and an inclinometer fastened to what an axis moves: what they show, for "Sweep an axis" and "Degrees per count". */
import { useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { now } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { Choice } from '../kit/Choice.tsx'
import { fixed } from '../kit/format.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { Fill } from './Fill.tsx'
import { REHEARSE } from './words.ts'

export function SheetFastened({ station }: { station: StationRecord }) {
  const [axis, setAxis] = useState<Axis>('lower')
  const [way, setWay] = useState<'first' | 'again'>('first')
  const world = rehearsal.world.value!
  const hands = rehearsal.hands.value!
  const ms = world.trueMs(now.value)
  const { topDeg, rightDeg, face } = world.fastened(hands, ms, axis, way === 'again')
  const angle = world.turnsWith(hands, ms, axis)
  return (
    <>
      <Choice
        label={REHEARSE.fastened}
        options={AXES.map(value => ({ value, word: capital(axisName(station.mount, value)) }))}
        value={axis}
        onPick={setAxis}
      />
      <Choice
        label={REHEARSE.fastenedWay}
        options={[
          { value: 'first', word: REHEARSE.fastenedFirst },
          { value: 'again', word: REHEARSE.fastenedAgain },
        ]}
        value={way}
        onPick={setWay}
      />
      <Fill
        values={[
          { word: REHEARSE.longEdge, text: fixed(topDeg, 1) },
          { word: REHEARSE.shortEdge, text: fixed(rightDeg, 1) },
        ]}
      />
      <Sentence>{REHEARSE.faces(face)}</Sentence>
      {angle === null ? (
        <Text quiet>{REHEARSE.tooSteep}</Text>
      ) : (
        <Fill values={[{ word: REHEARSE.turnsWith, text: fixed(angle, 1) }]} />
      )}
    </>
  )
}
