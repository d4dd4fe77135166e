/** Words of the noon check: when the Sun crosses, where the shadow should fall, what a read shadow says. */
import type { NoonCheckJson, NoonPoseJson, ShadowsJson } from '../../core/dish/feedjson.ts'
import type { DishAnswer } from '../../core/dish/measured.ts'
import { type Spot, spotWords } from '../kit/dishface-geometry.ts'
import {
  countOf,
  degrees,
  duration,
  fixed,
  type LengthUnit,
  measured,
  measuredLength,
  NBSP,
  utcAndLocal,
  utcTime,
} from '../kit/format.ts'
import { offWords } from '../sight/words.ts'

export type View = 'behind' | 'front'

export const NOON = {
  title: 'Noon check',
  lead: 'The feed’s shadow on the dish is a sighting ten times finer than the ear. Noon is best: the Sun then moves across, not up.',
  crossesIn: 'The Sun crosses the meridian in',
  crossed: 'The Sun crossed the meridian',
  ago: (ms: number) => `${duration(ms)} ago`,
  when: 'When',
  atNoon: 'at noon',
  soon: 'in 10 min',
  other: 'other time',
  otherTime: 'The time, UTC',
  feed: 'Which feed is mounted',
  asking: 'Working out where the shadow should fall…',
  failed: 'This could not be computed. Load the page again; the book is safe.',
  noPose: 'This mount has no pose for the Sun at that time. Choose another.',
  notInside: 'Out of reach at that time: too low, or beyond a stop.',
  neverInside: 'That day the Sun does not come within reach of this mount.',
  read: 'Read the shadow',
  readTitle: 'Where the shadow fell',
  last: 'What the last ones say',
  toFeed: 'Shadow against signal',
  storm: 'After a storm',
  toDial: 'What to dial',
  shows: 'In the picture',
  middle: 'the middle, large',
  whole: 'the whole dish',
  tap: 'Tap where the middle of the shadow is. The time is taken with the tap; correct both below if need be.',
  tapFirst: 'Say first where you stand: the picture turns with you.',
  orType: 'Type the millimetres',
  orTypeInch: 'Type the inches',
  dashed: 'Dashed: where the solution expects it, with its grey rim. Full: where you saw it.',
  keep: 'Keep this shadow',
  tookTime: (utcMs: number) => `Time taken: ${utcTime(utcMs)} UTC.`,
  said: 'What the shadow says',
  again: 'Read it once more',
  done: 'Back to the noon check',
  see: 'See this sighting',
  together: 'Within the hour',
  kept: 'Kept in the book as a sighting.',
  fromBehind: 'Left and right of the Sun are told as the dish counts, seen from behind.',
  past: 'Noon is past. Choose “in 10 min”, or another time.',
  gone: 'This shadow is not in the book any more.',
  several: 'Read it again a few minutes later, with the dish parked: several are averaged, and their drift is checked.',
} as const

/** "11:06 UTC (12:06 here), 20.3° high in the south" */
export const crossSays = (c: NoonCheckJson): string =>
  `${utcAndLocal(Date.parse(c.transitUtc))}, ${degrees(c.transitElDeg, 1)} high in the ${c.north ? 'north' : 'south'}.`

/** "Within reach that day from 08:10 to 14:50 UTC (09:10 to 15:50 here)." */
export function reachSays(stretches: readonly { fromUtc: string; toUtc: string }[]): string {
  if (stretches.length === 0) return NOON.neverInside
  const one = (s: { fromUtc: string; toUtc: string }) =>
    `${utcTime(Date.parse(s.fromUtc), 'minute')} to ${utcAndLocal(Date.parse(s.toUtc))}`
  return `Within reach that day from ${stretches.map(one).join(', and from ')}.`
}

/** What the axes are to read for, and how long till then where that is not said already. */
export const dialFor = (p: NoonPoseJson, leftMs: number | null): string =>
  `At ${utcAndLocal(Date.parse(p.utc))}${leftMs !== null && leftMs > 0 ? `, in ${duration(leftMs)},` : ''} the Sun stands ${degrees(p.elDeg, 1)} high. Set both axes before:`

/** A place of the dish as somebody sees it from there. */
const seen = (spot: Spot, view: View): Spot =>
  view === 'front' ? { rightMm: 0 - spot.rightMm, upMm: spot.upMm } : spot
const FROM = { behind: 'seen from behind', front: 'seen from in front' } as const

/** "The middle of the shadow should be 5 mm left of the vertex, give or take 4 mm, seen from behind." */
export function expectedSays(p: NoonPoseJson, view: View, unit: LengthUnit, isKnown: boolean): string {
  if (p.shadow === null) return 'In this pose the Sun does not shine into the dish.'
  const sure = Math.max(p.sigmaRightMm, p.sigmaUpMm)
  if (!isKnown)
    return 'Of this mount too little is known yet to say where the shadow should fall. Turn the dish until it falls near the vertex, then read it.'
  const out = `The middle of the shadow should be ${spotWords(seen(p.shadow.centre, view), unit)}, give or take ${measuredLength(sure, null, unit).text}, ${FROM[view]}.`
  return p.shadow.isWhole ? out : `${out} Part of it falls beyond the rim.`
}

/** Why the edge is grey, with its width. */
export const blurSays = (blurMm: number, unit: LengthUnit): string =>
  `The Sun is half a degree wide: the edge is grey over ${measuredLength(2 * blurMm, null, unit).text}. Go by the middle of the grey.`

/** Where the UP mark stands, and what to measure along. */
export function rollSays(rollDeg: number | null, view: View): string {
  if (rollDeg === null) return 'The dish looks straight up: only the UP mark on the rim tells which way is up.'
  if (Math.abs(rollDeg) < 1) return 'The UP mark is on top. Up and down go by it.'
  const right = rollDeg > 0 === (view === 'behind')
  return `The dish is rolled: its UP mark stands ${degrees(Math.abs(rollDeg), 0)} to the ${right ? 'right' : 'left'} of straight up, ${FROM[view]}. Measure along the mark, not along a plumb line.`
}

/** Where the shadow was seen, as seen. */
export const fellSays = (spot: Spot, view: View, unit: LengthUnit): string =>
  `Its middle fell ${spotWords(seen(spot, view), unit)}, ${FROM[view]}.`

/** One reading against the solution. */
export function missSays(miss: { rightDeg: number; upDeg: number }, sigmaDeg: number): string {
  const off = offWords(miss.rightDeg, miss.upDeg, sigmaDeg)
  return off.startsWith('on the spot')
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
      text: 'Their drift cannot be checked yet. Three readings over a quarter of an hour, with the dish parked, do it.',
    }
  const { value, sigma } = measured(s.pace.ratio, s.pace.sigma, '')
  return s.pace.isRight
    ? { good: true, text: `The shadow drifts at the Sun’s own pace: ${value} ± ${sigma} of it. Good.` }
    : {
        good: false,
        text: `The shadow drifts at ${value} ± ${sigma} of the Sun’s pace. Did the dish move between them, or is a time, a reading or the clock wrong?`,
      }
}

/** Cautions of a dish that looks into the Sun, with the figure for this one. */
export const sunCautions = ({ sun }: Pick<DishAnswer, 'sun'>, unit: LengthUnit): string[] => [
  `On the Sun, a bare bright dish puts about ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide at the feed, ${fixed(Number(sun.suns.toPrecision(1)), 0)} times full sunlight. Hands and face stay out of it; turn the dish off the Sun as soon as you are done.`,
  'Never look along the beam, nor at the Sun. Transmitter off and made safe before anyone comes near.',
  'No ladder in wind, nor alone; jacks move without warning. Local rules come first.',
]
