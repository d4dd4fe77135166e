/** The recipe for a program of one's own, to read or as JSON; the text is made before the tap. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { isoOf, trueNowMs } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askRecipe, fileName, parcelOf } from '../../state/export.ts'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { Sentence, Text } from '../kit/numbers.tsx'
import { OutgoingAction, OutgoingParts, useOutgoing } from '../kit/Outgoing.tsx'
import { CORRECT, RECIPE } from './words.ts'

type As = 'text' | 'json'
type Made = { ms: number; text: string } | { why: string }

/** Made anew for another feed or kind of file, and when something of the station changes. */
function useRecipe(station: StationRecord, as: As): { about: string; made: Made | null } {
  const feed = feedHere(station)
  const about = `${as} ${feed}`
  const [ready, setReady] = useState<{ about: string; station: StationRecord; made: Made } | null>(null)
  useEffect(() => {
    let alive = true
    const ms = trueNowMs(station)
    void askRecipe(station, { now: isoOf(ms), feed, as }).then(told => {
      if (alive && told !== null) setReady({ about, station, made: 'text' in told ? { ms, text: told.text } : told })
    })
    return () => {
      alive = false
    }
  }, [station, about])
  return { about, made: ready?.about === about && ready.station === station ? ready.made : null }
}

export function CorrectRecipe({ station }: { station: StationRecord }) {
  const [as, setAs] = useState<As>('text')
  const { about, made } = useRecipe(station, as)
  const parcel = useMemo(
    () =>
      made && 'text' in made
        ? parcelOf(fileName(station.name, as === 'text' ? 'recipe' : 'recipe-json', made.ms), made.text)
        : null,
    [made],
  )
  const out = useOutgoing(parcel, about)
  const why = made && 'why' in made ? made.why : RECIPE.preparing
  return (
    <CorrectFrame station={station} title={RECIPE.title} action={<OutgoingAction out={out} why={why} />}>
      {answer.value.solution?.fit.used === 0 && <Sentence strong>{CORRECT.noSightings}</Sentence>}
      <Text>{RECIPE.lead}</Text>
      <Caution {...CORRECT.firstMove} />
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
