/** What importing a field book would do, and the questions for the person. */
import { differences } from '../../core/records/differences.ts'
import type { AskedRecord, Digest, Named, TakenPart } from '../../core/records/digest.ts'
import type { FieldBook } from '../../core/records/fieldbook.ts'
import { type Ask, DELETION, type MergeSide } from '../../core/records/join.ts'
import { type Choices, choiceKey } from '../../core/records/plan.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { FaultList } from '../kit/FaultList.tsx'
import { countOf, fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { Row, Rows, Text } from '../kit/numbers.tsx'
import { partWords, pathWords, recordWords, valueWords } from '../kit/recordwords.ts'
import { mountOf } from './recordmount.ts'
import { IMPORT } from './words.ts'

interface PlanProps {
  digest: Digest
  choices: Choices
  onChoices: (choices: Choices) => void
}

export function PlanShown({ digest, choices, onChoices }: PlanProps) {
  const { book, conflicts, deletedHere, together } = digest
  const rows: [string, number, isAlways?: boolean][] = [
    [IMPORT.added, digest.added.count, true],
    [IMPORT.updated, digest.updated.count, true],
    [IMPORT.together, together.count],
    [IMPORT.removed, digest.removed.count],
    [IMPORT.same, digest.same, true],
    [IMPORT.noted, digest.noted],
    [IMPORT.older, digest.older],
    [IMPORT.conflicts, conflicts.count],
    [IMPORT.deletedHere, deletedHere.count],
  ]
  return (
    <>
      <h2>{IMPORT.would}</h2>
      <Rows>
        {rows.map(([label, count, isAlways]) =>
          count > 0 || isAlways ? (
            <Row key={label} label={label}>
              {fixed(count, 0)}
            </Row>
          ) : null,
        )}
      </Rows>
      <Which label={IMPORT.added} list={digest.added} book={book} />
      <Which label={IMPORT.updated} list={digest.updated} book={book} />
      <Which label={IMPORT.removed} list={digest.removed} book={book} />
      {together.count > 0 && (
        <section class="book-section">
          <h2>{IMPORT.together}</h2>
          <Text>{IMPORT.togetherWhy}</Text>
          <ul class="book-list">
            {together.named.map(record => (
              <li key={record.id}>
                {recordWords(record.kind, record.body, mountOf(record, book))}
                <TakenParts record={record} />
              </li>
            ))}
            <More list={together} />
          </ul>
        </section>
      )}
      {conflicts.count > 0 && <Questions digest={digest} choices={choices} onChoices={onChoices} />}
      {deletedHere.count > 0 && (
        <section class="book-section">
          <h2>{IMPORT.deletedHere}</h2>
          <Text>{IMPORT.deletedWhy}</Text>
          <RecordList list={deletedHere} book={book} />
          <Choice
            label={IMPORT.deletedHere}
            options={[
              { value: 'stay', word: IMPORT.stay },
              { value: 'back', word: IMPORT.back },
            ]}
            value={choices.deleted ?? 'stay'}
            onPick={deleted => onChoices({ ...choices, deleted })}
          />
        </section>
      )}
    </>
  )
}

function Questions({ digest, choices, onChoices }: PlanProps) {
  const { conflicts, why } = digest
  const left = conflicts.count - conflicts.named.length
  const all = (rest: MergeSide) => onChoices({ ...choices, sides: {}, rest })
  return (
    <section class="book-section">
      <h2>{IMPORT.conflicts}</h2>
      <Text>{IMPORT.conflictWhy}</Text>
      {why.length > 0 && (
        <>
          <Notice state="look-out">{IMPORT.unsound}</Notice>
          <FaultList faults={why.slice(0, 8)} />
        </>
      )}
      {(conflicts.count > 1 || conflicts.named.some(c => c.asks.length > 1)) && (
        <ButtonRow>
          <SecondaryButton onPress={() => all('mine')}>{IMPORT.allMine}</SecondaryButton>
          <SecondaryButton onPress={() => all('theirs')}>{IMPORT.allTheirs}</SecondaryButton>
        </ButtonRow>
      )}
      {conflicts.named.map(record => (
        <Asked
          key={record.id}
          record={record}
          sideOf={part => choices.sides[choiceKey(record.id, part)] ?? choices.rest ?? null}
          onSide={(part, side) =>
            onChoices({ ...choices, sides: { ...choices.sides, [choiceKey(record.id, part)]: side } })
          }
        />
      ))}
      {left > 0 && <Text>{IMPORT.restTogether(left)}</Text>}
    </section>
  )
}

interface Listed<T extends Named = Named> {
  count: number
  named: readonly T[]
}

function More({ list }: { list: Listed }) {
  const left = list.count - list.named.length
  return left > 0 ? <li>and {countOf(left, 'more', 'more')}</li> : null
}

function RecordList({ list, book }: { list: Listed; book: FieldBook }) {
  return (
    <ul class="book-list">
      {list.named.map(record => (
        <li key={record.id}>{recordWords(record.kind, record.body, mountOf(record, book))}</li>
      ))}
      <More list={list} />
    </ul>
  )
}

/** Names the records that a number counts. */
function Which({ label, list, book }: { label: string; list: Listed; book: FieldBook }) {
  if (list.count === 0) return null
  return (
    <HelpLine word={IMPORT.which(label)}>
      <RecordList list={list} book={book} />
    </HelpLine>
  )
}

function TakenParts({ record }: { record: Named & { taken: readonly TakenPart[] } }) {
  return (
    <>
      {record.taken.map(({ part, mine, theirs }) => (
        <i class="book-line" key={part}>
          {partWords(part, mountOf(record))}: {valueWords(mine)} → {valueWords(theirs)}
        </i>
      ))}
    </>
  )
}

interface AskedProps {
  record: AskedRecord
  sideOf: (part: string) => MergeSide | null
  onSide: (part: string, side: MergeSide) => void
}

function Asked({ record, sideOf, onSide }: AskedProps) {
  const words = recordWords(record.kind, record.body, mountOf(record))
  return (
    <div class="book-section">
      {record.asks.map(ask => (
        <Choice
          key={ask.part}
          label={ask.part === DELETION ? words : `${words}: ${partWords(ask.part, mountOf(record))}`}
          long
          options={[
            { value: 'mine', word: IMPORT.mine, note: <AskedValue record={record} ask={ask} side="mine" /> },
            { value: 'theirs', word: IMPORT.theirs, note: <AskedValue record={record} ask={ask} side="theirs" /> },
          ]}
          value={sideOf(ask.part)}
          onPick={side => onSide(ask.part, side)}
        />
      ))}
      {record.taken.length > 0 && record.asks.every(ask => ask.part !== DELETION) && (
        <div>
          <Text quiet>{IMPORT.takenToo}</Text>
          <TakenParts record={record} />
        </div>
      )}
    </div>
  )
}

/** Lines of a part: where it is more than one value, those that differ. */
const MOST_LINES = 8

function AskedValue({ record, ask, side }: { record: AskedRecord; ask: Ask; side: MergeSide }) {
  if (ask.part === DELETION) return <>{ask[side] === true ? IMPORT.gone(record.withIt) : IMPORT.kept(record.withIt)}</>
  const found = differences(ask.mine, ask.theirs)
  const which = side === 'mine' ? 'before' : 'after'
  const more = found.length - MOST_LINES
  return (
    <>
      {found.slice(0, MOST_LINES).map(difference => (
        <i class="book-line" key={difference.path}>
          {difference.path !== '' && `${pathWords(difference.path, mountOf(record))}: `}
          {valueWords(difference[which])}
        </i>
      ))}
      {more > 0 && <i class="book-line">and {countOf(more, 'more difference')}</i>}
    </>
  )
}
