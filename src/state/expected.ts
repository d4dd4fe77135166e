/** What the book expected of a sighting: the station solved without it. Degrees. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import type { SolvedSighting } from '../core/records/solution.ts'
import { ask, type Told } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

export interface ExpectedSighting {
  /** The sighting against that solution, which does not use it. */
  solved: SolvedSighting
  /** How many other sightings the expectation comes from. */
  from: number
}

/** The station with a sighting that is kept but not used. Pure. */
export const stationWithout = (station: StationRecord, id: string): StationRecord => ({
  ...station,
  sightings: station.sightings.map(s => (s.id === id ? { ...s, use: 'never' as const } : s)),
})

/** Whether no sighting of the station is later: what is expected without it is what was expected before it. */
export const isLatest = (station: StationRecord, id: string): boolean => {
  const own = station.sightings.find(s => s.id === id)
  return own !== undefined && station.sightings.every(s => s.id === id || instantMs(s.utc) <= instantMs(own.utc))
}

export async function askExpected(station: StationRecord, id: string): Promise<Told<ExpectedSighting | null>> {
  const without = stationWithout(station, id)
  const told = await ask(without, 'solve', { feed: feedHere(station) }, { topic: 'expected' })
  if (told?.kind !== 'told') return told
  const solved = told.value.sightings.find(s => s.id === id)
  return { kind: 'told', value: solved ? { solved, from: told.value.fit.used } : null }
}
