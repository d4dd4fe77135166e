/** What the screens of noise records share: their frame and the way back. */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { isNoiseStep } from '../../state/noise.ts'
import { go } from '../navigation.ts'
import { Action, Second } from '../parts/buttons.tsx'
import { DemoMark } from '../parts/DemoMark.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Sentence } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { NOISE } from '../words/noise.ts'
import './book.css'

export function NoiseFrame(p: {
  station: StationRecord
  title: string
  children: ComponentChildren
  side?: ComponentChildren
  action?: ComponentChildren
}) {
  return (
    <Screen
      title={p.title}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      {...(p.side !== undefined && { side: p.side })}
      {...(p.action !== undefined && { action: p.action })}
    >
      <DemoMark station={p.station} />
      {p.children}
    </Screen>
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
  const [overtaken, setOvertaken] = useState(false)
  const last = fieldBook.undoable.value
  const undo = async () => setOvertaken((await fieldBook.undo()).kind === 'overtaken')
  return (
    <>
      {overtaken && (
        <Notice state="look-out" live="status">
          {NOISE.overtaken}
        </Notice>
      )}
      {last !== null && isNoiseStep(last) && <Second onPress={() => void undo()}>{NOISE.undo(last)}</Second>}
    </>
  )
}
