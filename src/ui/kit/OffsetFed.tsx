/** In place of what needs a prime-focus dish: why it is off with an offset feed, and what does the job instead. */
import { Action } from './buttons.tsx'
import { go, type PlaceId } from './navigation.ts'
import { Sentence, Text } from './numbers.tsx'
import { OFFSET_FED } from './offsetfedwords.ts'
import { PlaceFrame } from './PlaceFrame.tsx'

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
