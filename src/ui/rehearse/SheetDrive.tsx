/** Two buttons an axis that drive while they are held, a way to drive there at once, and the scribed lines. */
import { useState } from 'preact/hooks'
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
import { axisName } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import { REHEARSE } from './words.ts'

const AXES = ['lower', 'upper'] as const

export function SheetDrive({ station }: { station: StationRecord }) {
  const world = rehearsal.world.value!
  const hands = rehearsal.hands.value!
  const stopped = AXES.filter(axis => stopOf(world.drives[axis], hands[axis]) !== null)
  return (
    <>
      {AXES.map(axis => (
        <div class="sheet-pair" key={axis}>
          <Hold axis={axis} way={-1} station={station} />
          <Hold axis={axis} way={1} station={station} />
        </div>
      ))}
      {stopped.map(axis => (
        <Text key={axis}>{REHEARSE.atStop(axisName(station.mount, axis))}</Text>
      ))}
      <Text quiet>{REHEARSE.hold}</Text>
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

/** A mark is seen when the pointer is near it. */
const SEEN_DEG = 4
function markWords(deg: number): string {
  if (Math.abs(deg) > SEEN_DEG) return deg > 0 ? 'far back' : 'far ahead'
  return Math.abs(deg) < 0.05 ? 'on it' : `${degrees(Math.abs(deg), 1)} ${deg > 0 ? 'past it' : 'before it'}`
}

/** Drives while it is held, by finger, pointer or key. */
function Hold({ axis, way, station }: { axis: Axis; way: -1 | 1; station: StationRecord }) {
  const name = axisName(station.mount, axis)
  const go = () => rehearsal.press(axis, way)
  const letGo = () => rehearsal.press(axis, 0)
  return (
    <button
      type="button"
      class="second sheet-hold"
      aria-label={way < 0 ? REHEARSE.lessLabel(name) : REHEARSE.moreLabel(name)}
      onPointerDown={event => {
        event.currentTarget.setPointerCapture(event.pointerId)
        go()
      }}
      onPointerUp={letGo}
      onPointerCancel={letGo}
      onLostPointerCapture={letGo}
      onContextMenu={event => event.preventDefault()}
      onKeyDown={event => {
        if ((event.key === ' ' || event.key === 'Enter') && !event.repeat) {
          event.preventDefault()
          go()
        }
      }}
      onKeyUp={letGo}
      onBlur={letGo}
    >
      {way < 0 ? REHEARSE.less(name) : REHEARSE.more(name)}
    </button>
  )
}

/** For the impatient: typed readings, driven to at once. */
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
