/** How fast an axis is driven: two readings and the seconds between them, or readings a minute; overrun; the side to arrive from. */
import { useState } from 'preact/hooks'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { keepDrive } from '../../state/drive.ts'
import { now, takeStamp } from '../../state/now.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { NumberField } from '../kit/fields.tsx'
import { duration } from '../kit/format.ts'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { BigNumber, Sentence } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { axisName } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { SPEED_KINDS, type SpeedForm, speedForm, speedOf } from './driveform.ts'
import { DRIVE, DRIVE_CAUTION, speedText } from './drivewords.ts'

export function SightSpeed({ station, axis }: { station: StationRecord; axis: Axis }) {
  const { mount } = station
  const name = `speed.${station.id}.${axis}`
  const [form, setForm] = useKept<SpeedForm>(name, () => speedForm(mount, axis))
  const set = (change: Partial<SpeedForm>) => setForm(before => ({ ...before, ...change }))
  const keeping = useKeep([name])
  const read = speedOf(form, mount, axis)
  const back = () => go('sight', 'axes')
  const keep = (drive: Parameters<typeof keepDrive>[2]) =>
    void keeping.keep(() => keepDrive(station, axis, drive), back)
  return (
    <PlaceFrame
      present="sight"
      title={DRIVE.speedTitle(axisName(mount, axis))}
      action={
        <KeepAction
          keeping={keeping}
          word={DRIVE.keepSpeed}
          notNow={read.kind === 'ready' ? null : read.why}
          onKeep={() => {
            if (read.kind === 'ready') keep(read.drive)
          }}
          otherwise={back}
        />
      }
    >
      <Caution {...DRIVE_CAUTION.speed} />
      {read.kind === 'ready' && (
        <div role="status">
          <Sentence strong>{speedText(mount, axis, read.drive)}</Sentence>
        </div>
      )}
      <Choice
        label={DRIVE.how}
        value={form.how}
        options={(['timed', 'typed'] as const).map(value => ({ value, word: DRIVE.hows[value] }))}
        onPick={how => set({ how })}
        hint={form.how === 'timed' ? DRIVE.speedWhy : undefined}
      />
      {form.how === 'timed' ? (
        <Timed form={form} set={set} station={station} axis={axis} />
      ) : (
        <NumberField
          label={DRIVE.perMinute}
          kind={SPEED_KINDS.perMinute(mount, axis)}
          text={form.perMinute}
          onText={perMinute => set({ perMinute })}
          hint=" "
        />
      )}
      <NumberField
        label={DRIVE.overrun}
        kind={SPEED_KINDS.overrun(mount, axis)}
        text={form.overrun}
        onText={overrun => set({ overrun })}
        hint={DRIVE.overrunHint}
      />
      <Choice
        label={DRIVE.side}
        long
        value={form.side}
        options={(['', '+', '-'] as const).map(value => ({ value, word: DRIVE.sides[value] }))}
        onPick={side => set({ side })}
        hint={DRIVE.sideHint}
      />
      {mount[axis].drive !== undefined && (
        <ButtonRow>
          <SecondaryButton stop onPress={() => keep(null)}>
            {DRIVE.deleteSpeed}
          </SecondaryButton>
        </ButtonRow>
      )}
      <Refused why={keeping.refused} />
      <UnsavedNotice />
      <DemoMark station={station} />
    </PlaceFrame>
  )
}

/** Both readings, and the seconds: typed, or by a watch of our own that is pressed with the jack's button. */
function Timed(p: { form: SpeedForm; set: (change: Partial<SpeedForm>) => void; station: StationRecord; axis: Axis }) {
  const { form, set, axis } = p
  const { mount } = p.station
  const [startMs, setStart] = useState<number | null>(null)
  const press = () => {
    const { monotonicMs } = takeStamp()
    if (startMs === null) setStart(monotonicMs)
    else {
      set({ seconds: ((monotonicMs - startMs) / 1000).toFixed(1) })
      setStart(null)
    }
  }
  const field = (label: string, which: 'from' | 'to') => (
    <NumberField
      label={label}
      kind={readingKind(mount, axis)}
      text={form[which]}
      signButton={mount[axis].minReading < 0}
      onText={text => set({ [which]: text })}
      hint=" "
    />
  )
  return (
    <>
      {field(DRIVE.from, 'from')}
      {startMs !== null && <Running startMs={startMs} />}
      <ButtonRow>
        <SecondaryButton onPress={press}>{startMs === null ? DRIVE.start : DRIVE.stop}</SecondaryButton>
      </ButtonRow>
      <NumberField
        label={DRIVE.seconds}
        kind={SPEED_KINDS.seconds}
        text={form.seconds}
        onText={seconds => set({ seconds })}
        hint=" "
      />
      {field(DRIVE.to, 'to')}
    </>
  )
}

/** Seconds since the start, once a second. */
function Running({ startMs }: { startMs: number }) {
  // Read only for its tick: setting the clock changes nothing here.
  void now.value
  return <BigNumber size={3} value={duration(takeStamp().monotonicMs - startMs)} />
}
