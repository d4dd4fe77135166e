/**
 * The one undo: a strip that names the last step and undoes it, and names the step undone last and redoes it.
 * A screen shows it for its own subject alone. Undo stands left and redo right, whichever of them is there.
 */
import { useRef, useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { isStepOf, type StepPlace, type UndoStep } from '../../state/steps.ts'
import type { StepAt } from '../../state/undosteps.ts'
import { isSecondTap } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { notUndone, UNDO } from './phrases.ts'
import { undoStepWords } from './stepwords.ts'

interface Props {
  /** Only steps of this place, at the station that is shown; every step of the book unless given. */
  of?: StepPlace
  /** Only steps on these records: those that the screen shows. */
  ids?: readonly (string | undefined)[]
  onUndone?: (step: UndoStep) => void
  /** Says when it is done: where nothing else on the screen shows it. */
  says?: boolean
}

/** The step, where it is of what the screen shows. */
function shownHere(at: StepAt | null, { of, ids }: Props): UndoStep | null {
  if (at === null || of === undefined) return at?.step ?? null
  const isHere = of === 'book' || at.stations.includes(fieldBook.stationId.value ?? '')
  return isHere && isStepOf(at.step, of, ids) ? at.step : null
}

export function UndoStrip(p: Props) {
  const [said, setSaid] = useState<{
    way: 'undo' | 'redo'
    outcome: Awaited<ReturnType<typeof fieldBook.undo>>
  } | null>(null)
  const busy = useRef(false)
  const last = shownHere(fieldBook.undoAt.value, p)
  const again = shownHere(fieldBook.redoAt.value, p)
  const press = async (way: 'undo' | 'redo', event: MouseEvent) => {
    if (busy.current || isSecondTap(event)) return
    busy.current = true
    try {
      const outcome = await fieldBook[way]()
      setSaid({ way, outcome })
      if (way === 'undo' && outcome.kind === 'done' && last !== null) p.onUndone?.(last)
    } finally {
      busy.current = false
    }
  }
  const why = said && notUndone(said.outcome, UNDO.overtaken)
  return (
    <>
      {why && (
        <Notice state="look-out" live="status">
          {why}
        </Notice>
      )}
      {(last !== null || again !== null) && (
        <section class="undo-strip" aria-label="Undo and redo">
          {last !== null && (
            <button type="button" class="second" onClick={event => void press('undo', event)}>
              {UNDO.undo(undoStepWords(last))}
            </button>
          )}
          {again !== null && (
            <button type="button" class="second undo-again" onClick={event => void press('redo', event)}>
              {UNDO.redo(undoStepWords(again))}
            </button>
          )}
        </section>
      )}
      {p.says && <p role="status">{said?.outcome.kind === 'done' ? UNDO.done[said.way] : null}</p>}
    </>
  )
}
