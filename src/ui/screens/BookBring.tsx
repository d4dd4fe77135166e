/** A field book comes in: checked, shown, chosen, and then stored whole in one transaction. */
import { useEffect, useState } from 'preact/hooks'
import { type Fault, lineFromFault } from '../../core/records/answer.ts'
import { differences } from '../../core/records/differences.ts'
import type { FieldBook } from '../../core/records/fieldbook.ts'
import { LARGEST_FILE } from '../../core/records/intake.ts'
import type { Arrival, Conflict } from '../../core/records/merge.ts'
import { fieldBook } from '../../state/book.ts'
import { arrivalsFor, bringIn, type Choices, lookAt, openChoices, type Plan } from '../../state/bringin.ts'
import { demoText } from '../../state/demo.ts'
import { countOf, fixed } from '../format.ts'
import { go } from '../navigation.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { TextField } from '../parts/fields.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Row, Rows, Sentence, Text } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { BOOK, BRING, pathWords, recordWords, valueWords } from '../words/book.ts'
import { failureWords } from '../words/common.ts'
import { NOW } from '../words/now.ts'
import { UndoButton } from './BookHome.tsx'
import { mountOf } from './recordmount.ts'
import { FailureDetails, TryAgain } from './TryAgain.tsx'

/** So many are named in a list; the rest is counted. */
const MOST_NAMED = 12

/** In place of a copy's key: the demo station, as it was at first. */
const DEMO_KEY = 'demo'

const NO_CHOICES: Choices = { sides: {}, deleted: null }

type Stage =
  | { kind: 'asking'; why: string | null }
  | { kind: 'refused'; faults: readonly Fault[] }
  | { kind: 'plan'; plan: Plan; choices: Choices; faults: readonly Fault[] }
  | { kind: 'done'; count: number }

/** @param copyKey  a kept copy to bring back, in place of a file */
export function BookBring({ copyKey }: { copyKey: string | undefined }) {
  const [text, setText] = useState('')
  const [stage, setStage] = useState<Stage>({ kind: 'asking', why: null })
  const [busy, setBusy] = useState(false)

  const look = (given: string, choices: Choices = NO_CHOICES) => {
    const looked = lookAt(fieldBook.records.value, given)
    setStage(looked.kind === 'refused' ? looked : { kind: 'plan', plan: looked.plan, choices, faults: [] })
  }
  useEffect(() => {
    if (copyKey === undefined) return
    if (copyKey === DEMO_KEY) {
      void demoText().then(demo =>
        demo === null ? setStage({ kind: 'asking', why: NOW.demoFailed }) : look(demo, NO_CHOICES),
      )
      return
    }
    void fieldBook.keptCopies().then(kept => {
      const copy = kept.kind === 'done' ? kept.value.find(one => String(one.key) === copyKey) : undefined
      if (copy) look(copy.text, { sides: {}, deleted: 'back' })
    })
  }, [copyKey])

  const takeFile = async (file: File) => {
    if (file.size > LARGEST_FILE) {
      setStage({ kind: 'asking', why: BRING.tooLarge(fixed(file.size / 1e6, 1)) })
      return
    }
    try {
      look(new TextDecoder('utf-8', { fatal: true }).decode(await file.arrayBuffer()))
    } catch {
      setStage({ kind: 'asking', why: BRING.unreadable })
    }
  }
  const carryOut = async (plan: Plan, choices: Choices) => {
    setBusy(true)
    const arrivals = arrivalsFor(plan, choices).length
    const outcome = await bringIn(plan, choices, `bring in ${countOf(arrivals, 'record')}`)
    setBusy(false)
    if (outcome.kind === 'done') {
      const first = plan.book.stations[0]
      if (first && fieldBook.stations.value.some(s => s.id === first.id)) fieldBook.chooseStation(first.id)
      setStage({ kind: 'done', count: outcome.count })
    } else if (outcome.kind === 'illegal') setStage({ kind: 'plan', plan, choices, faults: outcome.faults })
    else if (outcome.kind === 'changed') setStage({ kind: 'plan', plan: outcome.plan, choices, faults: [] })
  }

  const again = () => setStage({ kind: 'asking', why: null })
  const failed = fieldBook.unsaved.value[0]
  switch (stage.kind) {
    case 'asking':
      return (
        <Screen
          title={BRING.title}
          present="book"
          onGo={id => go(id)}
          action={
            <Action onPress={() => look(text)} notNow={text.trim() === '' ? BRING.empty : null}>
              {BRING.check}
            </Action>
          }
        >
          <Text>{BRING.how}</Text>
          {stage.why && (
            <Notice state="stop" live="alert">
              {stage.why}
            </Notice>
          )}
          <FileField onFile={file => void takeFile(file)} />
          <TextField label={BRING.paste} text={text} onText={setText} long />
          <HelpLine>{BRING.help}</HelpLine>
        </Screen>
      )
    case 'refused':
      return (
        <Screen
          title={BRING.title}
          present="book"
          onGo={id => go(id)}
          action={<Action onPress={again}>{BRING.again}</Action>}
        >
          <Notice state="stop" live="alert">
            {BRING.refused(stage.faults.length)}
          </Notice>
          <FaultList faults={stage.faults} />
        </Screen>
      )
    case 'done':
      return (
        <Screen
          title={BRING.title}
          present="book"
          onGo={id => go(id)}
          action={<Action onPress={() => go('book')}>{BRING.see}</Action>}
        >
          <Notice state="good" live="status">
            {BRING.done(stage.count)}
          </Notice>
          <UndoButton />
        </Screen>
      )
    case 'plan': {
      const { plan, choices } = stage
      const open = openChoices(plan, choices)
      const count = arrivalsFor(plan, choices).length
      const nothing = open === 0 && count === 0
      return (
        <Screen
          title={BRING.title}
          present="book"
          onGo={id => go(id)}
          action={
            nothing ? (
              <Action onPress={() => go('book')}>{BRING.see}</Action>
            ) : (
              <Action
                onPress={() => void carryOut(plan, choices)}
                notNow={open > 0 ? BRING.chooseFirst(open) : busy ? '…' : null}
              >
                {BRING.act(count)}
              </Action>
            )
          }
        >
          {failed && (
            <Notice state="stop" live="alert">
              {failureWords(failed.failure)}
              <TryAgain onKept={() => setStage({ kind: 'done', count })} />
              <FailureDetails />
            </Notice>
          )}
          {stage.faults.length > 0 && (
            <>
              <Notice state="stop" live="alert">
                {BRING.illegal}
              </Notice>
              <FaultList faults={stage.faults} />
            </>
          )}
          {copyKey === DEMO_KEY && <Text>{BOOK.demoAltered}</Text>}
          {nothing && <Sentence strong>{BRING.nothing}</Sentence>}
          <PlanShown
            plan={plan}
            choices={choices}
            onChoices={next => setStage({ ...stage, choices: next, faults: [] })}
          />
          <Second onPress={again}>{BRING.again}</Second>
        </Screen>
      )
    }
  }
}

/** Any file: phones know no ending for a field book. */
function FileField({ onFile }: { onFile: (file: File) => void }) {
  return (
    <div class="field">
      <label class="book-file">
        <span>{BRING.file}</span>
        <input
          type="file"
          onChange={event => {
            const file = event.currentTarget.files?.[0]
            event.currentTarget.value = '' // the same file again is a new choice
            if (file) onFile(file)
          }}
        />
      </label>
      <p class="field-hint">{BRING.fileHint}</p>
    </div>
  )
}

export function FaultList({ faults }: { faults: readonly Fault[] }) {
  return (
    <ul class="book-list">
      {faults.map(fault => (
        <li key={`${fault.path} ${fault.rule}`}>{lineFromFault(fault)}</li>
      ))}
    </ul>
  )
}

interface PlanProps {
  plan: Plan
  choices: Choices
  onChoices: (choices: Choices) => void
}

function PlanShown({ plan, choices, onChoices }: PlanProps) {
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
