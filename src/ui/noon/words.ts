/** Words of the noon check: when the Sun crosses, where the shadow should fall, what a read shadow says. */
import type { NoonCheckJson, NoonPoseJson, ShadowsJson } from '../../core/check/feedjson.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import {
  countOf,
  degrees,
  duration,
  type LengthUnit,
  measured,
  measuredLength,
  NBSP,
  utcAndLocal,
  utcTime,
} from '../kit/format.ts'
import { offWords } from '../kit/miss.ts'

export const NOON = {
  lead: (kind: MountKind) =>
    kind === 'ha-dec'
      ? 'The feed’s shadow on the dish is a sighting of the Sun, with no receiver. At noon this mount stands on its meridian, hour angle zero.'
      : 'The feed’s shadow on the dish is a sighting of the Sun, with no receiver. Noon is only a handy time: any hour with the Sun in reach will do.',
  crossesIn: 'The Sun crosses the meridian in',
  crossed: 'The Sun crossed the meridian',
  ago: (ms: number) => `${duration(ms)} ago`,
  when: 'When',
  atNoon: 'at noon',
  soon: 'in 10 min',
  other: 'other time',
  otherTime: 'The time, UTC',
  asking: 'Working out where the shadow should fall…',
  failed: 'This could not be computed. Load the page again; the book is safe.',
  noPose: 'This mount cannot point at the Sun at that time. Choose another.',
  notInside: 'Out of reach at that time: too low, or beyond a stop.',
  neverInside: 'On that day the Sun does not come within reach of this mount.',
  read: 'Read the shadow',
  readTitle: 'Where the shadow fell',
  toFeed: 'Shadow against signal',
  storm: 'After a storm',
  toDial: 'Drive to',
  keep: 'Keep this shadow',
  said: 'What the shadow says',
  again: 'Read it again',
  done: 'Back to the noon check',
  see: 'See this sighting',
  together: 'Within the hour',
  kept: 'Kept in the book as a sighting.',
  past: 'Noon is past. Choose “in 10 min”, or another time.',
  gone: 'This shadow is no longer in the book.',
  several:
    'Read it again a few minutes later without moving the dish: several are averaged, and their drift is checked.',
} as const

/** "11:06 UTC (12:06 here), 20.3° high in the south" */
export const transitSays = (c: NoonCheckJson): string =>
  `${utcAndLocal(instantMs(c.transitUtc))}, ${degrees(c.transitElDeg, 1)} high in the ${c.north ? 'north' : 'south'}.`

/** "Within reach that day from 08:10 to 14:50 UTC (09:10 to 15:50 here)." */
export function reachSays(stretches: readonly { fromUtc: string; toUtc: string }[]): string {
  if (stretches.length === 0) return NOON.neverInside
  const one = (s: { fromUtc: string; toUtc: string }) =>
    `${utcTime(instantMs(s.fromUtc), 'minute')} to ${utcAndLocal(instantMs(s.toUtc))}`
  return `Within reach that day from ${stretches.map(one).join(', and from ')}.`
}

/** What the axes are to read for, and how long until then where that is not said already. */
export const dialFor = (p: NoonPoseJson, leftMs: number | null): string =>
  `At ${utcAndLocal(instantMs(p.utc))}${leftMs !== null && leftMs > 0 ? `, in ${duration(leftMs)},` : ''} the Sun stands ${degrees(p.elDeg, 1)} high. Set both axes before:`

/** Why the edge is grey, with its width. */
export const blurSays = (blurMm: number, unit: LengthUnit): string =>
  `The Sun is half a degree wide, so the edge is grey over ${measuredLength(2 * blurMm, null, unit).text}. Go by the middle of the grey.`

/** One reading against the solution. */
export function missSays(miss: { rightDeg: number; upDeg: number }, sigmaDeg: number): string {
  const off = offWords(miss, sigmaDeg)
  return off === ''
    ? `The solution expects it there too, to ±${NBSP}${degrees(sigmaDeg, 2)}.`
    : `Against the solution the Sun stands ${off}, ±${NBSP}${degrees(sigmaDeg, 2)}.`
}

/** Several of them. */
export const togetherSays = (s: ShadowsJson): string =>
  `${countOf(s.readings.length, 'reading')}, averaged. ${missSays(s.miss, s.miss.sigmaDeg)}`

/** Their drift against the Sun's. */
export function paceSays(s: ShadowsJson): { good: boolean | null; text: string } {
  if (s.looksMirrored)
    return {
      good: false,
      text: 'The shadow drifts as if left and right were swapped. Was it seen from the other side of the dish? Edit those readings.',
    }
  if (s.pace === null)
    return {
      good: null,
      text: 'Their drift cannot be checked yet. Three readings over a quarter of an hour, without moving the dish, would do it.',
    }
  const { value, sigma } = measured(s.pace.ratio, s.pace.sigma, '')
  return s.pace.isRight
    ? { good: true, text: `The shadow drifts at the Sun’s rate: ${value} ± ${sigma} of it. Good.` }
    : {
        good: false,
        text: `The shadow drifts at ${value} ± ${sigma} of the Sun’s rate. Did the dish move in between, or is a time, a reading or the clock wrong?`,
      }
}
