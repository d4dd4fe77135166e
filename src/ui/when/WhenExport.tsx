/** The spells of these days as a list for a table, or as a calendar; the text is made before the tap. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { isoOf, trueNowMs } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askWindowsText, fileName, parcelOf } from '../../state/export.ts'
import { Choice } from '../kit/Choice.tsx'
import { useHandOn } from '../kit/HandOn.tsx'
import { Text } from '../kit/numbers.tsx'
import { partnerFor, targetHere, useWindows } from './asks.ts'
import { dateMs, type Span, wishOf } from './calendar.ts'
import { WhenFrame } from './WhenFrame.tsx'
import { FILES, fileSays, WHEN } from './words.ts'

type Made = { text: string } | { why: string } | null

/** The file's text for the kind that is picked, made anew when something of it changes. */
function useText(station: StationRecord, target: TargetRecord, span: Span, as: 'csv' | 'ics'): Made {
  const place = partnerFor(target)
  const wish = { feed: feedHere(station), target, ...wishOf(span), as, ...(place && { partner: place }) }
  const key = JSON.stringify(wish)
  const [made, setMade] = useState<{ key: string; made: Made }>({ key: '', made: null })
  useEffect(() => {
    let alive = true
    void askWindowsText(station, { now: isoOf(trueNowMs(station)), ...wish }).then(text => {
      if (alive && text !== null) setMade({ key, made: text })
    })
    return () => {
      alive = false
    }
  }, [station, key])
  return made.key === key ? made.made : null
}

export function WhenExport({ station, span }: { station: StationRecord; span: Span }) {
  const target = targetHere()
  const [as, setAs] = useState<'csv' | 'ics'>('ics')
  const { own, both } = useWindows(station, target, span)
  const isBoth = partnerFor(target) !== null
  const counted = isBoth ? both : own
  const made = useText(station, target, span, as)
  const text = made && 'text' in made && counted && counted.spells.length > 0 ? made.text : null
  const parcel = useMemo(
    () => (text === null ? null : parcelOf(fileName(station.name, FILE_WORD[target.type], dateMs(span), as), text)),
    [text, station.name, span, as],
  )
  const why = counted?.spells.length === 0 ? FILES.nothing : made && 'why' in made ? made.why : FILES.preparing
  const { action, below } = useHandOn(parcel, why, as)
  return (
    <WhenFrame station={station} title={FILES.title} action={action}>
      <Choice
        label={FILES.what}
        long
        value={as}
        options={[
          { value: 'ics', word: FILES.ics, note: FILES.icsNote },
          { value: 'csv', word: FILES.csv, note: FILES.csvNote },
        ]}
        onPick={setAs}
      />
      {counted ? <Text>{fileSays(counted, isBoth, span)}</Text> : <Text>{WHEN.computing}</Text>}
      {below}
    </WhenFrame>
  )
}

/** In the file's name: what it is about. */
const FILE_WORD: Readonly<Record<TargetRecord['type'], string>> = {
  moon: 'when-moon',
  sun: 'when-sun',
  source: 'when-source',
  geostationary: 'when-satellite',
  landmark: 'when-landmark',
}
