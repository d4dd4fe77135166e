/** Stops and scribed lines near the drives, and a way to drive somewhere at once. */
import { useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { stopOf } from '../../core/rehearse/drives.ts'
import { now } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { bodiesNow } from '../../state/sky.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { parseNumber } from '../kit/numberfield.ts'
import { Row, Rows, Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { readingKind, typedReading } from '../kit/readings.ts'
import { Fill } from './Fill.tsx'
import { REHEARSE } from './words.ts'

export function SheetDrive({ station }: { station: StationRecord }) {
  const world = rehearsal.world.value!
  const hands = rehearsal.hands.value!
  const at = world.readings(hands, world.trueMs(now.value))
  const shown = (axis: Axis) => typedReading(station.mount, axis, at[axis])
  return (
    <>
      {AXES.map(axis => (
        <AtStop key={axis} station={station} axis={axis} at={at[axis]} />
      ))}
      <Text quiet>{REHEARSE.hold}</Text>
      <Fill values={AXES.map(axis => ({ word: axisName(station.mount, axis), text: shown(axis) }))} />
      <div class="seconds">
        {bodiesNow.value
          .filter(body => body.elDeg > 0 && body.lower !== null && body.upper !== null)
          .map(({ body, lower, upper }) => (
            <SecondaryButton key={body} onPress={() => rehearsal.driveTo({ lower: lower!, upper: upper! })}>
              {REHEARSE.follow(body === 'sun' ? 'Sun' : 'Moon')}
            </SecondaryButton>
          ))}
      </div>
      <GoTo station={station} />
      <Rows>
        {AXES.map(axis => (
          <Row key={axis} label={REHEARSE.mark0(axisName(station.mount, axis))}>
            {markWords(world.fromMark(axis, hands, world.trueMs(now.value)))}
          </Row>
        ))}
      </Rows>
    </>
  )
}

/** A limit in the book counts as this one within so much of the axis's way. */
const SAME = 0.02

/** At a stop; and where the book has it, where that is somewhere else. */
function AtStop({ station, axis, at }: { station: StationRecord; axis: Axis; at: number }) {
  const end = stopOf(rehearsal.world.value!.drives[axis], rehearsal.hands.value![axis])
  if (end === null) return null
  const { minReading, maxReading } = station.mount[axis]
  const limit = end === 'low' ? minReading : maxReading
  const isSame = Math.abs(limit - at) < SAME * (maxReading - minReading)
  const shown = (reading: number) => typedReading(station.mount, axis, reading)
  return <Text>{REHEARSE.atStop(capital(axisName(station.mount, axis)), shown(at), isSame ? null : shown(limit))}</Text>
}

/** A mark is seen when the pointer is near it. */
const SEEN_DEG = 4
function markWords(deg: number): string {
  if (Math.abs(deg) > SEEN_DEG) return deg > 0 ? 'far back' : 'far ahead'
  return Math.abs(deg) < 0.05 ? 'on it' : `${degrees(Math.abs(deg), 1)} ${deg > 0 ? 'past it' : 'before it'}`
}

/** Typed readings, driven to at once. */
function GoTo({ station }: { station: StationRecord }) {
  const [texts, setTexts] = useState({ lower: '', upper: '' })
  const wanted = (axis: Axis): number | undefined => {
    const read = parseNumber(texts[axis], readingKind(station.mount, axis))
    return read.kind === 'value' ? read.value : undefined
  }
  const go = () => {
    const [lower, upper] = [wanted('lower'), wanted('upper')]
    rehearsal.driveTo({ ...(lower !== undefined && { lower }), ...(upper !== undefined && { upper }) })
  }
  return (
    <>
      <div class="sheet-pair">
        {AXES.map(axis => (
          <NumberField
            key={axis}
            label={`${REHEARSE.goTo}: ${axisName(station.mount, axis)}`}
            kind={readingKind(station.mount, axis)}
            text={texts[axis]}
            onText={text => setTexts(before => ({ ...before, [axis]: text }))}
            hint=" "
            signButton={false}
          />
        ))}
      </div>
      <SecondaryButton onPress={go}>{REHEARSE.go}</SecondaryButton>
    </>
  )
}
