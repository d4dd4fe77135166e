/** Words of the rehearsal: its beginning, its dish and tools, its end. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import type { Moment } from '../../core/rehearse/moments.ts'
import type { Difficulty } from '../../core/rehearse/setup.ts'
import type { Speed } from '../../state/rehearse.ts'
import { DOWN_UP, MINUS, toward } from '../kit/format.ts'
import { axisName } from '../kit/phrases.ts'

export const REHEARSE = {
  title: 'Rehearse',
  why: 'The app lends you a dish that does not exist, on a mount whose faults it keeps to itself. You drive it, read it, level it and hear it through the same screens as in the field. At the end it shows you the truth.',
  kind: 'Mount',
  difficulty: 'How hard',
  seed: 'Number of the dish',
  seedHint: 'The same number gives the same dish, on every phone.',
  start: 'The rehearsal starts at',
  which: 'Which dish',
  lent: 'A dish from the app',
  copied: 'A copy of mine, as entered',
  begin: 'Begin the rehearsal',
  preparing: 'Building the dish…',
  failed: 'The rehearsal was not kept. Look at "Ready for the field".',
  stays: 'It is kept beside your stations, marked on every screen, and never mixed with them. One press removes it.',
  name: (seed: number) => `Rehearsal ${seed}`,
  mark: 'Rehearsal: this dish does not exist.',
  open: 'Dish at hand',
  close: 'Put away',
  sheet: 'The dish at hand',
  // Drive.
  less: (axis: string) => `${axis} ${MINUS}`,
  more: (axis: string) => `${axis} +`,
  lessLabel: (axis: string) => `Drive ${axis}, reading down`,
  moreLabel: (axis: string) => `Drive ${axis}, reading up`,
  hold: 'Hold to drive. It runs on a little when you let go.',
  atStop: (axis: string, at: string, limit: string | null) =>
    limit === null ? `${axis} is at its stop.` : `${axis} is at its stop, at ${at}. Its limit in the book is ${limit}.`,
  goTo: 'Or drive to',
  go: 'Drive there',
  follow: (body: string) => `Drive to the ${body} as computed`,
  mark0: (axis: string) => `Scribed line on ${axis}`,
  // Receiver.
  level: 'Noise level',
  average: 'Averaged over',
  trembles: (sigma: string, seconds: number) => `± ${sigma} dB in ${seconds} s`,
  noEchoes: 'No echoes heard.',
  echoes: (db: string) => `Own echoes ${db} dB above the noise`,
  flux: (sfu: string) => `The Sun’s flux today, as published for this band: ${sfu} sfu`,
  // Shadow.
  noShadow: 'The Sun does not shine into the dish here.',
  offDish: 'Part of the shadow falls beside the dish.',
  readShadow: 'Read the shadow',
  shadowPlot: 'The feed’s shadow on the face, as seen from behind',
  shadowSeen: (mm: number) => `Seen from behind, UP mark above. A line every ${mm} mm.`,
  // Measure.
  inclinometer: 'Inclinometer, laid on',
  asLaid: 'As laid',
  turned: 'Turned end over end, + for the same end',
  mast: 'On the side of the mast, facing',
  fastened: 'A phone fastened to what turns with',
  fastenedWay: 'It was fastened',
  fastenedFirst: 'once',
  fastenedAgain: 'again, end for end',
  longEdge: 'Long edge',
  shortEdge: 'Short edge',
  faces: (face: 'up' | 'down') => `Its screen faces ${face}.`,
  turnsWith: 'Inclinometer beside it, across the axis',
  tooSteep: 'This axis is too steep for an inclinometer across it.',
  tape: 'Tape from the feed to the rim, mm, at the hour seen from behind',
  feed: 'Move the feed by 5 mm',
  feedMoved: 'Moved. Note it as a change in the book too.',
  // Adjust.
  adjust: 'Turn an adjuster',
  byDegrees: 'by degrees, no adjuster described',
  amount: 'By how much',
  turns: 'turns',
  adjusted: 'Turned. It took five minutes. Note it as a change in the book too.',
  notAdjusted: 'Not turned. Look at "Ready for the field".',
  // Filling in.
  fill: 'Tap a field above, then a value here to fill it in.',
  // Time.
  clock: 'The rehearsal’s clock',
  signal: (utc: string) => `The time signal says ${utc} UTC`,
  noPips: 'At 1 × it has pips to tap on: a light at each second, a longer one at the full minute.',
  none: 'Not within twenty days.',
  see: 'Finish: see the truth',
  discard: 'Discard this rehearsal',
} as const

export const TABS = {
  drive: 'Drive',
  hear: 'Receiver',
  shadow: 'Shadow',
  measure: 'Measure',
  time: 'Time',
} as const
export type Tab = keyof typeof TABS

export const DIFFICULTY_WORDS: Readonly<Record<Difficulty, { word: string; note: string }>> = {
  beginner: { word: 'First time', note: 'three faults, readings in degrees' },
  ordinary: { word: 'Ordinary', note: 'a little wrong everywhere, as second-hand mounts are' },
  hard: { word: 'Hard', note: 'more of it; and things happen' },
}
export const SPEED_WORDS: Readonly<Record<Speed, string>> = { 0: 'Paused', 1: '1 ×', 60: '60 ×', 600: '600 ×' }
export const MOMENT_WORDS: Readonly<Record<Moment, string>> = {
  'moon-up': 'To the Moon well up',
  noon: 'To the Sun’s noon',
  hour: 'An hour on',
  tomorrow: 'To this time tomorrow',
}
/** The quarters of the sky, and those that the form of a mast's lean begins with. */
export const HEADINGS = [
  { deg: 0, word: 'north' },
  { deg: 90, word: 'east' },
  { deg: 120, word: '120°' },
  { deg: 180, word: 'south' },
  { deg: 240, word: '240°' },
  { deg: 270, word: 'west' },
] as const
export const HOURS = [12, 2, 4, 6, 8, 10] as const

export function placeWord(station: StationRecord, place: LevelWhat): string {
  if (place === 'mast-lean') return 'the mast'
  if (place === 'dish-elevation') return 'the dish, along its axis'
  return `the ${axisName(station.mount, place === 'lower-axis-elevation' ? 'lower' : 'upper')} axis`
}

/** "right 35 mm, up −20" as facts in words. */
export const shadowOffsetWords = (rightMm: number, upMm: number): string =>
  `The middle of the shadow lies ${toward(rightMm, ['left', 'right'], ' mm')} and ${toward(upMm, DOWN_UP, ' mm')} of the vertex.`
