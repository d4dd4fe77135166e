/** One record of "Level": what it says, what it means, and how to change it or take it out. */
import { carryOver } from '../../core/level/carryover.ts'
import { compareMark, type MarkRecord } from '../../core/level/marks.ts'
import type { ChangeRecord, LevelRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { dropGravity, type GravityEntry, gravityEntry } from '../../state/gravity.ts'
import { instrumentName } from '../../state/instruments.ts'
import { carryWords, changeWords, expectWords, unknownLabel, verdictWords } from '../change/words.ts'
import { Action, Second, Seconds } from '../kit/buttons.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { StormOpen } from '../storm/SightStormOpen.tsx'
import { isSwung } from '../swing/LevelSwing.tsx'
import type { LevelWithRaw } from './form.ts'
import { Gone, LevelFrame, LevelUndo } from './LevelParts.tsx'
import type { Taken } from './phoneform.ts'
import { takenRows } from './phonewords.ts'
import { levelWords, rawWords, shimWords, useWords } from './says.ts'
import { DONE_WORDS, LEVEL, readingWords, TAKEN_WORDS, whenWords } from './words.ts'

const TITLES = { level: 'A level', reference: 'A mark read', change: 'A change' } as const
export function LevelSee({ station, kind, id }: { station: StationRecord; kind: string; id: string }) {
  const item = gravityEntry(station, kind, id)
  if (item === null) return <Gone station={station} />
  const drop = async () => {
    if (await dropGravity(station, item, TAKEN_WORDS[item.kind])) go('level')
  }
  const saved = fieldBook.saving.value
  return (
    <LevelFrame station={station} title={TITLES[item.kind]} action={<NextAction station={station} item={item} />}>
      <UnsavedNotice />
      {saved.kind === 'saved' && fieldBook.undoable.value === DONE_WORDS[item.kind] && (
        <Notice state="good" word={LEVEL.kept} live="status">
          <LevelUndo onUndone={() => go('level')} />
        </Notice>
      )}
      {item.kind === 'level' && <SeeLevel station={station} level={item.record} />}
      {item.kind === 'reference' && <SeeMark station={station} mark={item.record} />}
      {item.kind === 'change' && <SeeChange station={station} change={item.record} />}
      {item.record.note !== undefined && (
        <Text>
          {LEVEL.note}: <Name>{item.record.note}</Name>
        </Text>
      )}
      <Seconds>
        <Second
          onPress={() =>
            item.kind === 'level' && isSwung(item.record as LevelWithRaw)
              ? go('level', 'swing', 'edit', id)
              : go('level', 'edit', item.kind, id)
          }
        >
          {LEVEL.edit}
        </Second>
        {item.kind !== 'change' && <StormOpen station={station} utc={item.record.utc} />}
        <Second stop onPress={() => void drop()}>
          {LEVEL.remove}
        </Second>
      </Seconds>
    </LevelFrame>
  )
}

/** A mark that differs asks for a change; everything else leads back. */
function NextAction({ station, item }: { station: StationRecord; item: GravityEntry }) {
  if (item.kind === 'reference' && compareMark(station, item.record).kind === 'differs') {
    const { axis, utc } = item.record
    return <Action onPress={() => go('level', 'change', `${axis}-zero`, utc)}>{LEVEL.noteChange}</Action>
  }
  return <Action onPress={() => go('level')}>{LEVEL.back}</Action>
}

const takenOf = (level: LevelWithRaw): Taken[] =>
  level.raw?.taken ?? (level.raw?.around ?? []).flatMap(a => (a.taken ? [a.taken] : []))

function SeeLevel({ station, level }: { station: StationRecord; level: LevelRecord }) {
  const shim = level.what === 'mast-lean' ? shimWords(level.northDeg, level.eastDeg, level.sigmaDeg) : null
  return (
    <>
      <Sentence strong>{levelWords(station.mount, level)}</Sentence>
      {shim && <Sentence>{shim}</Sentence>}
      <Rows>
        <Row label={LEVEL.when}>{whenWords(level.utc)}</Row>
        {level.instrument !== undefined && (
          <Row label={LEVEL.instrument}>
            <Name>{instrumentName(station, level.instrument)}</Name>
          </Row>
        )}
        {takenRows(takenOf(level)).map(({ label, value }) => (
          <Row key={label} label={label}>
            {value}
          </Row>
        ))}
        {rawWords((level as LevelWithRaw).raw).map(({ label, value }) => (
          <Row key={label} label={label}>
            {value}
          </Row>
        ))}
      </Rows>
      {useWords(station, level).map(words => (
        <Text key={words}>{words}</Text>
      ))}
    </>
  )
}

function SeeMark({ station, mark }: { station: StationRecord; mark: MarkRecord }) {
  const compared = compareMark(station, mark)
  const verdict = verdictWords(station.mount, mark, compared)
  const closes = mark.visit === 'start' && !verdict.differs ? LEVEL.closeRun : null
  return (
    <>
      <Notice state={verdict.differs ? 'look-out' : 'good'} live="status">
        {verdict.text}
        {compared.kind === 'agrees' && mark.visit === 'end' && ` ${LEVEL.runClosed}`}
      </Notice>
      {verdict.differs && <Text>{LEVEL.markDiffers}</Text>}
      <Rows>
        <Row label={<Name>{mark.mark}</Name>}>{readingWords(station.mount, mark.axis, mark.reading)}</Row>
        <Row label={LEVEL.when}>{whenWords(mark.utc)}</Row>
      </Rows>
      {closes && <Text>{closes}</Text>}
    </>
  )
}

function SeeChange({ station, change }: { station: StationRecord; change: ChangeRecord }) {
  const words = carryWords(station, carryOver(station, change.what, change.expect))
  return (
    <>
      <Sentence strong>{changeWords(station, change)}</Sentence>
      <Rows>
        <Row label={LEVEL.setupSince}>{whenWords(change.utc)}</Row>
        {(change.expect ?? []).map(e => (
          <Row key={`${e.id} ${e.feed ?? ''}`} label={LEVEL.expected}>
            {unknownLabel(station, e.id)}: {expectWords(e)}
          </Row>
        ))}
      </Rows>
      <Text>{words.anew}</Text>
      <Text>{words.stays}</Text>
      {words.needed && <Text>{words.needed}</Text>}
    </>
  )
}
