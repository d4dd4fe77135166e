/** Words of levels: which there are, how the instrument is laid on, what is still missing. */
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { isLevelFitted, type LevelWhat } from '../../core/records/levelkinds.ts'
import { axisName } from '../kit/phrases.ts'

export const LEVEL = {
  noStation: 'There is no station yet. Make one, then measure its mount.',
  makeStation: 'Set up my station',
  nothing: 'Nothing measured by gravity yet.',
  nothingWhy:
    'A level or two before the first sighting brings the mount within a degree. A mark read now shows later whether a counter has slipped.',
  measure: 'Measure a level',
  entries: 'So far, newest first',
  which: 'Which level?',
  keepLevel: 'Keep this level',
  how: 'How do you measure?',
  once: 'One reading',
  turned: 'Two, turned about',
  onceNote: 'the instrument’s own error stays in',
  turnedNote: 'takes the instrument’s own error out',
  mastHow: 'Three or more readings round the mast.',
  reading: 'It shows',
  sigma: 'How sure, ±',
  shows: 'What can the instrument show?',
  quarter: 'Up to 90°',
  quarterNote: 'with a sign or an arrow',
  circle: 'The full circle',
  circleNote: '0 to 360° or ±180°',
  first: 'First reading',
  second: 'Second reading, turned about',
  circleHint: 'As the instrument shows it.',
  sameEnd: 'The sign of the same end of the line, not of the instrument.',
  roughWill: 'Within 10° will do.',
  faceUp: 'face up',
  faceDown: 'face down',
  turnWords:
    'First along the line, its end A to the right, face up. Then turned over end over end: A to the left, face down. One that stands on its edge goes upside down instead, face the same way.',
  noise: 'Readings scatter by, when it is put down again',
  sits: 'How does the instrument sit?',
  sitsOnce: 'Put on for this reading',
  sitsNew: 'Clamped for several readings',
  sitsSame: (when: string) => `Still clamped as at ${when}`,
  sitsHint:
    'Readings of one clamping share what the instrument is off by; the solution finds it, and their differences count.',
  instrument: 'Instrument',
  own: 'The instrument’s own error',
  shown: 'As it was shown',
  heading: (n: number) => `Side ${n}: its heading from true north`,
  aroundReading: (n: number) => `Reading ${n}`,
  aroundHint: '+ when the top leans that way.',
  more: 'One more heading',
  fewer: 'One less',
  oldLean: 'The lean as it is in the book',
} as const

/** One line on what it tells. */
export function levelWhy(mount: MountRecord, what: LevelWhat): string {
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'ha-dec' ? 'Sets the latitude of the mount.' : 'Tells the level straight away.'
    case 'upper-axis-elevation':
      return `Ties the ${axisName(mount, 'lower')} readout to gravity.`
    case 'mast-lean':
      return isLevelFitted(mount.kind, what)
        ? 'Tells which side to shim.'
        : 'Kept and shown; the solution does not use it.'
    case 'dish-elevation':
      return 'Ties both readouts to gravity before any sighting.'
  }
}

/** How the instrument is laid on, and what + means. */
export function levelHow(mount: MountRecord, what: LevelWhat): { lay: string; plus: string } {
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'ha-dec'
        ? { lay: 'Lay the instrument along the polar axis.', plus: 'The angle of its upper end above level.' }
        : {
            lay: `Lay the instrument along the ${axisName(mount, 'lower')} axis, seen from behind the dish.`,
            plus: `+ when the ${mount.kind === 'x-y' ? 'forward' : 'right-hand'} end is up, − when it is down.`,
          }
    case 'upper-axis-elevation':
      return {
        lay: `Lay the instrument along the ${axisName(mount, 'upper')} axis and note where the ${axisName(mount, 'lower')} stands.`,
        plus: 'The angle of the end that points up, so never below 0.',
      }
    case 'mast-lean':
      return {
        lay: 'Hold the instrument upright against the mast, each time on another side, always the same way round to you.',
        plus: 'The heading is the side of the mast that you hold it to: north 0, east 90. + when the top leans to that side.',
      }
    case 'dish-elevation':
      return {
        lay: 'Lay the instrument on the dish along its own axis, or across the rim from top to bottom and count from there.',
        plus: '+ when the dish looks above level.',
      }
  }
}
