/** Degrees per count: the stops as they are typed, and what they make of the readout. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KINDS } from '../kit/kinds.ts'
import { Notice } from '../kit/Notice.tsx'
import { Row, Rows, Table, Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import {
  type CountsForm,
  type CountsRow,
  countsCalibration,
  EMPTY_ROW,
  emptyCounts,
  finenessOf,
  perCountOf,
  typedStops,
} from './countsform.ts'
import { PerCountPlot } from './PerCountPlot.tsx'
import {
  COUNTS,
  calibrationRows,
  finenessRows,
  fitWords,
  leftAtStopWords,
  playOdd,
  stopWords,
  zeroOpen,
} from './words.ts'

interface CountsProps {
  station: StationRecord
  form: CountsForm
}

export function Stops({ station, form, set }: CountsProps & { set: (change: Partial<CountsForm>) => void }) {
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
            hint=" "
            onText={angle => put(k, { angle })}
          />
          <div class="scan-short">
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
        </div>
      ))}
      <ButtonRow>
        <SecondaryButton onPress={() => set({ rows: [...form.rows, EMPTY_ROW] })}>{COUNTS.more}</SecondaryButton>
        {form.rows.length > 2 && (
          <SecondaryButton onPress={() => set({ rows: form.rows.slice(0, -1) })}>{COUNTS.fewer}</SecondaryButton>
        )}
        {form.rows.some(row => row.reading !== '' || row.angle !== '') && (
          <SecondaryButton onPress={() => set({ rows: emptyCounts(form.axis).rows })}>{COUNTS.anew}</SecondaryButton>
        )}
      </ButtonRow>
    </>
  )
}

/** What the stops make of the readout: sentence, rows, curve, and what is left at each. */
export function CountsAnswer({ station, form }: CountsProps) {
  const { mount } = station
  const c = useMemo(() => countsCalibration(form, station), [form, station])
  const curve = useMemo(() => perCountOf(station, form, c), [station, form, c])
  const stops = typedStops(form, station)
  if (c === null || c.kind !== 'calibrated')
    return curve ? <PerCountPlot title={COUNTS.curve} axis={form.axis} data={curve} /> : null
  const fine = finenessOf(station, form.axis, c)
  const open = zeroOpen(c, axisName(mount, form.axis))
  return (
    <>
      <Notice state={c.misfits ? 'look-out' : 'good'} word={COUNTS.result} live="status">
        <p>{fitWords(c)}</p>
        {open && <p>{open}</p>}
        {playOdd(c.play) && <p>{playOdd(c.play)}</p>}
      </Notice>
      <Table rows={[...calibrationRows(mount, form.axis, c), ...finenessRows(fine.count, c.play, fine.beam)]} />
      {curve && <PerCountPlot title={COUNTS.curve} axis={form.axis} data={curve} />}
      <HelpLine word={COUNTS.each}>
        <Rows>
          {stops.map((stop, k) => (
            <Row key={stop.row} label={stopWords(mount, form.axis, stop.reading, stop.row + 1)}>
              {leftAtStopWords(c.left[k]!)}
            </Row>
          ))}
        </Rows>
      </HelpLine>
      {open && <Text quiet>{COUNTS.besideNote}</Text>}
    </>
  )
}
