/** What could not be written stays on the screen until it is. */
import { fieldBook } from '../../state/book.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Notice } from '../kit/Notice.tsx'
import { failureWords, UNDO } from '../kit/phrases.ts'
import { undoStepWords } from '../kit/stepwords.ts'
import { FailureDetails, TryAgain } from '../kit/TryAgain.tsx'

export function NotKept() {
  const unsaved = fieldBook.unsaved.value
  const first = unsaved[0]
  if (!first) return null
  return (
    <Notice state="stop" live="alert">
      {failureWords(first.failure)}
      <ul class="book-list">
        {unsaved.map((one, i) => (
          <li key={i}>{undoStepWords(one.step)}</li>
        ))}
      </ul>
      <ButtonRow>
        <TryAgain />
        <SecondaryButton
          stop
          onPress={() => {
            for (const one of unsaved) fieldBook.discardUnsaved(one)
          }}
        >
          {UNDO.discard}
        </SecondaryButton>
      </ButtonRow>
      <FailureDetails />
    </Notice>
  )
}
