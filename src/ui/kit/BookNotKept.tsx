/** What could not be written, and one step back at a time. */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { BOOK } from '../book/words.ts'
import { Second, Seconds } from './buttons.tsx'
import { seenText } from './format.ts'
import { Notice } from './Notice.tsx'
import { failureWords, notUndone } from './phrases.ts'
import { FailureDetails, TryAgain } from './TryAgain.tsx'

/** What could not be written stays here until it is. */
export function NotKept() {
  const unsaved = fieldBook.unsaved.value
  const first = unsaved[0]
  if (!first) return null
  return (
    <Notice state="stop" live="alert">
      {failureWords(first.failure)}
      <ul class="book-list">
        {unsaved.map((one, i) => (
          <li key={i}>{seenText(one.what)}</li>
        ))}
      </ul>
      <Seconds>
        <TryAgain />
        <Second
          stop
          onPress={() => {
            for (const one of unsaved) fieldBook.discardUnsaved(one)
          }}
        >
          {BOOK.discard}
        </Second>
      </Seconds>
      <FailureDetails />
    </Notice>
  )
}

/** One step back at a time. */
export function UndoButton() {
  const [said, setSaid] = useState<string | null>(null)
  const what = fieldBook.undoable.value
  const undo = async () => {
    const outcome = await fieldBook.undo()
    setSaid(outcome.kind === 'done' ? BOOK.undone : notUndone(outcome, BOOK.overtaken))
  }
  return (
    <>
      {what !== null && <Second onPress={() => void undo()}>{BOOK.undo(seenText(what))}</Second>}
      <p role="status">{said}</p>
    </>
  )
}
