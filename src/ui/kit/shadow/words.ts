/** Words of a shadow on the dish, as somebody sees it from there: where it should fall, where it fell, and the cautions. */
import type { NoonPoseJson } from '../../../core/check/feedjson.ts'
import type { DishAnswer } from '../../../core/tape/measured.ts'
import { type Spot, spotWords } from '../dishface-geometry.ts'
import { degrees, fixed, type LengthUnit, measuredLength, NBSP } from '../format.ts'

export type View = 'behind' | 'front'

/** A place of the dish as somebody sees it from there. */
export const seen = (spot: Spot, view: View): Spot =>
  view === 'front' ? { rightMm: 0 - spot.rightMm, upMm: spot.upMm } : spot

export const FROM = { behind: 'seen from behind', front: 'seen from in front' } as const

/** "The middle of the shadow should be 5 mm left of the vertex, ± 4 mm, seen from behind." */
export function shadowExpectedSays(p: NoonPoseJson, view: View, unit: LengthUnit, isKnown: boolean): string {
  if (p.shadow === null) return 'Pointed this way, the Sun does not shine into the dish.'
  const sure = Math.max(p.sigmaRightMm, p.sigmaUpMm)
  if (!isKnown)
    return 'Too little is known of this mount yet to say where the shadow should fall. Turn the dish until it falls near the vertex, then read it.'
  const out = `The middle of the shadow should be ${spotWords(seen(p.shadow.centre, view), unit)}, ± ${measuredLength(sure, null, unit).text}, ${FROM[view]}.`
  return p.shadow.isWhole ? out : `${out} Part of it falls beyond the rim.`
}

/** Where the UP mark stands, and what to measure along. */
export function rollSays(rollDeg: number | null, view: View): string {
  if (rollDeg === null) return 'The dish points straight up: only the UP mark on the rim shows which way is up.'
  if (Math.abs(rollDeg) < 1) return 'The UP mark is at the top: up and down go by it.'
  const right = rollDeg > 0 === (view === 'behind')
  return `The dish is rolled: its UP mark stands ${degrees(Math.abs(rollDeg), 0)} to the ${right ? 'right' : 'left'} of straight up, ${FROM[view]}. Measure along the mark, not along a plumb line.`
}

/** Where the shadow was seen, as seen. */
export const fellSays = (spot: Spot, view: View, unit: LengthUnit): string =>
  `Its middle fell ${spotWords(seen(spot, view), unit)}, ${FROM[view]}.`

/** Cautions of a dish that looks into the Sun, with the figure for this one. */
export const sunCautions = ({ sun }: Pick<DishAnswer, 'sun'>, unit: LengthUnit): string[] => [
  `Pointed at the Sun, this dish, where it is bright, puts up to ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide at the feed, ${fixed(Number(sun.suns.toPrecision(1)), 0)} times full sunlight. Turn the dish off the Sun as soon as you are done.`,
  'Never look along the beam or at the Sun. Transmitter off and locked off before anyone comes near.',
  'No ladder in wind or alone; jacks move without warning. Local rules come first.',
]

export const SHADOW = {
  caution: 'Sunlight burns at the feed: keep hands and face out of it.',
  shows: 'In the picture',
  middle: 'the middle, large',
  whole: 'the whole dish',
  tap: 'Tap where the middle of the shadow is. The tap marks the time; correct both below if needed.',
  tapFirst: 'First say where you stand: the picture turns with you.',
  orType: 'Type the millimetres',
  orTypeInch: 'Type the inches',
  fromBehind: 'Left and right of the Sun are as seen from behind the dish.',
  feed: 'Which feed is mounted',
} as const
