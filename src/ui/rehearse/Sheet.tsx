/** The dish at hand: one sheet over any screen, with the readings as the counters show them and five things to do. */
import { useEffect } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { now } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { AxisPair } from '../kit/numbers.tsx'
import { axisName, dialled } from '../kit/phrases.ts'
import { Hold } from './Hold.tsx'
import { isSheetOpen, tab } from './open.ts'
import { SheetDrive } from './SheetDrive.tsx'
import { SheetHear } from './SheetHear.tsx'
import { SheetMeasure } from './SheetMeasure.tsx'
import { SheetShadow } from './SheetShadow.tsx'
import { SheetTime } from './SheetTime.tsx'
import { REHEARSE, TABS, type Tab } from './words.ts'

const VIEWS = { drive: SheetDrive, hear: SheetHear, shadow: SheetShadow, measure: SheetMeasure, time: SheetTime }
const IDS = Object.keys(TABS) as Tab[]

export function Sheet() {
  const station = fieldBook.station.value
  const isThere = isSheetOpen.value && station?.rehearsal === true && rehearsal.hands.value !== null
  useEffect(() => {
    // The style sheet shortens the screen by the sheet's height.
    document.documentElement.toggleAttribute('data-sheet', isThere)
  }, [isThere])
  return isThere ? <Opened station={station} /> : null
}

function Opened({ station }: { station: StationRecord }) {
  const View = VIEWS[tab.value]
  return (
    <aside class="sheet" aria-label={REHEARSE.sheet}>
      <nav class="sheet-tabs" aria-label={REHEARSE.sheet}>
        {IDS.map(id => (
          <button
            key={id}
            type="button"
            aria-pressed={tab.value === id}
            onClick={() => {
              tab.value = id
            }}
          >
            {TABS[id]}
          </button>
        ))}
      </nav>
      <div class="sheet-hands">
        <Readings station={station} />
        <div class="sheet-holds">
          {AXES.map(axis => [
            <Hold key={`${axis}-`} axis={axis} way={-1} station={station} />,
            <Hold key={`${axis}+`} axis={axis} way={1} station={station} />,
          ])}
        </div>
      </div>
      {/* A new tab starts scrolled to its top. */}
      <div class="sheet-body" key={tab.value}>
        <View station={station} />
      </div>
    </aside>
  )
}

/** The counters' readings now. */
function Readings({ station }: { station: StationRecord }) {
  const world = rehearsal.world.value!
  const at = world.readings(rehearsal.hands.value!, world.trueMs(now.value))
  const of = (axis: 'lower' | 'upper') => {
    const { value, unit } = dialled(station.mount, axis, at[axis])
    return { value, unit, label: axisName(station.mount, axis) }
  }
  return <AxisPair size="row" lower={of('lower')} upper={of('upper')} />
}
