/** Degrees per count: halts along an axis's travel, the calibration that they give, and the way into the station. */

import { useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { Action } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { JackFigure } from '../kit/JackFigure.tsx'
import { useKept } from '../kit/keptany.ts'
import { KINDS } from '../kit/kinds.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import {
  type CountsForm,
  countsCalibration,
  emptyCounts,
  keptStops,
  TAPE_KIND,
  USUAL_ANGLE_SIGMA_DEG,
} from './countsform.ts'
import { CountsAnswer, Stops } from './LevelCountsParts.tsx'
import { IsIn, usePutIn } from './LevelPutIn.tsx'
import { COUNTS, noCalibration } from './words.ts'

/** The axis that counts, where only one does. */
const usualAxis = ({ mount }: StationRecord): Axis => (mount.lower.readout.type !== 'degrees' ? 'lower' : 'upper')

export function LevelCounts({ station, axis }: { station: StationRecord; axis?: string }) {
  const [form, setForm] = useKept<CountsForm>(`counts.${station.id}`, () =>
    emptyCounts(axis === 'lower' || axis === 'upper' ? axis : usualAxis(station)),
  )
  const set = (change: Partial<CountsForm>) => setForm(now => ({ ...now, ...change }))
  // What the readout said when the screen was opened: putting a calibration in must not change what is shown.
  const [base] = useState(station)
  const { mount } = base
  const { put, refused, isIn, setDone } = usePutIn(station, form.axis)
  const c = countsCalibration(form, base)
  const why = c === null ? COUNTS.not : noCalibration(mount, form.axis, c)
  const readout = mount[form.axis].readout
  return (
    <MountFrame
      station={station}
      title={COUNTS.title}
      action={
        <Action notNow={why} onPress={() => c?.kind === 'calibrated' && void put(c, keptStops(form, base))}>
          {COUNTS.apply}
        </Action>
      }
    >
      <Text>{COUNTS.lead}</Text>
      <Caution {...COUNTS.caution} />
      <Choice
        label={COUNTS.axis}
        value={form.axis}
        options={AXES.map(value => ({ value, word: capital(axisName(mount, value)) }))}
        onPick={value => set({ axis: value })}
      />
      <Choice
        label={COUNTS.what}
        long
        value={form.what}
        options={[
          { value: 'own', word: COUNTS.own, note: COUNTS.ownNote },
          { value: 'beside', word: COUNTS.beside, note: COUNTS.besideNote },
        ]}
        onPick={what => set({ what })}
        hint={COUNTS.tilted}
      />
      <Stops station={base} form={form} set={set} />
      {isIn && <IsIn onUndone={() => setDone(false)} />}
      {refused !== null && (
        <Notice state="stop" live="alert">
          {refused}
        </Notice>
      )}
      <CountsAnswer station={base} form={form} />
      <HelpLine word={MOUNT.finer}>
        <NumberField
          label={COUNTS.sigma}
          kind={KINDS.sigma}
          text={form.sigma}
          hint={MOUNT.usual(`± ${USUAL_ANGLE_SIGMA_DEG}°`)}
          onText={sigma => set({ sigma })}
        />
        {readout.type === 'jack' && (
          <NumberField
            label={COUNTS.tape}
            kind={TAPE_KIND}
            text={form.tape}
            hint={COUNTS.tapeHint}
            onText={tape => set({ tape })}
          />
        )}
      </HelpLine>
      {readout.type === 'jack' && (
        <HelpLine word={COUNTS.drawing}>
          <JackFigure base={readout.baseArmMm} rod={readout.rodArmMm} length={readout.lengthAtReadingZeroMm} />
        </HelpLine>
      )}
      <UnsavedNotice />
    </MountFrame>
  )
}
