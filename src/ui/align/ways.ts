/** From a step of the alignment to the screens that do it: the one of its action, and others that help. Pure. */
import type { AlignmentStepJson } from '../../core/alignment/json.ts'
import type { Need } from '../../core/alignment/step.ts'
import { AXES } from '../../core/mount/names.ts'
import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Guess } from '../../core/records/guesses.ts'
import { levelKinds } from '../../core/records/levelkinds.ts'
import { OFFSET_FED } from '../kit/offsetfedwords.ts'
import { axisName } from '../kit/phrases.ts'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { ALIGN } from './words.ts'

export interface WayThere {
  word: string
  to: readonly string[]
}

export const WAY = {
  clock: 'Check the clock',
  place: 'The place in the book',
  level: 'Measure it with a level',
  sweep: 'Sweep an axis with the phone',
  dish: 'The dish itself, by level',
  mark: 'Read a mark',
  readout: (axis: string) => `Say what ${axis} shows`,
  counts: (axis: string) => `Degrees per count of ${axis}`,
  limits: (axis: string) => `Where ${axis} stops, in the book`,
  sunline: 'The Sun’s line',
  compass: 'A rough heading by compass',
  rim: 'Tape from the rim',
  strings: 'Rim and bowl by tape',
  noon: 'Noon check: read the shadow',
  feed: 'Shadow against signal',
  search: 'Begin the search',
  sight: 'Drive to a target',
  ahead: 'Which sightings bring most',
  suspects: 'What looks wrong',
  aside: 'The sightings set aside',
  correct: 'How the mount stands',
  bolts: 'What to turn',
  moved: 'Has it moved?',
  software: 'Numbers for the program',
  points: 'Check points',
  compare: 'Compare a program',
} as const

const has = <K extends Need['what']>(step: AlignmentStepJson, what: K): Extract<Need, { what: K }> | undefined =>
  step.needs.find((n): n is Extract<Need, { what: K }> => n.what === what)

/** Where the action leads; null where the step is not for this mount or dish, and nothing does it. */
export function mainWay(station: StationRecord, step: AlignmentStepJson, feed: string): WayThere | null {
  const { mount } = station
  const first = has(step, 'step')?.step
  if (first) return { word: ALIGN.open(STEP_NAMES[first]), to: ['align', first] }
  switch (step.id) {
    case 'site-clock':
      return { word: WAY.clock, to: ['mount', 'clock'] }
    case 'mast':
      return { word: WAY.level, to: ['mount', 'measure', 'mast-lean'] }
    case 'axes': {
      const missing = has(step, 'level')?.level
      const finer = has(step, 'finer')?.value
      const level = missing ?? (finer?.of === 'level' ? finer.level : null)
      const any = levelKinds(mount.kind).find(k => k === 'lower-axis-elevation') ?? 'upper-axis-elevation'
      return { word: WAY.level, to: ['mount', 'measure', level ?? any] }
    }
    case 'references':
      return { word: WAY.mark, to: ['mount', 'mark'] }
    case 'readouts': {
      const said = has(step, 'readout')
      if (said) return { word: WAY.readout(axisName(mount, said.axis)), to: ['book', 'edit', station.id, said.axis] }
      const axis = has(step, 'calibration')?.axis ?? 'upper'
      return { word: WAY.counts(axisName(mount, axis)), to: ['mount', 'counts', axis] }
    }
    case 'heading':
      return { word: WAY.sunline, to: ['mount', 'sunline'] }
    case 'feed':
      if (step.state.kind === 'not-for') return { word: OFFSET_FED.instead, to: ['sight'] }
      if (has(step, 'rim')) return { word: WAY.rim, to: ['book', 'dish', 'rim', feed] }
      return has(step, 'shadow')
        ? { word: WAY.noon, to: ['sight', 'noon'] }
        : { word: WAY.feed, to: ['correct', 'feed'] }
    case 'search':
      return { word: WAY.search, to: ['sight', 'search'] }
    case 'sightings':
      return { word: WAY.sight, to: ['sight'] }
    case 'solve': {
      const why = has(step, 'verdict')?.whyNot.kind
      if (why === 'suspect') return { word: WAY.suspects, to: ['correct', 'suspects'] }
      if (why === 'most-aside' || why === 'all-aside') return { word: WAY.aside, to: ['correct', 'left'] }
      if (why === 'loss') return { word: WAY.ahead, to: ['correct', 'ahead'] }
      return { word: WAY.correct, to: ['correct'] }
    }
    case 'bolts':
      return { word: WAY.bolts, to: ['correct', 'bolts'] }
    case 'verify':
      return { word: WAY.moved, to: ['correct', 'moved'] }
    case 'carry':
      return { word: WAY.software, to: ['correct', 'software'] }
  }
}

/** What else helps. */
export function otherWays(station: StationRecord, step: AlignmentStepJson): WayThere[] {
  const { mount } = station
  switch (step.id) {
    case 'site-clock':
      return [{ word: WAY.place, to: ['book', 'edit', station.id, 'place'] }]
    case 'axes':
      return [
        ...levelKinds(mount.kind)
          .filter(k => k === 'upper-axis-elevation' || k === 'dish-elevation')
          .map(k => ({
            word: k === 'dish-elevation' ? WAY.dish : `${WAY.level}: ${axisName(mount, 'upper')}`,
            to: ['mount', 'measure', k],
          })),
        { word: WAY.sweep, to: ['mount', 'swing'] },
      ]
    case 'readouts':
      return [
        { word: WAY.dish, to: ['mount', 'measure', 'dish-elevation'] },
        { word: WAY.sweep, to: ['mount', 'swing'] },
        ...AXES.map(axis => ({
          word: WAY.limits(axisName(mount, axis)),
          to: ['book', 'edit', station.id, axis],
        })),
      ]
    case 'heading':
      return [{ word: WAY.compass, to: ['mount', 'heading'] }]
    case 'feed':
      return step.state.kind === 'not-for'
        ? []
        : [
            { word: WAY.strings, to: ['book', 'dish'] },
            { word: WAY.noon, to: ['sight', 'noon'] },
          ]
    case 'sightings':
      return [{ word: WAY.ahead, to: ['correct', 'ahead'] }]
    case 'solve':
      return [{ word: WAY.correct, to: ['correct'] }]
    case 'verify':
      return [{ word: WAY.sight, to: ['sight'] }]
    case 'carry':
      return [
        { word: WAY.points, to: ['correct', 'software', 'check'] },
        { word: WAY.compare, to: ['correct', 'program'] },
      ]
    default:
      return []
  }
}

/** The guesses that a step would replace by measurements. */
export function guessesOf(station: StationRecord, step: AlignmentStep): Guess[] {
  const about: Partial<Record<AlignmentStep, RegExp>> = {
    'site-clock': /^site\./,
    readouts: /^mount\.(lower|upper)\./,
    heading: /^mount\.headingDeg$/,
    feed: /^dish\.focalRatio$/,
  }
  const of = about[step]
  return of === undefined
    ? []
    : (Object.entries(station.guesses ?? {}) as [Guess, boolean | undefined][]).flatMap(([path, is]) =>
        is === true && of.test(path) ? [path] : [],
      )
}
