/** Import of a field book: checked, shown, chosen, and then stored whole in one transaction. Anything slow can be stopped. */
import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Fault } from '../../core/records/answer.ts'
import { type Digest, openQuestions, writes } from '../../core/records/digest.ts'
import { arrived } from '../../state/arrived.ts'
import { fieldBook } from '../../state/book.ts'
import { demoText } from '../../state/demo.ts'
import { compareBackup } from '../../state/export.ts'
import { type BookImporting, type Choices, createImport, type Looked, type TellStage } from '../../state/import.ts'
import { installState } from '../../state/readiness.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { FaultList } from '../kit/FaultList.tsx'
import { FileField } from '../kit/FileField.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { forget, useKept } from '../kit/keptany.ts'
import { LONGEST_SHOWN, LongTextField } from '../kit/LongTextField.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { failureWords } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { FailureDetails, TryAgain } from '../kit/TryAgain.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
import { PlanShown } from './BookPlan.tsx'
import { ImportProgress, type Progress } from './ImportProgress.tsx'
import { BOOK, IMPORT } from './words.ts'

/** In place of a copy's key: the demo station, as it was at first. */
const DEMO_KEY = 'demo'

/** What another phone's codes brought. */
const CODES_KEY = 'codes'

const FORM = 'import'
const NO_CHOICES: Choices = { sides: {}, deleted: null }

type Stage =
  | { kind: 'asking'; why: string | null }
  | { kind: 'busy'; progress: Progress }
  | { kind: 'refused'; faults: readonly Fault[] }
  | { kind: 'plan'; digest: Digest; choices: Choices; faults: readonly Fault[] }
  | { kind: 'done'; count: number }

/** @param copyKey  a kept copy to restore, in place of a file */
export function BookImport({ copyKey }: { copyKey: string | undefined }) {
  const [form, setForm] = useKept(FORM, () => ({ text: '' }))
  /** A text too long to be kept letter by letter. */
  const [long, setLong] = useState('')
  const text = long || form.text
  const setText = (typed: string) => {
    const isLong = typed.length > LONGEST_SHOWN
    setLong(isLong ? typed : '')
    setForm({ text: isLong ? '' : typed })
  }
  const [stage, setStage] = useState<Stage>({ kind: 'asking', why: null })
  const work = useRef<BookImporting | null>(null)
  work.current ??= createImport()
  const importing = work.current
  useEffect(() => () => importing.leave(), [importing])

  const tell: TellStage = (part, share) => setStage({ kind: 'busy', progress: { part, share } })
  const shown = (looked: Looked, choices: Choices): Stage => {
    switch (looked.kind) {
      case 'plan':
        return { kind: 'plan', digest: looked.digest, choices, faults: [] }
      case 'refused':
        return looked
      case 'unreadable':
        return { kind: 'asking', why: IMPORT.unreadable }
      case 'stopped':
        return { kind: 'asking', why: IMPORT.stopped }
      case 'failed':
        return { kind: 'asking', why: IMPORT.failed(looked.message) }
    }
  }
  const look = async (source: Blob | string, choices: Choices = NO_CHOICES) => {
    tell('read', 0)
    compareBackup(source).catch(() => {}) // a backup that is imported again has arrived
    setStage(shown(await importing.look(source, tell), choices))
  }
  useEffect(() => {
    if (copyKey === undefined) return
    if (copyKey === DEMO_KEY) {
      void demoText().then(demo => {
        if (demo === null) setStage({ kind: 'asking', why: WAYS.demoFailed })
        else void look(demo)
      })
      return
    }
    if (copyKey === CODES_KEY) {
      if (arrived.value) void look(arrived.value.text)
      else setStage({ kind: 'asking', why: IMPORT.codesGone })
      return
    }
    void fieldBook.keptCopies().then(kept => {
      const copy = kept.kind === 'done' ? kept.value.find(one => String(one.key) === copyKey) : undefined
      if (copy) void look(copy.text, { sides: {}, deleted: 'back' })
    })
  }, [copyKey])

  const carryOut = async (digest: Digest, choices: Choices) => {
    const count = writes(digest, choices)
    tell('write', 0)
    const outcome = await importing.carryOut(choices, count, tell)
    switch (outcome.kind) {
      case 'done': {
        const first = digest.book.stations[0]
        if (first && fieldBook.stations.value.some(s => s.id === first.id)) fieldBook.chooseStation(first.id)
        forget(FORM)
        setStage({ kind: 'done', count: outcome.count })
        break
      }
      case 'illegal':
        setStage({ kind: 'plan', digest: outcome.digest, choices, faults: outcome.faults })
        break
      case 'changed':
        setStage(shown(outcome.looked, choices))
        break
      case 'unsaved':
        setStage({ kind: 'plan', digest, choices, faults: [] })
        break
      default:
        setStage(shown(outcome, choices))
    }
  }

  const again = () => {
    importing.stop()
    setStage({ kind: 'asking', why: null })
  }
  const failed = fieldBook.unsaved.value[0]
  switch (stage.kind) {
    case 'asking':
      return (
        <ImportFrame
          action={
            <Action onPress={() => void look(text)} notNow={text.trim() === '' ? IMPORT.empty : null}>
              {IMPORT.check}
            </Action>
          }
        >
          {installState() === 'ios-tab' && <Notice state="stop">{IMPORT.installFirst}</Notice>}
          <Text>{IMPORT.how}</Text>
          {stage.why && (
            <Notice state="stop" live="alert">
              {stage.why}
            </Notice>
          )}
          <FileField onFile={file => void look(file)} />
          <RowButton label={IMPORT.byCamera} onPress={() => go('book', 'read')} />
          <LongTextField label={IMPORT.paste} text={text} onText={setText} />
          <HelpLine>{IMPORT.help}</HelpLine>
        </ImportFrame>
      )
    case 'busy':
      return (
        <ImportFrame action={<Action onPress={() => importing.stop()}>{IMPORT.stop}</Action>}>
          <ImportProgress progress={stage.progress} />
        </ImportFrame>
      )
    case 'refused':
      return (
        <ImportFrame action={<Action onPress={again}>{IMPORT.again}</Action>}>
          <Notice state="stop" live="alert">
            {IMPORT.refused(stage.faults.length)}
          </Notice>
          <FaultList faults={stage.faults} />
        </ImportFrame>
      )
    case 'done':
      return (
        <ImportFrame action={<Action onPress={() => go('book')}>{IMPORT.see}</Action>}>
          <Notice state="good" live="status">
            {IMPORT.done(stage.count)}
          </Notice>
          <UndoStrip of="book" says />
        </ImportFrame>
      )
    case 'plan': {
      const { digest, choices } = stage
      const open = openQuestions(digest, choices)
      const count = writes(digest, choices)
      const nothing = open === 0 && count === 0
      return (
        <ImportFrame
          action={
            nothing ? (
              <Action onPress={() => go('book')}>{IMPORT.see}</Action>
            ) : (
              <Action
                onPress={() => void carryOut(digest, choices)}
                notNow={open > 0 ? IMPORT.chooseFirst(open) : null}
              >
                {IMPORT.act(count)}
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
                {IMPORT.illegal}
              </Notice>
              <FaultList faults={stage.faults} />
            </>
          )}
          {copyKey === DEMO_KEY && <Text>{BOOK.demoAltered}</Text>}
          {nothing && <Sentence strong>{IMPORT.nothing}</Sentence>}
          <PlanShown
            digest={digest}
            choices={choices}
            onChoices={next => setStage({ ...stage, choices: next, faults: [] })}
          />
          <SecondaryButton onPress={again}>{IMPORT.again}</SecondaryButton>
        </ImportFrame>
      )
    }
  }
}

const ImportFrame = (p: { action: ComponentChildren; children: ComponentChildren }) => (
  <Screen title={IMPORT.title} present="book" onGo={id => go(id)} {...p} />
)
