/** A drift scan by taps: the same level rising and falling, or the peak; no figures. */
import { useRef } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { DriftScanRecord, ScanRecord, TapMark } from '../../core/records/scans.ts'
import { pairsOf } from '../../core/scan/tapped.ts'
import { takeStamp } from '../../state/now.ts'
import { askTaps, type TapsJson } from '../../state/scanasks.ts'
import { addTap, tapsToFit } from '../../state/scans.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { utcTime } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { targetWords, whenToSecond } from '../kit/phrases.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { msAt, secondsFrom } from './form.ts'
import { FailedNote, ScanCaution, ScanFrame, ScanVerdict } from './SightDriftParts.tsx'
import { AfterGap, Countdown, RunNotes, useScanWatched } from './SightDriftRun.tsx'
import { DeleteScan, SightingAction } from './SightDriftSighting.tsx'
import { tapsSay } from './says.ts'
import { DRIFT, settingWords, TAP } from './words.ts'

interface TapProps {
  station: StationRecord
  records: readonly ScanRecord[]
  scan: DriftScanRecord
}

/** What the marks say; nothing is asked before there are some. */
function useTaps({ station, records, scan }: TapProps) {
  const whole = tapsToFit(records, scan)
  const marks = whole.marks ?? []
  const paired = pairsOf(marks)
  const isEmpty = paired.pairs.length === 0 && paired.peaks.length === 0
  const key = JSON.stringify([scan.id, marks])
  const { told, value, asking } = useAsked(isEmpty ? null : key, () => askTaps(station, whole))
  const few: TapsJson = { kind: 'too-few' }
  const answer = isEmpty ? few : value
  return { answer, isFresh: !asking, told, marks, paired }
}

export function TapRun(p: TapProps) {
  const { station, records, scan } = p
  const { answer, told, marks, paired } = useTaps(p)
  const down = useRef<ReturnType<typeof takeStamp> | null>(null)
  useScanWatched(station.id, scan)
  const press = (mark: TapMark['mark']) => {
    const { utcMs } = down.current ?? takeStamp()
    down.current = null
    const s = secondsFrom(scan.utc, utcMs)
    void addTap(station.id, scan, { s, mark })
  }
  const next = paired.open.at(-1)
  const isFalling = marks.some(m => m.mark !== 'rising')
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      side={
        <>
          <RunNotes scan={scan} />
          <ScanCaution station={station} target={scan.target} />
        </>
      }
      action={
        <div class="tap-pair">
          {(['rising', 'same'] as const).map(mark => (
            <Action
              key={mark}
              onDown={() => {
                down.current = takeStamp()
              }}
              off={mark === 'same' && next === undefined}
              onPress={() => press(mark)}
            >
              {mark === 'same' ? TAP.same : TAP.rising}
            </Action>
          ))}
        </div>
      }
    >
      <AfterGap records={records} scan={scan} />
      <Sentence>{TAP.how}</Sentence>
      <div role="status">
        {marks.length === 0 && <Text>{TAP.none}</Text>}
        {next !== undefined && (
          <Text>{isFalling ? TAP.next(utcTime(msAt(scan.utc, next))) : TAP.waiting(paired.open.length)}</Text>
        )}
        {paired.pairs.length > 0 && <Text>{TAP.pairs(paired.pairs.length)}</Text>}
      </div>
      <Countdown scan={scan} />
      <ButtonRow>
        <SecondaryButton onPress={() => press('peak')}>{TAP.peak}</SecondaryButton>
        <SecondaryButton disabled={!isFalling || next === undefined} onPress={() => press('missed')}>
          {TAP.missed}
        </SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'drift', 'see', scan.id)}>{DRIFT.done}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="scan" />
      {answer !== null && <ScanVerdict said={tapsSay(answer)} />}
      <FailedNote told={told} />
    </ScanFrame>
  )
}

export function TapSee(p: TapProps) {
  const { station, scan } = p
  const { answer, isFresh, told, marks } = useTaps(p)
  const fit = isFresh && answer?.kind === 'peak' ? answer : null
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      action={
        <SightingAction
          station={station}
          scan={scan}
          draft={fit?.sighting ?? null}
          otherwise={<Action onPress={() => go('sight', 'drift', 'run', scan.id)}>{DRIFT.goOn}</Action>}
        />
      }
    >
      {answer !== null && <ScanVerdict said={tapsSay(answer)} />}
      <FailedNote told={told} />
      <Rows>
        <Row label={targetWords(scan.target)}>{whenToSecond(instantMs(scan.utc))}</Row>
        <Row label="Parked at">{settingWords(station.mount, scan.lower, scan.upper)}</Row>
        {marks.map(m => (
          <Row key={m.s} label={utcTime(msAt(scan.utc, m.s))}>
            {TAP.marks[m.mark]}
          </Row>
        ))}
      </Rows>
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'drift', 'run', scan.id)}>{DRIFT.goOn}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'drift')}>{DRIFT.back}</SecondaryButton>
        <DeleteScan station={station} scan={scan} />
      </ButtonRow>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}
