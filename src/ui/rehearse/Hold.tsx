/** A button that drives an axis while it is held, by finger, pointer or key. */
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { axisName } from '../kit/phrases.ts'
import { REHEARSE } from './words.ts'

export function Hold({ axis, way, station }: { axis: Axis; way: -1 | 1; station: StationRecord }) {
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
