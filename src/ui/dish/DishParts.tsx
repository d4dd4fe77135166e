/** What the screens of "Measure the dish" share: their frame and the way into the book. */
import { useState } from 'preact/hooks'
import type { DishMeasuresRecord } from '../../core/records/dishmeasure.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { applyDish } from '../../state/dish.ts'
import { Action } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { forget } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { DISH_TAPE } from './words.ts'

export type Seen = 'behind' | 'front'

export function DishFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="book" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function Side({ value, onPick }: { value: Seen | ''; onPick: (side: Seen) => void }) {
  return (
    <Choice
      label={DISH_TAPE.side}
      value={value === '' ? null : value}
      options={[
        { value: 'front', word: DISH_TAPE.front },
        { value: 'behind', word: DISH_TAPE.behind },
      ]}
      onPick={onPick}
      hint={DISH_TAPE.sideNote}
    />
  )
}

/** Applies what was taped; on the medium, the dish's own screen follows and the kept form is let go. */
export function useApplying(station: StationRecord, form: string) {
  const [refused, setRefused] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const apply = async (measures: DishMeasuresRecord, feeds: 'all' | readonly string[], what: string) => {
    if (busy) return
    setBusy(true)
    const done = await applyDish(station, measures, feeds, what)
    setBusy(false)
    setRefused(done.kind === 'refused' ? done.faults.map(f => f.rule).join('. ') : null)
    if (done.kind !== 'kept') return
    forget(form)
    go('book', 'dish')
  }
  return { apply, refused }
}

/** Under a form: what the book refuses, and what could not be written. */
export function ApplyNotes({ refused }: { refused: string | null }) {
  return (
    <>
      {refused !== null && (
        <Notice state="stop" live="alert">
          {refused}
        </Notice>
      )}
      <UnsavedNotice />
    </>
  )
}

/** What waits to be written comes first, so that nothing is written twice. */
export function ApplyAction({ notNow, onApply }: { notNow: string | null; onApply: () => void }) {
  const waiting = fieldBook.unsaved.value.length > 0
  const again = async () => {
    if ((await fieldBook.retryUnsaved()).kind === 'done') go('book', 'dish')
  }
  return (
    <Action notNow={waiting ? null : notNow} onPress={() => (waiting ? void again() : onApply())}>
      {waiting ? 'Try again' : DISH_TAPE.apply}
    </Action>
  )
}
