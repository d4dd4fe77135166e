/** The spells of these days as a list for a table, or as a calendar; the text is made before the tap. */
import { useMemo, useState } from 'preact/hooks'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { isoOf } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askWindowsText, fileName, parcelOf } from '../../state/export.ts'
import { Choice } from '../kit/Choice.tsx'
import { Text } from '../kit/numbers.tsx'
import { OutgoingAction, OutgoingParts, useMade, useOutgoing } from '../kit/Outgoing.tsx'
import { partnerFor, targetHere, useWindows } from './asks.ts'
import { dateMs, type Span, spanWish } from './calendar.ts'
import { WhenFrame } from './WhenFrame.tsx'
import { FILES, fileSays, WHEN } from './words.ts'

export function WhenExport({ station, span }: { station: StationRecord; span: Span }) {
  const target = targetHere()
  const [as, setAs] = useState<'csv' | 'ics'>('ics')
  const { own, both } = useWindows(station, target, span)
  const place = partnerFor(target)
  const isBoth = place !== null
  const counted = isBoth ? both : own
  const wish = { feed: feedHere(station), target, ...spanWish(span), as, ...(place && { partner: place }) }
  const ready = useMade(station, JSON.stringify(wish), ms => askWindowsText(station, { now: isoOf(ms), ...wish }))
  const made = ready?.made
  const text = made && 'text' in made && counted && counted.spells.length > 0 ? made.text : null
  const parcel = useMemo(
    () => (text === null ? null : parcelOf(fileName(station.name, FILE_WORD[target.type], dateMs(span), as), text)),
    [text, station.name, span, as],
  )
  const out = useOutgoing(parcel, as)
  const why = counted?.spells.length === 0 ? FILES.nothing : made && 'why' in made ? made.why : FILES.preparing
  return (
    <WhenFrame station={station} title={FILES.title} action={<OutgoingAction out={out} why={why} />}>
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
      <OutgoingParts out={out} />
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
