/** A field book comes in: checked, shown, chosen, and then stored whole in one transaction. */
import { useEffect, useState } from 'preact/hooks'
import type { Fault } from '../../core/records/answer.ts'
import { LARGEST_FILE } from '../../core/records/intake.ts'
import { fieldBook } from '../../state/book.ts'
import { arrivalsFor, bringIn, type Choices, lookAt, openChoices, type Plan } from '../../state/bringin.ts'
import { demoText } from '../../state/demo.ts'
import { compareBackup } from '../../state/handout.ts'
import { installState } from '../../state/readiness.ts'
import { UndoButton } from '../kit/BookNotKept.tsx'
import { Action, Second } from '../kit/buttons.tsx'
import { FileField } from '../kit/FileField.tsx'
import { TextField } from '../kit/fields.tsx'
import { countOf, fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { forget, useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { failureWords } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { FailureDetails, TryAgain } from '../kit/TryAgain.tsx'
import { NOW } from '../now/words.ts'
import { FaultList } from './BookFaults.tsx'
import { PlanShown } from './BookPlan.tsx'
import { BOOK, BRING } from './words.ts'

/** In place of a copy's key: the demo station, as it was at first. */
const DEMO_KEY = 'demo'

const FORM = 'bring'
const NO_CHOICES: Choices = { sides: {}, deleted: null }

type Stage =
  | { kind: 'asking'; why: string | null }
  | { kind: 'refused'; faults: readonly Fault[] }
  | { kind: 'plan'; plan: Plan; choices: Choices; faults: readonly Fault[] }
  | { kind: 'done'; count: number }

/** @param copyKey  a kept copy to bring back, in place of a file */
export function BookBring({ copyKey }: { copyKey: string | undefined }) {
  const [{ text }, setForm] = useKept(FORM, () => ({ text: '' }))
  const setText = (typed: string) => setForm({ text: typed })
  const [stage, setStage] = useState<Stage>({ kind: 'asking', why: null })
  const [busy, setBusy] = useState(false)

  const look = (given: string, choices: Choices = NO_CHOICES) => {
    void compareBackup(given) // a backup that comes back in has arrived
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
      forget(FORM)
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
          {installState() === 'ios-tab' && <Notice state="stop">{BRING.installFirst}</Notice>}
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
