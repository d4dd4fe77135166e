/** The guided alignment, under Now: the list of its steps, one step, one left out. */
import { fieldBook } from '../../state/book.ts'
import { AlignHome } from '../align/AlignHome.tsx'
import { AlignLeave } from '../align/AlignLeave.tsx'
import { AlignStep } from '../align/AlignStep.tsx'
import { isStepId, WayBack } from '../align/WayBack.tsx'
import { ALIGN } from '../align/words.ts'
import { Action } from '../kit/buttons.tsx'
import { LookAround } from '../kit/LookAround.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { wayBack } from '../kit/Screen.tsx'
import { WAYS } from '../kit/ways.ts'
import '../align/align.css'

// Loading this room gives the other screens their way back to it.
wayBack.value = WayBack

export function AlignPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [step, what] = parts
  if (station === null) {
    return (
      <PlaceFrame
        present="now"
        title={ALIGN.title}
        action={<Action onPress={() => go('book', 'new')}>{WAYS.setUp}</Action>}
      >
        <Sentence>{ALIGN.noStation}</Sentence>
        <LookAround />
      </PlaceFrame>
    )
  }
  if (!isStepId(step)) return <AlignHome station={station} />
  const key = `${station.id}/${step}`
  return what === 'leave' ? (
    <AlignLeave key={key} station={station} id={step} />
  ) : (
    <AlignStep key={key} station={station} id={step} />
  )
}
