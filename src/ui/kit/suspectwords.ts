/** What may be wrong, in a few words each; and why a mount is not said to be good, in one line. Small: the first screen has it. */

import type { Solution, SuspectKind, WhyNot } from '../../core/records/solution.ts'
import { countOf } from './format.ts'

export const SUSPECT_WORDS: Readonly<Record<SuspectKind, string>> = {
  'counter-step': 'A counter slipped',
  'clock-or-longitude': 'Clock or longitude',
  'reading-sense': 'A reading counts the other way',
  'east-west-swapped': 'East and west swapped',
  'readings-swapped': 'Readings swapped',
  'wrong-body': 'Sun and Moon mixed up',
  'lost-motion': 'Lost motion',
  'feed-moved': 'The feed moved',
  'scale-far': 'A scale far off',
  'marked-always': 'A sighting used always',
  'two-halves': 'Two halves that do not fit together',
}

export const NO_SIGHTINGS = 'No sightings yet: the mount is known only as entered.'

/** One line. @param lookOut  what is said where it is only the loss; @param where  where a suspicion stands, after it */
export function whyNotWords(why: WhyNot, lookOut: string, where = ' See “What looks wrong”.'): string {
  switch (why.kind) {
    case 'suspect':
      return `Not proven: ${SUSPECT_SAYS[why.suspect]}.${where}`
    case 'most-aside':
      return `Not proven: ${why.outliers} of ${why.of} sightings are set aside. They do not agree.`
    case 'all-aside':
      return allAside(why.outliers)
    case 'no-sightings':
      return NO_SIGHTINGS
    case 'out-of-reach':
      return 'The Moon does not come within the limits of this mount.'
    case 'loss':
      return lookOut
  }
}

export const allAside = (count: number): string =>
  count === 1
    ? 'The one sighting is set aside: its reading is out of the jack’s range.'
    : `All ${countOf(count, 'sighting')} are set aside: they do not agree.`

/** The weightiest reason, or null where it is within. */
export const firstWhyNot = ({ sky }: Solution): WhyNot | null => sky.whyNot[0] ?? null

const SUSPECT_SAYS: Readonly<Record<SuspectKind, string>> = {
  'counter-step': 'a counter seems to have slipped',
  'clock-or-longitude': 'clock or longitude seem wrong',
  'reading-sense': 'a reading seems to count the other way',
  'east-west-swapped': 'east and west seem swapped',
  'readings-swapped': 'the two readings seem swapped',
  'wrong-body': 'Sun and Moon seem mixed up',
  'lost-motion': 'an axis seems to have lost motion',
  'feed-moved': 'the feed seems to have moved',
  'scale-far': 'a scale seems far off',
  'marked-always': 'a sighting marked “always” goes against the rest',
  'two-halves': 'two halves of the sightings do not fit together',
}
