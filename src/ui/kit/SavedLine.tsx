/** What could not be written: it stays on the screen until it is written or discarded. */
import { fieldBook } from '../../state/book.ts'
import { ButtonRow, SecondaryButton } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { failureWords, UNDO } from './phrases.ts'
import { undoStepWords } from './stepwords.ts'
import { FailureDetails, TryAgain } from './TryAgain.tsx'

export function UnsavedNotice() {
  const waiting = fieldBook.unsaved.value
  const last = waiting.at(-1)
  if (!last) return null
  return (
    <Notice state="stop" word={`Not kept yet: ${undoStepWords(last.step)}`} live="alert">
      <p>{failureWords(last.failure)}</p>
      <ButtonRow>
        <TryAgain />
        <SecondaryButton stop onPress={() => fieldBook.discardUnsaved(last)}>
          {UNDO.letGo}
        </SecondaryButton>
      </ButtonRow>
      <FailureDetails />
    </Notice>
  )
}

export const isUnsaved = (id: string): boolean =>
  fieldBook.unsaved.value.some(u => u.drafts.some(d => (d.body as { id?: unknown } | null)?.id === id))
