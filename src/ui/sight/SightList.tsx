/** All sightings, newest first: what, how, both readings, where it stood against the book, and whether it counts. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { SolvedSighting } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { type SightingRow, sightingRows } from '../../state/sightings.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { countOf } from '../kit/format.ts'
import { LongList } from '../kit/LongList.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { keptReading, METHOD_WORDS, targetWords, whenToSecond } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { residualWords } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
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
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'new')}>{SIGHT.typeIn}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'drift')}>{WAYS.drift}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'cross')}>{WAYS.cross}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'noon')}>{WAYS.noon}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'storm')}>{WAYS.storm}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'noise')}>{WAYS.noise}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="sight" />
      <DemoMark station={station} />
      <LongList
        key={station.id}
        label={SIGHT.listTitle}
        class="sight-list"
        items={rows}
        keyOf={row => row.record.id}
        draw={row => <OneRow station={station} row={row} />}
      />
    </Screen>
  )
}

function OneRow({ station, row }: { station: StationRecord; row: SightingRow }) {
  const { record, solved, utcMs } = row
  const { mount } = station
  // Left out by hand is so at once; the rest waits for the solution.
  const status = record.use === 'never' ? 'excluded' : (solved?.status ?? null)
  return (
    <button type="button" class="sight-row" onClick={() => go('sight', 'see', record.id)}>
      <span class="sight-row-head">
        <strong>{targetWords(record.target)}</strong> {whenToSecond(utcMs)}
      </span>
      <span>
        {METHOD_WORDS[record.method]}: {keptReading(mount, 'lower', record.lower)},{' '}
        {keptReading(mount, 'upper', record.upper)}
      </span>
      <span class="sight-row-status">
        <StatusMark status={status} />
        <span>
          {status === null ? SIGHT.notSolved : solved?.repeats === undefined ? STATUS[status] : STATUS.repeats}
          {solved && <> · {residualWords(solved)}</>}
        </span>
      </span>
    </button>
  )
}
