/** Why a mount is not said to be good, in one line: what speaks against it, or that no sighting counts. */
import type { Solution, SuspectKind, WhyNot } from '../../core/records/solution.ts'
import type { Sighted } from '../../state/sighted.ts'
import { countOf } from './format.ts'

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
      return 'No sighting counts yet: the mount is known only as entered.'
    case 'out-of-reach':
      return 'The Moon does not come within the limits of this mount.'
    case 'loss':
      return lookOut
  }
}

const allAside = (count: number): string =>
  count === 1
    ? 'The one sighting in use is set aside: its readings do not fit this mount.'
    : `All ${countOf(count, 'sighting')} in use are set aside: they do not agree.`

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

/** Why no sighting counts, on every screen that asks for a solution; '' where one does. */
export function noneCounts(sighted: Sighted): string {
  switch (sighted.kind) {
    case 'none':
      return 'No sightings yet: the mount is known only as entered.'
    case 'left-out':
      return sighted.count === 1
        ? 'The one sighting is left out: the mount is known only as entered.'
        : `All ${countOf(sighted.count, 'sighting')} are left out: the mount is known only as entered.`
    case 'set-aside':
      return allAside(sighted.count)
    case 'computing':
      return 'Computing…'
    case 'some':
    case 'not-known':
      return ''
  }
}
