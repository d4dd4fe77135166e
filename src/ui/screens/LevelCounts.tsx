/** Degrees per count: stops along an axis's travel, what they make of its readout, and the way into the station. */
import { useMemo, useState } from 'preact/hooks'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import {
  type CountsForm,
  type CountsRow,
  countsCalibration,
  EMPTY_ROW,
  emptyCounts,
  finenessOf,
  keptStops,
  perCountOf,
  stopsOf,
  TAPE_KIND,
  USUAL_ANGLE_SIGMA_DEG,
} from '../countsform.ts'
import { KINDS, readingKind } from '../levelform.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { NumberField } from '../parts/fields.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Row, Rows, Sentence, Text } from '../parts/numbers.tsx'
import { PerCountPlot } from '../plots/PerCountPlot.tsx'
import { JackFigure } from '../station/JackFigure.tsx'
import { axisName } from '../words/common.ts'
import { capital, LEVEL } from '../words/level.ts'
import {
  COUNTS,
  calibrationRows,
  finenessRows,
  fitWords,
  leftWords,
  noCalibration,
  stopWords,
  zeroOpen,
} from '../words/swing.ts'
import { useKept } from './keptany.ts'
import { LevelFrame } from './LevelParts.tsx'
import { IsIn, ResultRows, usePutIn } from './LevelPutIn.tsx'
import { UnsavedNotice } from './SavedLine.tsx'

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
    <LevelFrame
      station={station}
      title={COUNTS.title}
      action={
        <Action notNow={why} onPress={() => c?.kind === 'calibrated' && void put(c, keptStops(form, base))}>
          {COUNTS.apply}
        </Action>
      }
    >
      <Sentence>{COUNTS.lead}</Sentence>
      <Notice state="caution">{COUNTS.caution}</Notice>
      <Choice
        label={COUNTS.axis}
        value={form.axis}
        options={(['lower', 'upper'] as const).map(value => ({ value, word: capital(axisName(mount, value)) }))}
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
      <Answer station={base} form={form} />
      <HelpLine word={LEVEL.finer}>
        <NumberField
          label={COUNTS.sigma}
          kind={KINDS.sigma}
          text={form.sigma}
          hint={LEVEL.usual(`± ${USUAL_ANGLE_SIGMA_DEG}°`)}
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
    </LevelFrame>
  )
}

interface CountsProps {
  station: StationRecord
  form: CountsForm
}

function Stops({ station, form, set }: CountsProps & { set: (change: Partial<CountsForm>) => void }) {
  const name = axisName(station.mount, form.axis)
  const put = (k: number, change: Partial<CountsRow>) =>
    set({ rows: form.rows.map((row, i) => (i === k ? { ...row, ...change } : row)) })
  return (
    <>
      {form.rows.map((row, k) => (
        <div key={k} class="level-around">
          <NumberField
            label={COUNTS.reads(k + 1, name)}
            kind={readingKind(station.mount, form.axis)}
            text={row.reading}
            signButton
            onText={reading => put(k, { reading })}
          />
          <NumberField
            label={COUNTS.angle(k + 1)}
            kind={KINDS.circle}
            text={row.angle}
            onText={angle => put(k, { angle })}
          />
          <Choice
            label={COUNTS.from}
            value={row.from}
            options={[
              { value: '', word: COUNTS.fromNone },
              { value: '+', word: COUNTS.fromBelow },
              { value: '-', word: COUNTS.fromAbove },
            ]}
            onPick={from => put(k, { from })}
          />
        </div>
      ))}
      <Seconds>
        <Second onPress={() => set({ rows: [...form.rows, EMPTY_ROW] })}>{COUNTS.more}</Second>
        {form.rows.length > 2 && <Second onPress={() => set({ rows: form.rows.slice(0, -1) })}>{COUNTS.fewer}</Second>}
      </Seconds>
    </>
  )
}

/** What the stops make of the readout: sentence, rows, curve, and what is left at each. */
function Answer({ station, form }: CountsProps) {
  const { mount } = station
  const c = useMemo(() => countsCalibration(form, station), [form, station])
  const curve = useMemo(() => perCountOf(station, form, c), [station, form, c])
  const stops = stopsOf(form, station)
  if (c === null || c.kind !== 'calibrated')
    return curve ? <PerCountPlot title={COUNTS.curve} axis={form.axis} data={curve} /> : null
  const fine = finenessOf(station, form.axis, c)
  const open = zeroOpen(c, axisName(mount, form.axis))
  return (
    <>
      <Notice state={c.misfits ? 'look-out' : 'good'} word={COUNTS.result} live="status">
        <p>{fitWords(c)}</p>
        {open && <p>{open}</p>}
      </Notice>
      <ResultRows rows={[...calibrationRows(mount, form.axis, c), ...finenessRows(fine.count, c.play, fine.beam)]} />
      {curve && <PerCountPlot title={COUNTS.curve} axis={form.axis} data={curve} />}
      <HelpLine word={COUNTS.each}>
        <Rows>
          {stops.map((stop, k) => (
            <Row key={stop.row} label={stopWords(mount, form.axis, stop.reading, stop.row + 1)}>
              {leftWords(c.left[k]!)}
            </Row>
          ))}
        </Rows>
      </HelpLine>
      {open && <Text quiet>{COUNTS.besideNote}</Text>}
    </>
  )
}
