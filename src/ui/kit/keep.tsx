/**
 * How a form gets into the book: its record is kept, what was typed is dropped, and the next screen follows, if the person
 * is still on the form. A record that waits to be written is followed: as soon as it is on the medium the form is done.
 */
import { useEffect, useRef, useState } from 'preact/hooks'
import { fieldBook, type Kept } from '../../state/book.ts'
import { Action } from './buttons.tsx'
import { forget } from './keptany.ts'
import { Notice } from './Notice.tsx'
import { isUnsaved } from './SavedLine.tsx'
import { FAILURE } from './storewords.ts'

export interface Keeping {
  /** What the rules of the book have against it; null: nothing. */
  refused: string | null
  busy: boolean
  /**
   * @param write  the act; not begun while another is under way
   * @param after  where to go, once it is on the medium; not done if the person has left the screen meanwhile
   */
  keep(write: () => Promise<Kept<unknown>>, after?: () => void): Promise<void>
  /** Writes what waits. @param after  as above, where nothing of this form's own waits */
  again(after: () => void): Promise<void>
}

interface Waiting {
  after: () => void
  where: string
}

/** Where the person is: a screen has an address, and a form that is left has another one before it. */
const whereNow = (): string => location.hash

/** Does it if the person is still there. */
export function ifStillHere(where: string, act: () => void): void {
  if (whereNow() === where) act()
}

/**
 * @param forms  the names that the form is kept under: dropped when its record is on the medium
 * @param id     the record's own, by which one that waits to be written is known; null: it is not followed
 */
export function useKeep(forms: readonly string[] = [], id: string | null = null): Keeping {
  const [refused, setRefused] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const isBusy = useRef(false)
  const [waiting, setWaiting] = useState<Waiting | null>(null)
  const done = ({ where, after }: Waiting) => {
    for (const form of forms) forget(form)
    ifStillHere(where, after)
  }
  const saving = fieldBook.saving.value.kind
  const waits = id !== null && isUnsaved(id)
  useEffect(() => {
    if (waiting === null || waits) return
    if (saving === 'saved') {
      setWaiting(null)
      done(waiting)
    } else if (saving === 'idle') setWaiting(null) // let go
  })
  return {
    refused,
    busy,
    async keep(write, after = () => {}) {
      // Two presses within one frame: the state of the first is not drawn yet.
      if (isBusy.current) return
      isBusy.current = true
      setBusy(true)
      const here = { after, where: whereNow() }
      try {
        const kept = await write()
        setRefused(refusedBy(kept))
        if (kept.kind === 'done') done(here)
        else if (id !== null && kept.kind !== 'refused' && kept.kind !== 'overtaken') setWaiting(here)
      } finally {
        isBusy.current = false
        setBusy(false)
      }
    },
    async again(after) {
      const where = whereNow()
      const kept = await fieldBook.retryUnsaved()
      if (kept.kind === 'done' && waiting === null) ifStillHere(where, after)
    },
  }
}

/** What the rules of the book have against it; null: nothing. */
export const refusedBy = (kept: Kept<unknown>): string | null => (kept.kind === 'refused' ? kept.message : null)

export const Refused = ({ why }: { why: string | null }) =>
  why === null ? null : (
    <Notice state="stop" live="alert">
      {why}
    </Notice>
  )

interface KeepActionProps {
  keeping: Keeping
  word: string
  notNow: string | null
  onKeep: () => void
  /** Where to go when what waited is written and was not this form's. */
  otherwise: () => void
}

/** The action of a form; what waits to be written comes first, so that nothing is written twice. */
export function KeepAction({ keeping, word, notNow, onKeep, otherwise }: KeepActionProps) {
  const waiting = fieldBook.unsaved.value.length > 0
  return (
    <Action notNow={waiting ? null : notNow} onPress={() => (waiting ? void keeping.again(otherwise) : onKeep())}>
      {waiting ? FAILURE.retry : word}
    </Action>
  )
}
