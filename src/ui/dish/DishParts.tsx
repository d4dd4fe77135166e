/** What the screens of "Measure the dish" share: their frame and the way into the book. */

import type { DishMeasuresRecord } from '../../core/records/dishmeasure.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { SeenFrom } from '../../core/tape/rim.ts'
import { applyDish } from '../../state/dish.ts'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { backToStep } from '../kit/guided.ts'
import { KeepAction, type Keeping, Refused, useKeep } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { DISH_TAPE } from './words.ts'

export function DishFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="book" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function SideChoice({ value, onPick }: { value: SeenFrom | ''; onPick: (side: SeenFrom) => void }) {
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

const toDish = () => go('book', 'dish')

/** Applies what was taped; once it is on the medium, the dish's own screen follows and the kept form is dropped. */
export function useApplying(station: StationRecord, form: string) {
  const keeping = useKeep([form])
  const apply = (
    measures: DishMeasuresRecord,
    feeds: 'all' | readonly string[],
    step: Parameters<typeof applyDish>[3],
  ) => keeping.keep(() => applyDish(station, measures, feeds, step), backToStep(toDish))
  return { apply, keeping }
}

/** Under a form: what the book refuses, and what could not be written. */
export function ApplyNotes({ keeping }: { keeping: Keeping }) {
  return (
    <>
      <Refused why={keeping.refused} />
      <UnsavedNotice />
    </>
  )
}

export const ApplyAction = (p: { keeping: Keeping; notNow: string | null; onApply: () => void }) => (
  <KeepAction keeping={p.keeping} word={DISH_TAPE.apply} notNow={p.notNow} onKeep={p.onApply} otherwise={toDish} />
)
