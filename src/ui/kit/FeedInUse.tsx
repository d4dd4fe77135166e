/** Which feed the figures are for, where a station has several, and the way to take another. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { chooseFeed, feedHere } from '../../state/chosenfeed.ts'
import { Choice } from './Choice.tsx'
import { seenText } from './format.ts'
import { LOSS } from './loss.ts'

export function FeedInUse({ station }: { station: StationRecord }) {
  if (station.feeds.length < 2) return null
  return (
    <Choice
      label={LOSS.feed}
      value={feedHere(station)}
      options={station.feeds.map(f => ({ value: f.id, word: seenText(f.name) }))}
      onPick={id => chooseFeed(station, id)}
    />
  )
}
