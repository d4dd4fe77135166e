/** Words of levels: which there are, how the instrument is laid on, what is still missing. */
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { isLevelFitted, type LevelWhat } from '../../core/records/levelkinds.ts'
import { axisName } from '../kit/phrases.ts'

export const LEVEL = {
  noStation: 'There is no station yet. Make one, then measure its mount.',
  makeStation: 'Set up my station',
  nothing: 'Nothing measured against gravity yet.',
  nothingWhy:
    'One or two levels before the first sighting bring the mount to within a degree. A mark read now shows later whether a counter has slipped.',
  measure: 'Measure a level',
  entries: 'Newest first',
  which: 'Which level?',
  keepLevel: 'Keep this level',
  how: 'How do you measure?',
  once: 'One reading',
  turned: 'Two, reversed',
  onceNote: 'keeps the instrument’s bias',
  turnedNote: 'cancels the instrument’s bias',
  reading: 'It shows',
  sigma: 'Uncertainty, ±',
  shows: 'What can the instrument show?',
  quarter: 'Up to 90°',
  quarterNote: 'with a sign or an arrow',
  circle: 'The full circle',
  circleNote: '0 to 360° or ±180°',
  first: 'First reading',
  second: 'Second reading, reversed',
  circleHint: 'As the instrument shows it.',
  sameEnd: 'The sign belongs to the same end of the line both times, not to the instrument.',
  faceUp: 'face up',
  faceDown: 'face down',
  turnWords:
    'First along the line, its end A to the right, face up. Then end over end: A to the left, face down. An instrument that stands on its edge is turned upside down instead, its face the same way.',
  noise: 'Scatter when it is put down again',
  sits: 'How is the instrument held?',
  sitsOnce: 'Held on for this reading',
  sitsNew: 'Clamped for several readings',
  sitsSame: (when: string) => `Still clamped as at ${when}`,
  sitsHint: 'Readings in one clamping share the instrument’s bias. The solution finds it, so their differences count.',
  instrument: 'Instrument',
  own: 'Instrument bias',
  shown: 'As shown',
  heading: (n: number) => `Side ${n}: heading from true north`,
  aroundReading: (n: number) => `Reading ${n}`,
  more: 'Add a side',
  fewer: 'One side fewer',
} as const

/** One line on what it tells. */
export function levelWhy(mount: MountRecord, what: LevelWhat): string {
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'ha-dec' ? 'Sets the latitude of the mount.' : 'Gives the slope of this axis at once.'
    case 'upper-axis-elevation':
      return `Ties the ${axisName(mount, 'lower')} readout to gravity.`
    case 'mast-lean':
      return isLevelFitted(mount.kind, what)
        ? 'Shows which side to shim.'
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
        lay: 'Hold the instrument upright against the mast, each time on another side, always the same face toward you.',
        plus: 'The heading is the side of the mast you hold it against: north 0, east 90, within 10°. + when the top leans to that side.',
      }
    case 'dish-elevation':
      return {
        lay: 'Lay the instrument on the dish along its own axis, or across the rim from top to bottom and count from there.',
        plus: '+ when the dish looks above level.',
      }
  }
}
