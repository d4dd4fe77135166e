/** A drift scan under way: one field, one button that takes the time; the curve grows, and a gap is reported on return. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { DriftScanRecord, ScanRecord } from '../../core/records/scans.ts'
import { trueNow } from '../../state/ask.ts'
import { clockStep, now, takeStamp } from '../../state/now.ts'
import { addGap, addLevel, heardIn } from '../../state/scans.ts'
import { screenKept, watchScan } from '../../state/scanwatch.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { levelText, utcAndLocal, utcTime } from '../kit/format.ts'
import { Refused, refusedBy } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { numberOf } from '../kit/numberfield.ts'
import { BigNumber, Text } from '../kit/numbers.tsx'
import { SIGHTING } from '../kit/sighting/words.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { LEVEL_KINDS, msAt, secondsFrom } from './form.ts'
import { ScanCaution, ScanFrame } from './SightDriftParts.tsx'
import { DriftPicture } from './SightDriftPicture.tsx'
import { DRIFT } from './words.ts'

interface RunProps {
  station: StationRecord
  records: readonly ScanRecord[]
  scan: DriftScanRecord
}

/** A press that takes longer than this was not one act: the time is taken again when it ends. ms */
const LONGEST_PRESS_MS = 3000
/** How long a gap is shown after the return, unless a level was noted meanwhile. ms */
const SAID_MS = 120_000

export function DriftRun({ station, records, scan }: RunProps) {
  const [form, setForm] = useKept(`drift.level.${station.id}`, () => ({ level: '' }))
  const [refused, setRefused] = useState<string | null>(null)
  const down = useRef<ReturnType<typeof takeStamp> | null>(null)
  const field = useRef<HTMLFormElement>(null)
  useScanWatched(station.id, scan)
  const kind = LEVEL_KINDS[scan.scale]
  const level = numberOf(form.level, kind)
  const stamp = async () => {
    const fresh = takeStamp()
    const first = down.current
    down.current = null
    if (level === null) return
    const at = first && fresh.monotonicMs - first.monotonicMs < LONGEST_PRESS_MS ? first : fresh
    setForm({ level: '' })
    field.current?.querySelector('input')?.focus()
    const sample = { s: secondsFrom(scan.utc, at.utcMs), level }
    const kept = await addLevel(station.id, scan, sample)
    setRefused(refusedBy(kept))
    if (kept.kind === 'refused') setForm(form)
  }
  const { samples } = heardIn(records, scan)
  const last = samples.at(-1)
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      action={
        <Action
          notNow={level === null ? DRIFT.stampNot : null}
          onDown={() => {
            down.current = takeStamp()
          }}
          onPress={() => void stamp()}
        >
          {DRIFT.stamp}
        </Action>
      }
      side={
        <>
          <RunNotes scan={scan} />
          <ScanCaution station={station} target={scan.target} />
        </>
      }
    >
      <AfterGap records={records} scan={scan} />
      <form
        ref={field}
        onSubmit={event => {
          event.preventDefault()
          void stamp()
        }}
      >
        <NumberField
          label={DRIFT.level(scan.scale === 'dB')}
          kind={kind}
          text={form.level}
          signButton={scan.scale === 'dB'}
          onText={text => setForm({ level: text })}
          hint=""
        />
      </form>
      <div role="status">
        <Text>
          {last ? DRIFT.last(levelText(scan.scale, last.level), utcTime(msAt(scan.utc, last.s))) : DRIFT.nothing}
        </Text>
      </div>
      <Countdown scan={scan} />
      <Refused why={refused} />
      <DriftPicture station={station} records={records} scan={scan} />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'drift', 'see', scan.id)}>{DRIFT.done}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}

/** The screen is kept on, and a gap is marked when the page was hidden. */
export function useScanWatched(station: string, scan: DriftScanRecord) {
  useEffect(
    () =>
      watchScan(scan.id, (fromMs, toMs) => {
        const gap = { fromS: secondsFrom(scan.utc, fromMs), toS: secondsFrom(scan.utc, toMs) }
        void addGap(station, scan, gap)
      }),
    [station, scan.id, scan.utc],
  )
}

/** Shown until the next level. */
export function AfterGap({ records, scan }: Omit<RunProps, 'station'>) {
  const { samples, gaps } = heardIn(records, scan)
  const gap = gaps.at(-1)
  if (gap === undefined || (samples.at(-1)?.s ?? 0) > gap.toS) return null
  if (now.value - msAt(scan.utc, gap.toS) > SAID_MS) return null
  return (
    <Notice state="look-out" word={DRIFT.gapWord} live="status">
      {DRIFT.gap(msAt(scan.utc, gap.fromS), msAt(scan.utc, gap.toS))}
    </Notice>
  )
}

export function Countdown({ scan }: { scan: DriftScanRecord }) {
  if (scan.expect === undefined) return null
  const peakMs = instantMs(scan.expect.peakUtc)
  return (
    <BigNumber
      size="row"
      label={DRIFT.expects}
      value={DRIFT.in(peakMs - trueNow.value)}
      beside={utcAndLocal(peakMs, 'second')}
    />
  )
}

/** Whether the clock was set, and whether the screen stays on. */
export function RunNotes({ scan }: { scan: DriftScanRecord }) {
  const step = clockStep.value
  const kept = screenKept.value
  return (
    <>
      {step !== null && step.noticedMs >= instantMs(scan.utc) && (
        <Notice state="look-out">{SIGHTING.clockStep(step.stepMs / 1000)}</Notice>
      )}
      {(kept === 'refused' || kept === 'absent') && <Notice state="look-out">{DRIFT.keepOn}</Notice>}
      {kept === 'held' && <Text quiet>{DRIFT.wake}</Text>}
    </>
  )
}
