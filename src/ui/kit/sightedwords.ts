/** What stands in place of a solution where no sighting counts. */
import type { Sighted } from '../../state/sighted.ts'
import { countOf } from './format.ts'
import { allAside, NO_SIGHTINGS } from './suspectwords.ts'

/** Why no sighting counts, on every screen that asks for a solution; '' where one does. */
export function noneCounts(sighted: Sighted): string {
  switch (sighted.kind) {
    case 'none':
      return NO_SIGHTINGS
    case 'left-out':
      return sighted.count === 1
        ? 'The one sighting is left out: the mount is known only as entered.'
        : `All ${countOf(sighted.count, 'sighting')} are left out: the mount is known only as entered.`
    case 'set-aside':
      return allAside(sighted.count)
    case 'some':
    case 'not-known':
      return ''
  }
}
