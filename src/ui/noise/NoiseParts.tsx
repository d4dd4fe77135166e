/** What the screens of noise records share: their frame and the way back. */

import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { isNoiseStep } from '../../state/noise.ts'
import { Action, Second } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { notUndone } from '../kit/phrases.ts'
import { NOISE } from './words.ts'
import '../book/book.css'

export function NoiseFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="sight" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function NoiseGone({ station }: { station: StationRecord }) {
  return (
    <NoiseFrame
      station={station}
      title={NOISE.title}
      action={<Action onPress={() => go('sight', 'noise')}>{NOISE.back}</Action>}
    >
      <Sentence>{NOISE.gone}</Sentence>
    </NoiseFrame>
  )
}

/** The undo button, for as long as the last step was one of these screens. */
export function NoiseUndo() {
  const [not, setNot] = useState<string | null>(null)
  const last = fieldBook.undoable.value
  const undo = async () => setNot(notUndone(await fieldBook.undo(), NOISE.overtaken))
  return (
    <>
      {not !== null && (
        <Notice state="look-out" live="status">
          {not}
        </Notice>
      )}
      {last !== null && isNoiseStep(last) && <Second onPress={() => void undo()}>{NOISE.undo(last)}</Second>}
    </>
  )
}
