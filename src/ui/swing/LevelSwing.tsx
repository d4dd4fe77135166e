/** Sweep an axis: positions of a phone fastened to what turns; the axis's elevation and the readout's calibration. */

import { useState } from 'preact/hooks'
import { bookElevation, levelOfSwing } from '../../core/level/swungaxis.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { isSwung, type SwungLevel } from '../../core/records/levelkinds.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { mountEntry } from '../../state/mountrecords.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KeepAction } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { KeepingNotes, MountFrame, MountRecordGone, useKeepRecord, WhenAndNote } from '../kit/mount/parts.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Table, Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import {
  calibrationOfSwing,
  emptySwing,
  formOfSwing,
  keptPairs,
  levelFromSwing,
  type SwingForm,
  type SwingResult,
  swingOf,
} from './form.ts'
import { IsIn, usePutIn } from './LevelPutIn.tsx'
import { SwingFineness, TurnAbout } from './LevelSwingExtras.tsx'
import { NextPosition, Positions, SwingAction } from './LevelSwingPlaces.tsx'
import { SwingPicture } from './SwingPicture.tsx'
import { COUNTS, calibrationRows, noCalibration, SWING, swingWords, zeroOpen } from './words.ts'

export function NewSwing({ station, axis }: { station: StationRecord; axis?: string }) {
  return <SwingScreen station={station} old={null} axis={axis === 'upper' ? 'upper' : 'lower'} />
}

export function EditSwing({ station, id }: { station: StationRecord; id: string }) {
  const item = mountEntry(station, 'level', id)
  if (item?.kind !== 'level' || !isSwung(item.record)) return <MountRecordGone station={station} />
  return <SwingScreen station={station} old={item.record} axis={item.record.raw.swing.axis} />
}

function SwingScreen({ station, old, axis }: { station: StationRecord; old: SwungLevel | null; axis: Axis }) {
  const { mount } = station
  const name = old ? `edit.swing.${old.id}` : `swing.${station.id}`
  const id = useRecordId(name, 'level', station.id, old?.id ?? null)
  // On a dish that does not exist this phone cannot be fixed: it has one of its own, whose tilts are typed.
  const anew = (of: Axis): SwingForm => ({
    ...emptySwing(of, takeTrueMs()),
    ...(station.rehearsal === true && { by: 'hand' as const }),
  })
  const [form, setForm] = useKept<SwingForm>(
    name,
    () => (old ? formOfSwing(old) : anew(axis)),
    kept => kept,
    old && { kind: 'level', station: station.id, id: old.id },
  )
  // What the readout said when the screen was opened: putting a calibration in must not change what is shown.
  const [base] = useState(station)
  const { keep, keeping, refused } = useKeepRecord(station, name, id)
  const set = (change: Partial<SwingForm>) => setForm(now => ({ ...now, ...change }))
  const swing = swingOf(form, base)
  const made = levelFromSwing(form, base, swing, old, id)
  const kept = async () => {
    if (made.kind !== 'ready') return
    await keep({ kind: 'level', record: made.record })
  }
  const places = form.clampings.flat().length
  return (
    <MountFrame
      station={station}
      title={SWING.title}
      action={
        <SwingAction
          station={base}
          form={form}
          onForm={setForm}
          keep={
            <KeepAction
              keeping={keeping}
              otherwise={() => go('mount')}
              word={SWING.keep}
              notNow={made.kind === 'ready' ? null : NOT_YET[made.why]}
              onKeep={() => void kept()}
            />
          }
        />
      }
    >
      {places === 0 && <Sentence>{station.rehearsal === true ? SWING.leadRehearsed : SWING.lead}</Sentence>}
      {places === 0 && <SwingPicture />}
      <Caution {...COUNTS.caution} />
      {places === 0 && (
        <Choice
          label={SWING.axis}
          value={form.axis}
          options={AXES.map(value => ({ value, word: capital(axisName(mount, value)) }))}
          onPick={value => set({ axis: value })}
        />
      )}
      <NextPosition station={base} form={form} set={set} />
      <SwingAnswer station={station} base={base} form={form} swing={swing} />
      <Positions station={base} form={form} onForm={setForm} />
      {levelOfSwing(mount.kind, form.axis) === 'upper-axis-elevation' && (
        <NumberField
          label={SWING.other(axisName(mount, 'lower'))}
          kind={readingKind(mount, 'lower')}
          text={form.lower}
          signButton
          onText={lower => set({ lower })}
        />
      )}
      <TurnAbout form={form} swing={swing} set={set} />
      {places > 0 && !old && <SecondaryButton onPress={() => setForm(anew(form.axis))}>{SWING.anew}</SecondaryButton>}
      <SwingFineness form={form} set={set} />
      <WhenAndNote utc={form.utc} onUtc={utc => set({ utc })} note={form.note} onNote={note => set({ note })} />
      <KeepingNotes refused={refused} />
    </MountFrame>
  )
}

/** The elevation in a sentence, and the readout's calibration by the same swing. */
function SwingAnswer(p: { station: StationRecord; base: StationRecord; form: SwingForm; swing: SwingResult }) {
  const { station, base, form, swing } = p
  const { mount } = base
  const { put, refused, isIn, setDone } = usePutIn(station, form.axis)
  const book =
    swing.kind === 'swung'
      ? degFromRad(bookElevation(mount.kind, radFromDeg(base.site.latDeg), form.axis, swing))
      : null
  const said = swingWords(mount, form.axis, swing, book)
  const calibration = calibrationOfSwing(form, base, swing)
  const why = calibration && noCalibration(mount, form.axis, calibration)
  if (form.clampings.flat().length === 0) return null
  return (
    <>
      <Notice
        state={said.good ? 'good' : 'look-out'}
        word={swing.kind === 'swung' ? MOUNT.result : MOUNT.notYet}
        live="status"
      >
        <p>{said.strong}</p>
        {said.more.map(words => (
          <p key={words}>{words}</p>
        ))}
      </Notice>
      {isIn && <IsIn onUndone={() => setDone(false)} />}
      {calibration && !isIn && (
        <HelpLine word={SWING.calibration}>
          {why !== null && <Text>{why}</Text>}
          {calibration.kind === 'calibrated' && (
            <>
              <Table rows={calibrationRows(mount, form.axis, calibration)} />
              {zeroOpen(calibration, axisName(mount, form.axis)) && (
                <Text>{zeroOpen(calibration, axisName(mount, form.axis))}</Text>
              )}
              <SecondaryButton onPress={() => void put(calibration, keptPairs(form, swing))}>
                {SWING.apply}
              </SecondaryButton>
            </>
          )}
          {refused !== null && <Notice state="stop">{refused}</Notice>}
        </HelpLine>
      )}
    </>
  )
}
