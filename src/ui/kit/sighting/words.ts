/** Words of a sighting that every way to one shares: its fields, what is missing, and where the target stood against the model. */

import type { Method, MountRecord, Side, TargetRecord } from '../../../core/records/fieldbook.ts'
import type { SolvedSighting } from '../../../core/records/solution.ts'
import { type Covariance, spreadOf } from '../../../core/records/spread.ts'
import { decimalsFor, degrees, duration, NBSP } from '../format.ts'
import { finenessWords, missOf, offWords, sidesWords } from '../miss.ts'
import { axisName, capital, theTarget } from '../phrases.ts'
import type { SightField } from './form.ts'

/** Cautions, where the act is. */
export const CAUTION = {
  sun: 'Sunlight gathers at the feed: hands and face out of it. Never look along the tube at the Sun. Transmitter off; jacks move.',
  /** The Moon is found by one's own echoes. */
  moon: {
    act: 'moon',
    gravest: 'Key only while nobody is in front of the dish.',
    more: ['Never key low over people. Jacks move: hands clear.'],
  },
  other: 'Transmitter off. Jacks move: hands clear.',
  shadow:
    'Sunlight gathers at the feed. Keep hands and face out of it, and turn the dish off the Sun when you are done.',
  tubeSun: 'Never look along the tube at the Sun: let its light fall on paper.',
} as const

/** "The Moon stood 0.4° right, 0.1° high of where it was expected." */
export const residualSentence = (target: TargetRecord, s: SolvedSighting): string => {
  const body = capital(theTarget(target))
  const off = offWords(missOf(s), s.sigmaDeg)
  return off === ''
    ? `${body} stood where it was expected ${finenessWords(s.sigmaDeg)}.`
    : `${body} stood ${off} of where it was expected.`
}

/** "The Sun stands 1.05° right, 0.53° low of the dish's shadow line, ± 0.38°." */
export function shadowSentence(m: { rightDeg: number; upDeg: number; sigmaDeg: number }): {
  lead: string
  off: string
  tail: string
} {
  const off = sidesWords(m, 2)
  const tail = `, ±${NBSP}${degrees(m.sigmaDeg, 2)}.`
  return off === ''
    ? { lead: 'The Sun stands ', off: 'on', tail: ` the dish’s shadow line${tail}` }
    : { lead: 'The Sun stands ', off, tail: ` of the dish’s shadow line${tail}` }
}

/** What is still missing, for the line above the action. */
export function missingWords(mount: MountRecord, fields: readonly SightField[]): string {
  const words: Partial<Record<SightField, string>> = {
    target: 'the target',
    source: 'which source',
    satelliteLon: 'the satellite’s longitude',
    landmarkAz: 'the landmark’s place',
    method: 'the method',
    feed: 'which feed',
    lower: axisName(mount, 'lower'),
    upper: axisName(mount, 'upper'),
    view: 'where you stand',
    shadowAcross: 'the shadow beside the vertex',
    shadowSide: 'left or right',
    shadowAlong: 'the shadow above or below',
    shadowHeight: 'above or below',
    utc: 'the time',
    sigma: 'the uncertainty',
    clockOffset: 'the clock',
    offsetRight: 'the offset',
    offsetUp: 'the offset',
  }
  return `Not yet: ${fields.map(f => words[f] ?? f).join(', ')}.`
}

/** Methods as buttons of the form say them. */
export const METHOD_BUTTONS: Readonly<Partial<Record<Method, string>>> = {
  'signal-peak': 'strongest signal',
  shadow: 'feed’s shadow',
  optical: 'sighting tube',
}

export const SIGHTING = {
  lookAt: 'Target',
  moon: 'Moon',
  sun: 'Sun',
  other: 'Other',
  notYetKept: 'Not kept yet: press "Try again" above.',
  weighing: 'Weighing it against the others…',
  clockStep: (s: number) =>
    `The phone’s clock was set ${s > 0 ? 'forward' : 'back'} by ${duration(1000 * s)} while Moonplumb was open. Compare it with a good clock, and enter the difference.`,
  target: 'Target',
  targetOthers: { source: 'Radio source', geostationary: 'Satellite', landmark: 'Landmark' },
  source: 'Source',
  satellite: 'The satellite’s longitude',
  satelliteHint: 'It wanders ±0.1° about its place.',
  landmarkAz: 'Azimuth from true north',
  landmarkEl: 'Elevation as measured',
  method: 'Method',
  methodGuess: 'As last time.',
  feed: 'Which feed was mounted',
  asExpected: (value: string) => `As expected: ${value}`,
  expectedHint: (value: string) => `Expected ${value}. Enter what the dish shows.`,
  stops: (from: string, to: string) => `${from.replace(`${NBSP}counts`, '')} to ${to}`,
  arrived: (axis: string) => `How ${axis} was approached`,
  sides: {
    '': 'not noted',
    '+': 'from below: reading going up',
    '-': 'from above: reading going down',
  } as Record<Side | '', string>,
  sideShort: { '+': 'from below', '-': 'from above' } as Record<Side, string>,
  sidesTitle: 'Approach',
  sidesWhy:
    'An axis with play stops short of where it is driven to. Sightings that say from which side it came show how much.',
  sidesNone: 'Approach: not noted',
  change: 'change',
  choose: 'choose',
  enter: 'enter',
  methodTitle: 'Method',
  shadowTitle: 'Shadow',
  shadowRow: 'Where the shadow fell',
  toForm: 'Back to the readings',
  view: 'Where you stand',
  behind: 'behind the dish',
  front: 'in front of the dish',
  shadowHow:
    'Measure from the vertex to the middle of the feed’s shadow, along the dish’s own UP mark, not a plumb line.',
  shadowAcross: 'Shadow beside the vertex',
  shadowAcrossSide: 'To which side, as you see it',
  shadowAlong: 'Shadow above or below the vertex',
  shadowAlongSide: 'Which way, with the UP mark on top',
  left: 'left',
  right: 'right',
  above: 'above, toward UP',
  below: 'below',
  more: 'Time, uncertainty, note',
  moreTime: 'Time, offset, note',
  utc: 'Time, UTC',
  clockOffset: 'Phone clock minus true time',
  clockOffsetHint: 'Optional. Plus: the phone is ahead.',
  sigma: 'Uncertainty, ±',
  sigmaHint: (value: string) => `Optional. Without it ± ${value}, usual for this method.`,
  optional: 'Optional.',
  offsetRight: 'Target stood right by',
  offsetUp: 'Target stood high by',
  offsetHint: 'Only if known: where it stood against the beam, seen from behind the dish. Minus: left, or low.',
  note: 'Note',
  wind: 'Wind',
  beyondStop: (axis: string, stop: string) => `Beyond the stop of ${axis} at ${stop}. It is kept as it is.`,
  farFromExpected: (axis: string, value: string) => `${axis} is far from the expected ${value}. A slip, or swapped?`,
} as const

/** "± 0.001° along the drift, ± 4.8° across it": which way, where one is much better known than the other. */
export function spreadWords(cov: Covariance, isDrift: boolean): string {
  const { leastDeg, mostDeg } = spreadOf(cov)
  const shown = (deg: number) => `±${NBSP}${degrees(deg, Math.max(1, decimalsFor(deg, 2)))}`
  if (mostDeg < 2 * leastDeg) return shown(mostDeg)
  return `${shown(leastDeg)} ${isDrift ? 'along the drift' : 'one way'}, ${shown(mostDeg)} across it`
}
