/** The one undo: a button that names the last step, where that step belongs to what the screen shows. */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { isStepOf, type Step, type StepPlace } from '../../state/steps.ts'
import { SecondaryButton } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { notUndone, STEPS } from './phrases.ts'
import { stepWords } from './stepwords.ts'

interface Props {
  /** Only steps of this place; every step unless given. */
  of?: StepPlace
  onUndone?: (step: Step) => void
  /** Says when it is done: where nothing else on the screen shows it. */
  says?: boolean
}

export function UndoButton({ of, onUndone, says = false }: Props) {
  const [undone, setUndone] = useState<Awaited<ReturnType<typeof fieldBook.undo>> | null>(null)
  const last = fieldBook.undoable.value
  const undo = async () => {
    const outcome = await fieldBook.undo()
    setUndone(outcome)
    if (outcome.kind === 'done' && last !== null) onUndone?.(last)
  }
  const why = undone && notUndone(undone, STEPS.overtaken)
  return (
    <>
      {why && (
        <Notice state="look-out" live="status">
          {why}
        </Notice>
      )}
      {last !== null && (of === undefined || isStepOf(last, of)) && (
        <SecondaryButton onPress={() => void undo()}>{STEPS.undo(stepWords(last))}</SecondaryButton>
      )}
      {says && <p role="status">{undone?.kind === 'done' ? STEPS.undone : null}</p>}
    </>
  )
}
