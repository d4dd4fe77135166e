/** Which feed a figure is for, where a station has several, and the way to take another. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { chooseFeed } from '../../state/chosenfeed.ts'
import { seenText } from '../format.ts'
import { Choice } from '../parts/Choice.tsx'
import { CORRECT } from '../words/correct.ts'

/** @param feed  id of the feed that what is shown is for */
export function FeedInUse({ station, feed }: { station: StationRecord; feed: string }) {
  if (station.feeds.length < 2) return null
  return (
    <Choice
      label={CORRECT.feed}
      value={feed}
      options={station.feeds.map(f => ({ value: f.id, word: seenText(f.name) }))}
      onPick={id => chooseFeed(station, id)}
    />
  )
}
