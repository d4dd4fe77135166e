/** The one undo: a button that names the last step, where that step belongs to what the screen shows. */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { SecondaryButton } from './buttons.tsx'
import { seenText } from './format.ts'
import { Notice } from './Notice.tsx'
import { notUndone, STEPS } from './phrases.ts'

interface Props {
  /** Whether the last step is one of this screen's subject; every step unless given. */
  of?: (what: string) => boolean
  onUndone?: (what: string) => void
  /** Says when it is done: where nothing else on the screen shows it. */
  says?: boolean
}

export function UndoButton({ of = () => true, onUndone, says = false }: Props) {
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
      {last !== null && of(last) && (
        <SecondaryButton onPress={() => void undo()}>{STEPS.undo(seenText(last))}</SecondaryButton>
      )}
      {says && <p role="status">{undone?.kind === 'done' ? STEPS.undone : null}</p>}
    </>
  )
}
