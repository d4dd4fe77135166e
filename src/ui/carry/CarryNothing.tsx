/** Before the first sighting: no page says anything of this mount yet; what is missing, and where to get it. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { CARRY } from './words.ts'

/**
 * Nothing was sighted: what a page leaves would be told as if it were known. An empty list says so before the answer is there: a
 * screen that changed under the finger took its press.
 */
export const hasNothingToTell = (station: Pick<StationRecord, 'sightings'>): boolean =>
  station.sightings.length === 0 || answer.value.solution?.fit.used === 0

export function CarryNothing({ station, title }: { station: StationRecord; title: string }) {
  return (
    <CorrectFrame station={station} title={title} action={<Action onPress={() => go('sight')}>{CARRY.record}</Action>}>
      <Sentence strong>{CARRY.noSightings}</Sentence>
      <Text>{CARRY.noSightingsWhy}</Text>
      <RowButton label={CARRY.budget} onPress={() => go('correct', 'software', 'budget')} />
      <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
    </CorrectFrame>
  )
}
