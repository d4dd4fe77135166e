/** Words of the guided alignment: what each step is called, why it is done, how, and what its picture shows. */

import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { isLevelFitted } from '../../core/records/levelkinds.ts'
import { axisName } from '../kit/phrases.ts'

export const ALIGN = {
  title: 'Align the mount',
  noStation: 'There is no station yet. Three answers are enough to begin: place, mount, dish.',
  computing: 'Computing…',
  stale: 'Computing again with your latest records…',
  failed: 'This cannot be worked out now. Now says what is wrong.',
  next: 'Next',
  wanted: (what: string) => `Wanted: ${what}.`,
  allDone: 'Nothing is open. Check again after every storm, and after every change.',
  anyOrder: 'This is the usual order. Any other will do, and a step can be left out.',
  steps: 'Steps',
  open: (name: string) => `Open: ${name}`,
  bears: 'What this dish needs',
  guess: 'Only guessed so far',
  toList: 'All steps',
  leave: 'Leave this out',
  leaveTitle: (name: string) => `Leave out: ${name}`,
  leaveNote: 'Why',
  leaveHint: 'Kept with the step: “roof mount, no way to plumb it”.',
  leaveNow: 'Leave it out',
  noteMissing: 'Say why, in a word or two.',
  takeUp: 'Put it back',
  setByHand: 'I have set it by the Sun’s line',
  setNote: 'Nothing here measures that: your word is taken for it until the first sightings.',
  carriedIt: 'I have carried the numbers over',
  carriedHint: 'Today’s numbers are kept with the date. A later change, or numbers that move, will say so here.',
  noNumbers: 'There is nothing to carry over before the first sighting.',
  back: (name: string) => `Back to: ${name}`,
  leaveGuide: 'Close',
  guided: 'Aligning the mount',
} as const

export const PICTURE = {
  level: 'level',
  plumb: 'plumb line',
  mark: 'mark',
  counts: 'counts',
  shadow: 'shadow',
  tape: 'tape',
  beam: 'beam',
  sun: 'Sun',
  moon: 'Moon',
  turn: 'raise',
  first: 'first sightings',
  second: 'another day',
  program: 'program',
} as const

/** Why, in one sentence. */
export function whyWords(mount: MountRecord, step: AlignmentStep): string {
  const lower = axisName(mount, 'lower')
  switch (step) {
    case 'site-clock':
      return 'The sky turns a degree in four minutes: in the sightings a wrong clock looks just like a mount turned about the pole.'
    case 'mast':
      return isLevelFitted(mount.kind, 'mast-lean')
        ? 'On this mount the mast is the azimuth axis: on the side that it leans toward, the dish looks too low by as much; on the opposite side, too high.'
        : 'On this mount the axis on top of the mast is levelled instead; that takes in the mast’s lean.'
    case 'axes':
      return mount.kind === 'el-over-az'
        ? 'An elevation axis that is not level turns the dish aside as it rises.'
        : mount.kind === 'ha-dec'
          ? 'The polar axis must point as many degrees above the horizon as your latitude, or the dish drifts off the Moon’s path as the hours go by.'
          : `A level shows how the ${lower} axis slopes, to a fraction of a degree, before anything is heard.`
    case 'references':
      return 'A counter that loses pulses does not say so: only a mark that never moves shows it.'
    case 'readouts':
      return 'A millimetre of jack does not turn the axis by the same angle everywhere: its counts must be made into degrees before they mean anything.'
    case 'heading':
      return 'The beam is a few degrees wide: with a rough heading the Sun is found at once, without one it must be searched for.'
    case 'feed':
      return 'A feed off the axis throws the beam to the other side, and the shadow no longer shows where the beam points.'
    case 'search':
      return 'Until something has been heard nobody knows where the beam points.'
    case 'sightings':
      return 'Each sighting gives two numbers; with a few to spare, one that is wrong shows up.'
    case 'solve':
      return 'All that was measured together says how the mount stands, and what is lost on the Moon’s path.'
    case 'bolts':
      return 'What a spanner takes out needs no correction, whatever program drives the dish.'
    case 'verify':
      return 'Sightings that went into the solution agree with it anyway; only those of another day test whether it holds.'
    case 'carry':
      return 'The dish follows the Moon only once the program that drives it has the numbers.'
  }
}

/** How, in short steps. */
export function howWords(mount: MountRecord, step: AlignmentStep): readonly string[] {
  const [lower, upper] = [axisName(mount, 'lower'), axisName(mount, 'upper')]
  switch (step) {
    case 'site-clock':
      return [
        'Compare the place in the book with a map or the phone’s own position.',
        'Compare the phone’s clock with a time signal on the day you sight: tap on its pips.',
        'Set the clock of the computer that will track in the same way.',
      ]
    case 'mast':
      return isLevelFitted(mount.kind, 'mast-lean')
        ? [
            'Hold the level upright against the mast on three sides or more, as high as you reach.',
            'Shim or guy the mast until it is inside what this dish needs.',
            'Measure once more after the last nut is tight.',
          ]
        : ['Plumb the mast by eye and level on two sides a quarter turn apart, then go on to the axes.']
    case 'axes':
      return mount.kind === 'el-over-az'
        ? [
            'Lay the level along the elevation axis, turn it end over end so that ends and face both change, and keep the two readings.',
            'Do it again with the dish turned half round: a mast’s lean then shows at the other end, the axis’s own slope does not.',
          ]
        : [
            mount.kind === 'ha-dec'
              ? 'Lay the level along the polar axis tube, not on the dish, then turn it end over end: the ends change places and the face turns over.'
              : `Lay the level along the ${lower} axis, then turn it end over end, ends and face.`,
            `Measure the ${upper} axis the same way, with the ${lower} reading noted.`,
            'Or fasten the phone anywhere on the moving part and sweep the axis: that gives its elevation too.',
          ]
    case 'references':
      return [
        'Choose a mark that never moves: a line scribed across pivot and clevis, or where the limit switch stops the axis. Never drive against metal.',
        'Drive onto it from the usual side and note the counter.',
        'Drive through the travel and come back: read the same mark again. Do so at the start and end of every visit.',
      ]
    case 'readouts':
      return [
        'Say what each axis shows: degrees, counts, or the counts of a jack.',
        'Drive to both ends once. Where the axis really stops must be its limit in the book: no sighting shows that.',
        'Halt at five places or more over the travel, and note count and angle by a level or the phone.',
        mount.kind === 'el-over-az'
          ? 'The azimuth axis is upright: a level cannot show its angle; the sightings will.'
          : 'Put the calibration into the station when its figures look right.',
      ]
    case 'heading':
      return [
        'Hang a plumb line near the mast and let it come to rest.',
        mount.kind === 'ha-dec'
          ? 'At the time shown, its shadow lies true north and south: set the polar axis along it.'
          : mount.kind === 'el-over-az'
            ? 'At the time shown, its shadow lies true north and south: set the azimuth readout by it.'
            : 'At the time shown, its shadow lies along the heading in the book: turn the mount along it, or put in what you find.',
        'A compass near steel is wrong by tens of degrees: use it for the side of the sky only.',
      ]
    case 'feed':
      return [
        'Tape from the rim to the feed at three places or more, the same mark on the feed each time.',
        'With the Sun up, drive to it and read where the feed’s shadow falls in the dish.',
        'Later, when the Sun is heard, shadow against signal says which way to move the feed.',
      ]
    case 'search':
      return [
        'Tune the receiver where there is no carrier, AGC off and gain fixed, and keep the noise level in view.',
        'Drive to the places in the order that the search lists them, and stop where the noise rises.',
        'Peak on the Sun there: that is the first sighting.',
      ]
    case 'sightings':
      return [
        'Sun and, where you hear it, Moon: drive on, peak, mark the time, note both readings.',
        'Spread them over the day: low in the east, high, low in the west.',
        'Each part of the sky twice, and always arrive from the same side.',
      ]
    case 'solve':
      return [
        'Look first at what looks wrong, and accept or dismiss it.',
        'If too much is still lost, take the sightings that bring most; sometimes another day is needed.',
      ]
    case 'bolts':
      return [
        'Describe what can be turned on your mount: screw, shim or flange.',
        'Turn what is listed, in that order, and note it as a change.',
        'Sight again: what is left shows whether it went the right way.',
      ]
    case 'verify':
      return [
        'On another day take two or three sightings, far apart in the sky.',
        'Do not change anything on the mount in between.',
        'If they agree within their uncertainty, nothing that matters has moved in between.',
      ]
    case 'carry':
      return [
        'Choose what your program can take: geometry, another site, tables, or slope and offset.',
        'Type it in, and compare what the program shows for the Moon with what this app shows.',
        'Say here that it was done.',
      ]
  }
}

/** One sentence for those who do not see the picture. */
export function pictureSays(mount: MountRecord, step: AlignmentStep): string {
  switch (step) {
    case 'site-clock':
      return 'A clock set to UTC, and a place on the globe.'
    case 'mast':
      return 'The mount from behind the dish: a plumb line hangs beside the mast, a level is held against it.'
    case 'axes':
      return 'The mount from behind the dish: a level lies on each axis that can be levelled.'
    case 'references':
      return 'A line scribed across a jack and its tube, with the counter beside it.'
    case 'readouts':
      return 'An arm at several angles with a level on it, and the count beside each.'
    case 'heading':
      return 'The Sun casts the shadow of a plumb line along the ground.'
    case 'feed':
      return 'The dish from the front: tapes from the rim to the feed, and the feed’s shadow beside it.'
    case 'search':
      return 'The beam at places in rings round the first, and the Sun in one of them.'
    case 'sightings':
      return 'The paths of Sun and Moon over the horizon, with a disc at each sighting.'
    case 'solve':
      return 'The beam beside the Moon, and the angle between.'
    case 'bolts':
      return `The mount from behind the dish, with an arrow at its ${mount.kind === 'el-over-az' ? 'mast' : 'axis'} and one round its foot.`
    case 'verify':
      return 'Two paths over the horizon: the first sightings on one, those of another day on the other.'
    case 'carry':
      return 'The phone’s numbers go into the program that drives the dish.'
  }
}
