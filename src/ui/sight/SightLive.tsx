/** What to drive to, live, and the button that marks the time: it is taken when the finger comes down, and kept before anything is asked. */
import { useRef } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { type HalfSighting, joinHalves } from '../../core/records/halfsightings.ts'
import { instantMs } from '../../core/records/instant.ts'
import { trueNow } from '../../state/ask.ts'
import { presentHere, ways } from '../../state/drive.ts'
import { takeStamp } from '../../state/now.ts'
import { chooseTarget, type PointingNow, pointing, target } from '../../state/pointing.ts'
import { scanRecords, scansOf } from '../../state/scans.ts'
import { halvesHere, keepStamp } from '../../state/sightings.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { degrees, fixed, NBSP, NONE, utcTime } from '../kit/format.ts'
import { Notice, STATE_WORDS } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Text } from '../kit/numbers.tsx'
import { dialled } from '../kit/phrases.ts'
import { readingLabel } from '../kit/readings.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { CAUTION, SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { DRIVE } from './drivewords.ts'
import { PresentRow } from './PresentRow.tsx'
import { HereButton } from './SightAxes.tsx'
import { WayBeside } from './WayBeside.tsx'
import { nextWords, SIGHT } from './words.ts'

/** A press that takes longer than this was not one act: the time is taken again when it ends. ms */
const LONGEST_PRESS_MS = 3000

export function SightLive({ station }: { station: StationRecord }) {
  const down = useRef<ReturnType<typeof takeStamp> | null>(null)
  const press = () => {
    const fresh = takeStamp()
    const first = down.current
    down.current = null
    const stamp = first && fresh.monotonicMs - first.monotonicMs < LONGEST_PRESS_MS ? first : fresh
    const of = target.peek()
    const shown = pointing.peek()
    const { half } = keepStamp(station, stamp, of, shown?.reachable ? shown : null)
    go('sight', 'half', half.id)
  }
  const of = target.value
  const at = pointing.value
  const halves = halvesHere(station)
  return (
    <Screen
      title={SIGHT.dialThis(of)}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      side={<Kept station={station} />}
      action={
        <Action
          onDown={() => {
            down.current = takeStamp()
          }}
          onPress={press}
        >
          {SIGHT.stamp}
        </Action>
      }
    >
      <div
        class={classesOf(halves.length > 0, of.type === 'sun', ways.value.lower !== null || ways.value.upper !== null)}
      >
        <UnsavedNotice />
        <Waiting halves={halves} />
        <TargetChoice of={of} />
        {at?.next && !at.reachable ? (
          <BigNumber size={1} label={SIGHT.comes[at.next.what]} value={utcTime(at.next.utcMs, 'minute')} unit="UTC" />
        ) : (
          <>
            <Dial station={station} at={at} axis="lower" />
            <Dial station={station} at={at} axis="upper" />
          </>
        )}
        {at ? <Where station={station} at={at} /> : <Text quiet>{SIGHT.asking}</Text>}
        {of.type === 'sun' ? (
          <Notice state="caution">{CAUTION.sun}</Notice>
        ) : (
          <p class="sight-small">
            <strong>{STATE_WORDS.caution}</strong>{' '}
            {of.type === 'moon' ? [CAUTION.moon.gravest, ...CAUTION.moon.more].join(' ') : CAUTION.other}
          </p>
        )}
        <DemoMark station={station} />
      </div>
    </Screen>
  )
}

/** Classes for the style sheet: what takes room beside the numbers. */
const classesOf = (waits: boolean, isSun: boolean, hasWay: boolean): string =>
  ['sight-live', waits && 'sight-waits', isSun && 'sight-sun', hasWay && 'sight-way'].filter(Boolean).join(' ')

/** What there is already, and the other ways to more. */
function Kept({ station }: { station: StationRecord }) {
  const scans = scanRecords(station)
  const row = (word: string, count: number, ...to: string[]) => (
    <RowButton label={word} value={String(count)} onPress={() => go('sight', ...to)} />
  )
  return (
    <>
      <Driving station={station} />
      <div>
        {station.sightings.length === 0 && (
          <RowButton label={SIGHT.notHeard} value="" onPress={() => go('sight', 'search')} />
        )}
        {row(SIGHT.all, station.sightings.length, 'list')}
        {row(SIGHT.drifts, scansOf(scans, 'drift').length, 'drift')}
        {row(SIGHT.crosses, scansOf(scans, 'cross').length, 'cross')}
        {row(SIGHT.noise, (station.noise ?? []).length, 'noise')}
        <RowButton label={SIGHT.waysTitle} value="" onPress={() => go('sight', 'ways')} />
      </div>
      <UndoStrip of="sight" />
    </>
  )
}

/** Where the axes are, what else is known of the target, and the stow position. */
function Driving({ station }: { station: StationRecord }) {
  const { mount } = station
  const present = presentHere(station)
  const noSpeed = present === null ? undefined : AXES.find(axis => !mount[axis].drive)
  return (
    <>
      {present !== null && <HereButton station={station} />}
      <div>
        <PresentRow station={station} />
        {noSpeed !== undefined && (
          <RowButton label={DRIVE.noSpeedLabel} value={DRIVE.noSpeed} onPress={() => go('sight', 'speed', noSpeed)} />
        )}
        <RowButton label={DRIVE.more} value="" onPress={() => go('sight', 'target')} />
        <RowButton label={DRIVE.stowTitle} value="" onPress={() => go('sight', 'stow')} />
      </div>
    </>
  )
}

/** The halves that wait, at the top: one by its time, several as a list of times. */
function Waiting({ halves }: { halves: readonly HalfSighting[] }) {
  const [first] = halves
  if (!first) return null
  if (halves.length > 1) {
    const label = joinHalves(halves).length > 0 ? SIGHT.waitingPair : SIGHT.waitingMany(halves.length)
    return <RowButton label={label} value="See" onPress={() => go('sight', 'waiting')} />
  }
  const time = `${utcTime(instantMs(first.utc))}${NBSP}UTC`
  return (
    <RowButton
      label={first.time === 'stamped' ? SIGHT.waitingOne(time) : SIGHT.waitingAbout(time)}
      value="Complete"
      onPress={() => go('sight', 'half', first.id)}
    />
  )
}

function TargetChoice({ of }: { of: TargetRecord }) {
  const picked = of.type === 'moon' || of.type === 'sun' ? of.type : 'other'
  return (
    <div class="sight-targets">
      <Choice
        label={SIGHTING.lookAt}
        value={picked}
        options={[
          { value: 'moon', word: SIGHTING.moon },
          { value: 'sun', word: SIGHTING.sun },
          { value: 'other', word: SIGHTING.other },
        ]}
        onPick={value => (value === 'other' ? go('sight', 'other') : chooseTarget({ type: value }))}
      />
      {picked === 'other' && <SecondaryButton onPress={() => go('sight', 'other')}>Change</SecondaryButton>}
    </div>
  )
}

function Dial({ station, at, axis }: { station: StationRecord; at: PointingNow | null; axis: Axis }) {
  const { mount } = station
  const reading = at?.reachable ? at[axis] : null
  const way = ways.value[axis]
  return (
    <BigNumber
      axis={axis}
      size={1}
      label={readingLabel(mount, axis)}
      value={reading === null ? NONE : dialled(mount, axis, reading).value}
      {...(way && { beside: <WayBeside mount={mount} axis={axis} way={way} /> })}
    />
  )
}

function Where({ station, at }: { station: StationRecord; at: PointingNow }) {
  const km = at.target.type === 'moon' && at.distanceKm !== null ? ` · ${fixed(at.distanceKm, 0)}${NBSP}km` : ''
  return (
    <div>
      <p class="text-2 sight-azel">
        az {degrees(at.azDeg, 1)}, el {degrees(at.elDeg, 1)}
        {km}
      </p>
      <Text>{nextWords(station.mount, at, trueNow.value)}</Text>
    </div>
  )
}
