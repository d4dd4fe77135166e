/** The recipe for a program of one's own, to read or as JSON; the text is made before the tap. */
import { useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isoOf } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askRecipe, fileName, parcelOf } from '../../state/export.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { FIRST_MOVE } from '../kit/firstmove.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { OutgoingAction, OutgoingParts, useMade, useOutgoing } from '../kit/Outgoing.tsx'
import { noneCounts } from '../kit/whynotwords.ts'
import { RECIPE } from './words.ts'

type As = 'text' | 'json'
export function CorrectRecipe({ station }: { station: StationRecord }) {
  const [as, setAs] = useState<As>('text')
  const feed = feedHere(station)
  const sighted = sightedAt(station)
  const about = `${as} ${feed}`
  const ready = useMade(station, about, ms => askRecipe(station, { now: isoOf(ms), feed, as }))
  const parcel = useMemo(
    () =>
      ready && 'text' in ready.made
        ? parcelOf(fileName(station.name, as === 'text' ? 'recipe' : 'recipe-json', ready.ms), ready.made.text)
        : null,
    [ready],
  )
  const out = useOutgoing(parcel, about)
  const why = ready && 'why' in ready.made ? ready.made.why : RECIPE.preparing
  return (
    <CorrectFrame station={station} title={RECIPE.title} action={<OutgoingAction out={out} why={why} />}>
      {isOnlyEntered(sighted) && <Sentence strong>{noneCounts(sighted)}</Sentence>}
      <Text>{RECIPE.lead}</Text>
      <Caution {...FIRST_MOVE} />
      <FeedInUse station={station} />
      <Choice
        label={RECIPE.what}
        long
        value={as}
        options={[
          { value: 'text', word: RECIPE.text, note: RECIPE.textNote },
          { value: 'json', word: RECIPE.json, note: RECIPE.jsonNote },
        ]}
        onPick={setAs}
      />
      <OutgoingParts out={out} />
    </CorrectFrame>
  )
}
