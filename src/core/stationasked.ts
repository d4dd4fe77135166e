/**
 * Which station and feed a question means, and the station solved, once for all that is asked of it (solvedonce.ts): what stands behind every
 * question at the door (questions.ts).
 */
import { type Answered, answerFor } from './fit/solution.ts'
import type { Solved } from './fit/solved.ts'
import { type Answer, no } from './records/answer.ts'
import { feedOf } from './records/feeds.ts'
import type { FieldBook, StationRecord } from './records/fieldbook.ts'
import { isOffsetFed } from './records/guesses.ts'
import { msFromUtc } from './records/instant.ts'
import { quoted } from './records/shown.ts'
import type { Feed, Station } from './records/station.ts'
import { stationFromRecord } from './records/stationintake.ts'
import { solvedOnce } from './solvedonce.ts'

/** The station meant: the only one, or the one of that name. */
export function stationNamed(book: FieldBook, name: string | undefined): Answer<StationRecord> {
  const names = () => book.stations.map(s => quoted(s.name)).join(', ')
  if (book.stations.length === 0) return no('stations', 'the field book has no station')
  if (name === undefined) {
    if (book.stations.length === 1) return { ok: true, value: book.stations[0]! }
    return no('stations', `the field book has several stations, name one with --station: ${names()}`)
  }
  const found = book.stations.filter(s => s.name === name)
  if (found.length === 1) return { ok: true, value: found[0]! }
  if (found.length > 1) return no('stations', `${found.length} stations are called ${quoted(name)}; rename one of them`)
  return no('stations', `there is no station ${quoted(name)}; there is: ${names()}`)
}

/** The last answer of each fit: solution, recipe and its text, asked together, are of one. */
const answers = new WeakMap<Solved, { now: string; feed: Feed; answer: Answered }>()

/** The answer for a feed at `now`. */
export function answerOf(solved: Solved, feed: Feed, now: string): Answered {
  const last = answers.get(solved)
  if (last?.now === now && last.feed === feed) return last.answer
  const answer = answerFor(solved.station, msFromUtc(now), solved, feed.id)
  answers.set(solved, { now, feed, answer })
  return answer
}

export interface AboutFeed {
  now: string
  station?: string
  /** Default the first; an unknown one is refused. */
  feed?: string
}

/** The feed meant: the one named, else the first. */
export function feedNamed(station: Station, id: string | undefined): Answer<Feed> {
  if (id === undefined || station.feeds.some(f => f.id === id)) return { ok: true, value: feedOf(station, id) }
  const ids = station.feeds.map(f => quoted(f.id)).join(', ')
  return no('feeds', `there is no feed ${quoted(id)}; there is: ${ids}`)
}

/** The station solved, and the feed meant. */
export function withFeed<T>(
  book: FieldBook,
  o: { station?: string; feed?: string },
  tell: (solved: Solved, feed: Feed, record: StationRecord) => T,
): Answer<T> {
  const named = stationNamed(book, o.station)
  if (!named.ok) return named
  // Before the fit: a mistyped feed need not wait for it.
  const known = feedNamed(stationFromRecord(named.value), o.feed)
  if (!known.ok) return known
  const solved = solvedOnce(named.value)
  return { ok: true, value: tell(solved, feedOf(solved.station, o.feed), named.value) }
}

/** As that, for what only the feed of a prime-focus dish can tell: its shadow, its place in millimetres. */
export const withShadow: typeof withFeed = (book, o, tell) => {
  const named = stationNamed(book, o.station)
  if (named.ok && isOffsetFed(named.value))
    return no('dish.fed', 'the dish has an offset feed: its shadow and its place do not show where the beam points')
  return withFeed(book, o, tell)
}
