/** No sighting counts, so nothing is known that a page could carry over: what is missing, and where to get it. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { sightedAt } from '../../state/sighted.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { noneCounts } from '../kit/whynotwords.ts'
import { CARRY } from './words.ts'

export function CarryNothing({ station, title }: { station: StationRecord; title: string }) {
  return (
    <CorrectFrame station={station} title={title} action={<Action onPress={() => go('sight')}>{CARRY.record}</Action>}>
      <Sentence strong>{noneCounts(sightedAt(station))}</Sentence>
      <Text>{CARRY.noSightingsWhy}</Text>
      <RowButton label={CARRY.budget} onPress={() => go('correct', 'software', 'budget')} />
      <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
    </CorrectFrame>
  )
}
