/** Drift scans: the list, and which of their screens the address means. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { DriftScanRecord } from '../../core/records/scans.ts'
import { marksOf } from '../../core/scan/tapanswer.ts'
import { heardIn, scanOf, scanRecords, scansOf } from '../../state/scans.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { countOf } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { targetWords, whenToSecond } from '../kit/phrases.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { ScanFrame } from './SightDriftParts.tsx'
import { DriftRun } from './SightDriftRun.tsx'
import { DriftSee } from './SightDriftSee.tsx'
import { DriftStart } from './SightDriftStart.tsx'
import { TapRun, TapSee } from './SightDriftTap.tsx'
import { DRIFT } from './words.ts'

export function DriftPlace({ station, what, id = '' }: { station: StationRecord; what?: string; id?: string }) {
  const records = scanRecords(station)
  const scan = scanOf(records, 'drift', id)
  if (what === 'new') return <DriftStart station={station} />
  if (what === 'run' || what === 'see') {
    if (scan === null) return <ScanGone station={station} />
    const isTapped = scan.how === 'tapped'
    if (isTapped && what === 'run') return <TapRun station={station} records={records} scan={scan} />
    if (isTapped) return <TapSee station={station} records={records} scan={scan} />
    return what === 'run' ? (
      <DriftRun station={station} records={records} scan={scan} />
    ) : (
      <DriftSee station={station} records={records} scan={scan} />
    )
  }
  return <DriftList station={station} />
}

export function ScanGone({ station }: { station: StationRecord }) {
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      action={<Action onPress={() => go('sight', 'drift')}>{DRIFT.back}</Action>}
    >
      <Sentence>{DRIFT.gone}</Sentence>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}

function DriftList({ station }: { station: StationRecord }) {
  const records = scanRecords(station)
  const scans = scansOf(records, 'drift')
  const saysOf = (scan: DriftScanRecord) =>
    scan.how === 'tapped'
      ? countOf(marksOf(scan, records).length, 'tap')
      : countOf(heardIn(records, scan).samples.length, 'reading')
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      action={<Action onPress={() => go('sight', 'drift', 'new')}>{DRIFT.begin}</Action>}
    >
      <Sentence>{DRIFT.why}</Sentence>
      <ScanRows
        none={DRIFT.none}
        list={DRIFT.list}
        rows={scans.map(scan => ({
          id: scan.id,
          head: targetWords(scan.target),
          when: whenToSecond(instantMs(scan.utc)),
          says: saysOf(scan),
        }))}
        onSee={id => go('sight', 'drift', 'see', id)}
      />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'list')}>{DRIFT.toSight}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}

interface ScanRow {
  id: string
  head: string
  when: string
  says: string
}

export function ScanRows(p: { none: string; list: string; rows: readonly ScanRow[]; onSee: (id: string) => void }) {
  if (p.rows.length === 0) return <Sentence>{p.none}</Sentence>
  return (
    <ul class="sight-list" aria-label={p.list}>
      {p.rows.map(row => (
        <li key={row.id}>
          <button type="button" class="sight-row" onClick={() => p.onSee(row.id)}>
            <span class="sight-row-head">
              <strong>{row.head}</strong> {row.when}
            </span>
            <span>{row.says}</span>
          </button>
        </li>
      ))}
    </ul>
  )
}
