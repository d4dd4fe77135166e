/**
 * The noon check as the screens need it: the Sun's day and the pose, asked of the worker; which shadows belong together; what they
 * say together. Degrees, millimetres, UTC text.
 */
import type { NoonCheckJson, ShadowsJson } from '../core/check/feedjson.ts'
import { SHADOW_READ } from '../core/fit/methods.ts'
import { feedOf } from '../core/records/feeds.ts'
import type { SightingRecord, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { HOUR_MS, radFromDeg } from '../core/units.ts'
import { ask, isoOf, type Told } from './ask.ts'

/**
 * The Sun's day, and the pose at the transit or at another time.
 *
 * @param topic  who asks: the questions of one screen overtake each other, those of another do not
 */
export const noonOf = (
  station: StationRecord,
  feed: string,
  o: { at?: string; readings?: { lower: number; upper: number } },
  topic: string,
): Promise<Told<NoonCheckJson>> => ask(station, 'noonCheck', { feed, ...o }, { topic })

/** When the Sun can be reached, from the rows of a day: first and last instant of each stretch. */
export function sunStretches(times: NoonCheckJson['times']): { fromUtc: string; toUtc: string }[] {
  const stretches: { fromUtc: string; toUtc: string }[] = []
  let before = false
  for (const { utc, inside } of times) {
    if (inside && before) stretches.at(-1)!.toUtc = utc
    else if (inside) stretches.push({ fromUtc: utc, toUtc: utc })
    before = inside
  }
  return stretches
}

/** The feed that a sighting was taken with; the station's only one where it is not stated. */
const feedOfSighting = (station: StationRecord, s: SightingRecord): string => feedOf(station, s.feed).id

/** True time of a record, ms. */
export const trueMs = (s: Pick<SightingRecord, 'utc' | 'clockOffsetS'>): number =>
  instantMs(s.utc) - 1000 * (s.clockOffsetS ?? 0)

/**
 * The shadows of the hour that ends with a sighting: through the same feed, none that was left out, none from before the last
 * change. In the order of time, the sighting itself last.
 */
export function shadowsOfHour(station: StationRecord, last: SightingRecord): SightingRecord[] {
  const to = trueMs(last)
  const feed = feedOfSighting(station, last)
  const changes = (station.changes ?? []).map(c => instantMs(c.utc)).filter(ms => ms <= to)
  const from = Math.max(to - HOUR_MS, ...changes)
  return station.sightings
    .filter(s => s.method === 'shadow' && s.shadow !== undefined && feedOfSighting(station, s) === feed)
    .filter(s => s.id === last.id || (s.use !== 'never' && trueMs(s) >= from && trueMs(s) <= to))
    .sort((a, b) => trueMs(a) - trueMs(b))
}

/** σ of one reading, mm: as stated, root mean square; the usual 8 mm where nothing is. */
export function readingSigmaMm(station: StationRecord, list: readonly SightingRecord[]): number {
  const f = 1000 * station.dish.diameterM * station.dish.focalRatio
  const each = list.map(s => (s.sigmaDeg === undefined ? SHADOW_READ : f * radFromDeg(s.sigmaDeg)))
  return Math.sqrt(each.reduce((sum, mm) => sum + mm * mm, 0) / each.length)
}

/** Those shadows together. */
export async function shadowsSay(
  station: StationRecord,
  list: readonly SightingRecord[],
): Promise<Told<ShadowsJson | null>> {
  const [first] = list
  if (first === undefined) return { kind: 'told', value: null }
  const readings = list.map(s => ({ utc: isoOf(trueMs(s)), lower: s.lower, upper: s.upper, ...s.shadow! }))
  const sigmaMm = readingSigmaMm(station, list)
  return ask(station, 'shadows', { feed: feedOfSighting(station, first), readings, sigmaMm })
}
