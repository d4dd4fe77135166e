/** Which of the station's feeds: nothing is asked where there is one. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { Choice } from './Choice.tsx'
import { Name } from './numbers.tsx'

interface FeedChoiceProps {
  station: StationRecord
  label: string
  value: string | null
  onPick: (feed: string) => void
  /** One below the other. */
  long?: boolean
}

export function FeedChoice({ station, ...choice }: FeedChoiceProps) {
  if (station.feeds.length < 2) return null
  return <Choice {...choice} options={station.feeds.map(f => ({ value: f.id, word: <Name>{f.name}</Name> }))} />
}
