/** All sightings as a ledger, newest first: a line each, the day once above them. */
import { useMemo } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { SolvedSighting } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { type SightingRow, sightingRows } from '../../state/sightings.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { countOf, utcDate, utcTime } from '../kit/format.ts'
import { LongList } from '../kit/LongList.tsx'
import { missOf } from '../kit/miss.ts'
import { go } from '../kit/navigation.ts'
import { AxisRule, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, keptReading, targetWords } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { MissMark } from './MissMark.tsx'
import { SIGHT, STATUS } from './words.ts'

/** Used: a disc; set aside: a cross; left out: a ring. Always beside its word. */
export function StatusMark({ status }: { status: SolvedSighting['status'] | null }) {
  return (
    <svg class="sight-mark" viewBox="0 0 20 20" aria-hidden="true">
      {status === 'used' && <circle class="full" cx="10" cy="10" r="7" />}
      {status === 'outlier' && <path d="M3 3L17 17M17 3L3 17" />}
      {status === 'excluded' && <circle cx="10" cy="10" r="7" />}
    </svg>
  )
}

export function SightList({ station }: { station: StationRecord }) {
  const { solution, station: of } = answer.value
  const known = of === station.id ? solution : null
  const rows = useMemo(() => sightingRows(station, known), [station, known])
  const lines = useMemo(() => linesOf(rows), [rows])
  const aside = rows.filter(r => r.solved?.status === 'outlier').length
  const out = rows.filter(r => r.record.use === 'never').length
  const repeated = rows.filter(r => r.solved?.repeats !== undefined).length
  return (
    <Screen
      title={SIGHT.listTitle}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      action={<Action onPress={() => go('sight')}>{SIGHT.next}</Action>}
    >
      <UnsavedNotice />
      {rows.length === 0 ? (
        <Sentence>{SIGHT.listNone}</Sentence>
      ) : (
        <Text quiet>{SIGHT.counts(countOf(rows.length, 'sighting'), aside, out, repeated)}</Text>
      )}
      <DemoMark station={station} />
      {rows.length > 0 && <Heads station={station} />}
      <LongList
        key={station.id}
        label={SIGHT.listTitle}
        class="sight-list"
        items={lines}
        keyOf={line => (line.row ? line.row.record.id : line.day)}
        draw={line => (line.row ? <OneRow station={station} row={line.row} /> : <h2 class="sight-day">{line.day}</h2>)}
      />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'new')}>{SIGHT.typeIn}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'ways')}>{SIGHT.waysTitle}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="sight" />
    </Screen>
  )
}

interface Line {
  day: string
  /** null: the day itself, above its sightings. */
  row: SightingRow | null
}

/** The rows with each day above its own. */
function linesOf(rows: readonly SightingRow[]): Line[] {
  const lines: Line[] = []
  for (const row of rows) {
    const day = utcDate(row.utcMs)
    if (lines.at(-1)?.day !== day) lines.push({ day, row: null })
    lines.push({ day, row })
  }
  return lines
}

/** What the columns are, once: each axis over its rule. */
function Heads({ station: { mount } }: { station: StationRecord }) {
  return (
    <div class="ledger ledger-heads" aria-hidden="true">
      <span>{SIGHT.columns.time}</span>
      <span>{SIGHT.columns.target}</span>
      {AXES.map(axis => (
        <span key={axis} class="ledger-axis">
          {axisName(mount, axis)}
          <AxisRule axis={axis} />
        </span>
      ))}
      <span />
      <span>{SIGHT.columns.off}</span>
    </div>
  )
}

/** A reading without "counts": "31.2°", "589". */
const bare = (text: string): string => text.replace(/\u00a0counts$/, '')

/** Longer than "Moon": the column of targets on a phone would break the word. */
const isWide = (target: string): boolean =>
  target.split(' ').some(word => word.replace(/[\u2068\u2069]/g, '').length > 4)

function OneRow({ station, row }: { station: StationRecord; row: SightingRow }) {
  const { record, solved, utcMs } = row
  const { mount } = station
  const of = targetWords(record.target)
  // Left out by hand is so at once; the rest waits for the solution.
  const status = record.use === 'never' ? 'excluded' : (solved?.status ?? null)
  return (
    <button type="button" class="ledger sight-row" onClick={() => go('sight', 'see', record.id)}>
      <span>{utcTime(utcMs, 'minute')}</span>
      <span class={isWide(of) ? 'ledger-wide' : undefined}>{of}</span>
      <strong>{bare(keptReading(mount, 'lower', record.lower))}</strong>
      <strong>{bare(keptReading(mount, 'upper', record.upper))}</strong>
      <span>
        <StatusMark status={status} />
        <span class="hidden-words">
          {status === null ? SIGHTING.weighing : solved?.repeats === undefined ? STATUS[status] : STATUS.repeats}
        </span>
      </span>
      <span>{solved && <MissMark miss={missOf(solved)} sigmaDeg={solved.sigmaDeg} />}</span>
    </button>
  )
}
