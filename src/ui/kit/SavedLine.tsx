/** What became of the last act: kept, or not and why, with the way back for as long as there is one. */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { isOwnStep } from '../../state/sightings.ts'
import { SIGHT } from '../sight/words.ts'
import { Second, Seconds } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { failureWords, notUndone } from './phrases.ts'
import { FailureDetails, TryAgain } from './TryAgain.tsx'

/** What could not be written; it stays on the screen until it is written or let go. */
export function UnsavedNotice() {
  const waiting = fieldBook.unsaved.value
  const last = waiting.at(-1)
  if (!last) return null
  return (
    <Notice state="stop" word={`Not kept yet: ${last.what}`} live="alert">
      <p>{failureWords(last.failure)}</p>
      <Seconds>
        <TryAgain />
        <Second stop onPress={() => fieldBook.discardUnsaved(last)}>
          {SIGHT.letGo}
        </Second>
      </Seconds>
      <FailureDetails />
    </Notice>
  )
}

/** The undo button, for as long as the last act on a sighting can be taken back. */
export function UndoLine({ onUndone }: { onUndone?: () => void }) {
  const [not, setNot] = useState<string | null>(null)
  const last = fieldBook.undoable.value
  const what = last !== null && isOwnStep(last) ? last : null
  const undo = async () => {
    const undone = await fieldBook.undo()
    setNot(notUndone(undone, SIGHT.overtaken))
    if (undone.kind === 'done') onUndone?.()
  }
  if (what === null && not === null) return null
  return (
    <>
      {not !== null && (
        <Notice state="look-out" live="status">
          {not}
        </Notice>
      )}
      {what !== null && <Second onPress={() => void undo()}>{SIGHT.undo(what)}</Second>}
    </>
  )
}
