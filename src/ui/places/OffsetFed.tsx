/** In place of what needs a prime-focus dish: why it is off with an offset feed, and what does the job instead. */
import { Action } from '../kit/buttons.tsx'
import { go, type PlaceId } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { OFFSET_FED } from '../kit/offsetfedwords.ts'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'

export function OffsetFed({
  title,
  present,
  why,
}: {
  title: string
  present: PlaceId
  why: keyof typeof OFFSET_FED.why
}) {
  return (
    <PlaceFrame
      title={title}
      present={present}
      action={<Action onPress={() => go('sight')}>{OFFSET_FED.instead}</Action>}
    >
      <Sentence strong>{OFFSET_FED.why[why]}</Sentence>
      <Text>{OFFSET_FED.beam}</Text>
    </PlaceFrame>
  )
}
