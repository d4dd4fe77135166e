/** What a field book that comes in would do, and the choices that it leaves to the person. */
import { differences } from '../../core/records/differences.ts'
import type { FieldBook } from '../../core/records/fieldbook.ts'
import type { Arrival, Conflict } from '../../core/records/merge.ts'
import type { Choices, Plan } from '../../state/bringin.ts'
import { Second, Seconds } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { countOf, fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Row, Rows, Text } from '../kit/numbers.tsx'
import { mountOf } from './recordmount.ts'
import { BRING, pathWords, recordWords, valueWords } from './words.ts'

/** So many are named in a list; the rest is counted. */
const MOST_NAMED = 12

interface PlanProps {
  plan: Plan
  choices: Choices
  onChoices: (choices: Choices) => void
}

export function PlanShown({ plan, choices, onChoices }: PlanProps) {
  const all = (side: 'mine' | 'theirs') =>
    onChoices({ ...choices, sides: Object.fromEntries(plan.conflicts.map(c => [c.id, side])) })
  return (
    <>
      <h2>{BRING.would}</h2>
      <Rows>
        <Row label={BRING.added}>{fixed(plan.added.length, 0)}</Row>
        <Row label={BRING.updated}>{fixed(plan.updated.length, 0)}</Row>
        <Row label={BRING.same}>{fixed(plan.same.length, 0)}</Row>
        {plan.older.length > 0 && <Row label={BRING.older}>{fixed(plan.older.length, 0)}</Row>}
        {plan.conflicts.length > 0 && <Row label={BRING.conflicts}>{fixed(plan.conflicts.length, 0)}</Row>}
        {plan.deletedHere.length > 0 && <Row label={BRING.deletedHere}>{fixed(plan.deletedHere.length, 0)}</Row>}
      </Rows>
      <Which label={BRING.added} arrivals={plan.added} book={plan.book} />
      <Which label={BRING.updated} arrivals={plan.updated} book={plan.book} />
      {plan.deletedHere.length > 0 && (
        <section class="book-section">
          <h2>{BRING.deletedHere}</h2>
          <Text>{BRING.deletedWhy}</Text>
          <RecordList records={plan.deletedHere.map(conflict => conflict.theirs)} book={plan.book} />
          <Choice
            label={BRING.deletedHere}
            options={[
              { value: 'stay', word: BRING.stay },
              { value: 'back', word: BRING.back },
            ]}
            value={choices.deleted}
            onPick={deleted => onChoices({ ...choices, deleted })}
          />
        </section>
      )}
      {plan.conflicts.length > 0 && (
        <section class="book-section">
          <h2>{BRING.conflicts}</h2>
          <Text>{BRING.conflictWhy}</Text>
          {plan.conflicts.length > 1 && (
            <Seconds>
              <Second onPress={() => all('mine')}>{BRING.allMine}</Second>
              <Second onPress={() => all('theirs')}>{BRING.allTheirs}</Second>
            </Seconds>
          )}
          {plan.conflicts.map(conflict => (
            <ConflictShown
              key={conflict.id}
              conflict={conflict}
              side={choices.sides[conflict.id] ?? null}
              onSide={side => onChoices({ ...choices, sides: { ...choices.sides, [conflict.id]: side } })}
            />
          ))}
        </section>
      )}
    </>
  )
}

type Named = Pick<Arrival, 'id' | 'kind' | 'body' | 'station'>

function RecordList({ records, book }: { records: readonly Named[]; book: FieldBook }) {
  return (
    <ul class="book-list">
      {records.slice(0, MOST_NAMED).map(record => (
        <li key={record.id}>{recordWords(record.kind, record.body, mountOf(record, book))}</li>
      ))}
      {records.length > MOST_NAMED && <li>and {countOf(records.length - MOST_NAMED, 'more', 'more')}</li>}
    </ul>
  )
}

/** Which records a number stands for. */
function Which({ label, arrivals, book }: { label: string; arrivals: readonly Named[]; book: FieldBook }) {
  if (arrivals.length === 0) return null
  return (
    <HelpLine word={BRING.which(label)}>
      <RecordList records={arrivals} book={book} />
    </HelpLine>
  )
}

interface ConflictProps {
  conflict: Conflict
  side: 'mine' | 'theirs' | null
  onSide: (side: 'mine' | 'theirs') => void
}

function ConflictShown({ conflict, side, onSide }: ConflictProps) {
  const { mine, theirs } = conflict
  const found = differences(mine.body, theirs.body, ['revision'])
  const shown = found.slice(0, 8)
  const more = found.length - shown.length
  const list = (which: 'before' | 'after') => (
    <>
      {shown.map(difference => (
        <i class="book-line" key={difference.path}>
          {pathWords(difference.path, mountOf(mine))}: {valueWords(difference[which])}
        </i>
      ))}
      {more > 0 && <i class="book-line">and {countOf(more, 'more difference')}</i>}
    </>
  )
  return (
    <div class="book-section">
      <Choice
        label={recordWords(mine.kind, mine.body, mountOf(mine))}
        long
        options={[
          { value: 'mine', word: BRING.mine, note: list('before') },
          { value: 'theirs', word: BRING.theirs, note: list('after') },
        ]}
        value={side}
        onPick={onSide}
      />
    </div>
  )
}
