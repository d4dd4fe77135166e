/** One sighting: all its facts, where it stood against the book, whether it counts, and its earlier states. */
import { isScanMethod } from '../../core/fit/methods.ts'
import type { SightingRecord, StationRecord, Use } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import type { SolvedSighting } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { fieldBook } from '../../state/book.ts'
import { askExpected, isLatest } from '../../state/expected.ts'
import { deleteSighting, methodSigmaDeg, setUse, shadowMeaning } from '../../state/sightings.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { spotWords } from '../kit/dishface-geometry.ts'
import { degrees, fixed, lengthUnit } from '../kit/format.ts'
import { ifStillHere } from '../kit/keep.tsx'
import { missDecimals, missOf, missParts, missWords } from '../kit/miss.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, goBack } from '../kit/navigation.ts'
import { Name, Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, keptReading, targetWords, whenToSecond } from '../kit/phrases.ts'
import { axisWord } from '../kit/readings.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { StormOpen } from '../kit/StormOpen.tsx'
import { SIGHTING, shadowSentence, spreadWords } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { MissSides } from './MissMark.tsx'
import { SightingGone } from './SightComplete.tsx'
import { History } from './SightHistory.tsx'
import { StatusMark } from './SightList.tsx'
import { SIGHT } from './words.ts'

export function SightSee({ station, id }: { station: StationRecord; id: string }) {
  const record = station.sightings.find(s => s.id === id)
  if (!record) return <SightingGone />
  const { solution, station: of, stale } = answer.value
  const solved = of === station.id ? solution?.sightings.find(s => s.id === id) : undefined
  const remove = () => {
    const where = location.hash
    void deleteSighting(station, record).then(() => ifStillHere(where, () => location.replace('#sight/list')))
  }
  return (
    <Screen
      title={targetWords(record.target)}
      utc={<UtcNow />}
      present="sight"
      onGo={to => go(to)}
      action={<Action onPress={() => go('sight')}>{SIGHT.next}</Action>}
      side={<Acts station={station} record={record} onDelete={remove} />}
    >
      <UnsavedNotice />
      <Verdict station={station} record={record} solved={solved} stale={stale} />
      {record.stamp?.clockStepS !== undefined && (
        <Notice state="look-out">{SIGHTING.clockStep(record.stamp.clockStepS)}</Notice>
      )}
      <Facts station={station} record={record} />
      <DemoMark station={station} />
    </Screen>
  )
}

interface VerdictProps {
  station: StationRecord
  record: SightingRecord
  solved: SolvedSighting | undefined
  stale: boolean
}

function Verdict({ station, record, solved, stale }: VerdictProps) {
  const status = record.use === 'never' ? 'excluded' : (solved?.status ?? null)
  return (
    <>
      <Against station={station} record={record} />
      {solved ? (
        <p class="text">
          {SIGHT.takenIn} <MissSides miss={missOf(solved)} sigmaDeg={solved.sigmaDeg} />
        </p>
      ) : (
        <Text>{stale ? SIGHTING.weighing : SIGHT.notSolvedYet}</Text>
      )}
      {status && (
        <p class="sight-row-status">
          <StatusMark status={status} />
          <span>
            {SIGHT.statusLong[solved?.repeats === undefined ? status : 'repeats']}
            {solved?.weight !== undefined && SIGHT.crowded(solved.weight)}
            {solved &&
              ` ${SIGHT.goodTo(record.cov ? spreadWords(record.cov, record.method === 'drift-scan') : `± ${degrees(solved.sigmaDeg, 2)}`)}`}
          </span>
        </p>
      )}
    </>
  )
}

/** Where it stood against what the book expected without it. */
function Against({ station, record }: { station: StationRecord; record: SightingRecord }) {
  const { value, asking } = useAsked(`${record.id} ${useSolveKey(station)}`, () => askExpected(station, record.id))
  if (!value) return <Sentence>{asking ? SIGHT.comparing : SIGHT.notSolvedYet}</Sentence>
  if (value.from === 0) return <Sentence strong>{SIGHT.nothingBefore}</Sentence>
  const { solved } = value
  const miss = missOf(solved)
  const isThere = missParts(miss, missDecimals(solved.sigmaDeg)).length === 0
  return (
    <div role="status">
      <p class="sentence sentence-strong">
        {SIGHT.stood(record.target)} <MissSides miss={miss} sigmaDeg={solved.sigmaDeg} />
      </p>
      <Text>{SIGHT.against(isThere, isLatest(station, record.id), value.from)}</Text>
    </div>
  )
}

function Facts({ station, record }: { station: StationRecord; record: SightingRecord }) {
  const { mount } = station
  const unit = lengthUnit()
  const feed = station.feeds.find(f => f.id === record.feed)
  const { arrivedFrom, shadow, offset, sigmaDeg, clockOffsetS } = record
  const meaning = shadow && record.method === 'shadow' ? shadowMeaning(station, shadow, sigmaDeg) : null
  const words = meaning && shadowSentence(meaning)
  const sided = (axis: 'lower' | 'upper') => {
    const side = arrivedFrom?.[axis]
    return side ? <Row label={SIGHTING.arrived(axisName(mount, axis))}>{SIGHTING.sides[side]}</Row> : null
  }
  const isScan = isScanMethod(record.method)
  return (
    <Rows>
      <Row label="Time" {...(record.stamp && { note: 'Time marked with the phone.' })}>
        {whenToSecond(instantMs(record.utc))}
      </Row>
      {clockOffsetS !== undefined && <Row label={SIGHTING.clockOffset}>{fixed(clockOffsetS, 1)} s</Row>}
      <Row label={axisWord(mount, 'lower')}>{keptReading(mount, 'lower', record.lower)}</Row>
      <Row label={axisWord(mount, 'upper')}>{keptReading(mount, 'upper', record.upper)}</Row>
      {sided('lower')}
      {sided('upper')}
      <Row label={SIGHTING.method}>{METHOD_WORDS[record.method]}</Row>
      {feed && station.feeds.length > 1 && (
        <Row label="Feed">
          <Name>{feed.name}</Name>
        </Row>
      )}
      {shadow && (
        <Row label="Shadow, seen from behind" {...(words && { note: `${words.lead}${words.off}${words.tail}` })}>
          {spotWords(shadow, unit)}
        </Row>
      )}
      {offset && <Row label="Target stood">{missWords(offset, 0.05)}</Row>}
      <Row label="Uncertainty">
        {sigmaDeg !== undefined
          ? `± ${degrees(sigmaDeg, 2)}, as stated`
          : record.cov
            ? `${spreadWords(record.cov, record.method === 'drift-scan')}, from the scan`
            : isScan
              ? 'not said'
              : `± ${degrees(methodSigmaDeg(station, record.method, record.feed), 2)}, usual for this method`}
      </Row>
      {record.wind && (
        <Row label="Wind">
          <Name>{record.wind}</Name>
        </Row>
      )}
      {record.note && (
        <Row label="Note">
          <Name>{record.note}</Name>
        </Row>
      )}
    </Rows>
  )
}

function Acts({ station, record, onDelete }: { station: StationRecord; record: SightingRecord; onDelete: () => void }) {
  return (
    <>
      <Choice
        label={SIGHT.use}
        value={record.use ?? 'auto'}
        options={(['auto', 'always', 'never'] as const).map(value => ({ value, word: SIGHT.uses[value] }))}
        onPick={(use: Use) => void setUse(station, record, use)}
        hint={SIGHT.useHint}
      />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'edit', record.id)}>{SIGHT.edit}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'list')}>{SIGHT.all}</SecondaryButton>
        <StormOpen station={station} utc={record.utc} />
        <SecondaryButton stop onPress={onDelete}>
          {SIGHT.delete}
        </SecondaryButton>
      </ButtonRow>
      <UndoStrip
        of="sight"
        ids={[record.id, record.scan]}
        onUndone={() => {
          const still = fieldBook.station.peek()?.sightings.some(s => s.id === record.id)
          if (!still) goBack('sight', 'list')
        }}
      />
      <History station={station} record={record} />
    </>
  )
}
