/** The quick cross scan: one level on either side of the peak, axis by axis; no figures of the level. */
import { useRef, useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { CrossScanRecord } from '../../core/records/scans.ts'
import { takeStamp } from '../../state/now.ts'
import { askEqual } from '../../state/scanasks.ts'
import { addEqual } from '../../state/scans.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { Refused, refusedBy } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, keptReading, targetWords, whenToSecond } from '../kit/phrases.ts'
import { axisWord, readingKind } from '../kit/readings.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { type EqualForm, equalMark, lackingAxis, openPair, otherAxis, pairsOn } from './form.ts'
import { FailedNote, ScanCaution, ScanFrame, ScanVerdict } from './SightDriftParts.tsx'
import { DeleteScan, SightingAction } from './SightDriftSighting.tsx'
import { equalSays } from './says.ts'
import { CROSS, EQUAL } from './words.ts'

function useEqual(station: StationRecord, scan: CrossScanRecord) {
  const marks = scan.marks ?? []
  const key = marks.length === 0 ? null : JSON.stringify([scan.id, marks])
  const { told, value, asking } = useAsked(key, () => askEqual(station, scan))
  return { answer: value, isFresh: !asking, told }
}

export function EqualRun({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { mount } = station
  const marks = scan.marks ?? []
  const [form, setForm] = useKept<EqualForm>(`cross.equal.${scan.id}`, () => ({ axis: 'lower', lower: '', upper: '' }))
  const set = (change: Partial<EqualForm>) => setForm(before => ({ ...before, ...change }))
  const { answer, told } = useEqual(station, scan)
  const [refused, setRefused] = useState<string | null>(null)
  const down = useRef<ReturnType<typeof takeStamp> | null>(null)
  const { axis } = form
  const other = otherAxis(axis)
  const isSecond = openPair(marks, axis) !== null
  const stamp = async () => {
    const { utcMs } = down.current ?? takeStamp()
    down.current = null
    const mark = equalMark(form, scan, mount, utcMs)
    if (mark === null) return
    const kept = await addEqual(station, scan, mark)
    setRefused(refusedBy(kept))
    if (kept.kind !== 'refused') set({ [axis]: '', axis: lackingAxis([...marks, mark]) ?? axis })
  }
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      side={<ScanCaution station={station} target={scan.target} />}
      action={
        <Action
          notNow={equalMark(form, scan, mount, 0) === null ? EQUAL.notNow : null}
          onDown={() => {
            down.current = takeStamp()
          }}
          onPress={() => void stamp()}
        >
          {EQUAL.stamp(isSecond)}
        </Action>
      }
    >
      <Choice
        label={EQUAL.axis}
        value={axis}
        options={AXES.map(value => ({ value, word: axisWord(mount, value) }))}
        onPick={picked => set({ axis: picked })}
      />
      <Sentence strong>{(isSecond ? EQUAL.second : EQUAL.first)(axisName(mount, axis))}</Sentence>
      {isSecond && <Text>{EQUAL.arrive}</Text>}
      <Field label={EQUAL.shows(axisWord(mount, axis))} of={axis} station={station} form={form} set={set} />
      <Field
        label={EQUAL.stands(axisWord(mount, other))}
        of={other}
        station={station}
        form={form}
        set={set}
        hint={EQUAL.standsHint}
      />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'cross', 'see', scan.id)}>{CROSS.done}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="scan" />
      <Refused why={refused} />
      {answer !== null && <ScanVerdict said={equalSays(mount, answer)} />}
      <FailedNote told={told} />
      <Pairs station={station} scan={scan} />
    </ScanFrame>
  )
}

function Field(p: {
  label: string
  of: Axis
  station: StationRecord
  form: EqualForm
  set: (change: Partial<EqualForm>) => void
  hint?: string
}) {
  const { mount } = p.station
  return (
    <NumberField
      label={p.label}
      kind={readingKind(mount, p.of)}
      text={p.form[p.of]}
      signButton={mount[p.of].minReading < 0}
      onText={text => p.set({ [p.of]: text })}
      hint={p.hint ?? ''}
    />
  )
}

function Pairs({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const marks = scan.marks ?? []
  return (
    <>
      {AXES.map(axis => (
        <Text key={axis} quiet>
          {EQUAL.pairs(axisWord(station.mount, axis), pairsOn(marks, axis))}
        </Text>
      ))}
    </>
  )
}

export function EqualSee({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { mount } = station
  const { answer, isFresh, told } = useEqual(station, scan)
  const fit = isFresh && answer?.kind === 'middle' ? answer : null
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      action={
        <SightingAction
          station={station}
          scan={scan}
          draft={fit?.sighting ?? null}
          otherwise={<Action onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</Action>}
        />
      }
    >
      {answer !== null && <ScanVerdict said={equalSays(mount, answer)} />}
      <FailedNote told={told} />
      <Rows>
        <Row label={targetWords(scan.target)}>{whenToSecond(instantMs(scan.utc))}</Row>
        {(scan.marks ?? []).map(m => (
          <Row key={m.s} label={`${axisWord(mount, m.axis)}, pair ${m.pair}`}>
            {keptReading(mount, m.axis, m[m.axis])}
          </Row>
        ))}
      </Rows>
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'cross')}>{CROSS.back}</SecondaryButton>
        <DeleteScan station={station} scan={scan} />
      </ButtonRow>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}
