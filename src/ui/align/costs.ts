/** What leaving a step out costs, in one sentence. */
import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { axisName } from '../kit/phrases.ts'

export function costOfLeaving(mount: MountRecord, step: AlignmentStep): string {
  switch (step) {
    case 'site-clock':
      return 'A clock that is wrong by a minute turns everything by a quarter of a degree, and sightings alone cannot show it.'
    case 'mast':
      return 'The sightings must find the lean: two or three more of them, on both sides of the sky.'
    case 'axes':
      return `The sightings must separate the ${axisName(mount, 'lower')} axis from everything else: several more of them, on several days.`
    case 'references':
      return 'A counter that slips shows only in sightings that no longer agree.'
    case 'readouts':
      return 'The sightings must find the counts too: take twelve, spread over the whole travel.'
    case 'heading':
      return 'The Sun must be searched for, all the way round where nothing is known.'
    case 'feed':
      return 'Shadows then do not show where the beam points; sightings by signal are not affected.'
    case 'search':
      return 'Nothing is lost if the Sun is heard without it.'
    case 'sightings':
    case 'solve':
      return 'Without it nobody knows where the beam goes, and nothing can be carried over.'
    case 'bolts':
      return 'Costs nothing if the program takes the whole solution; with slope and offset alone, part of the error stays.'
    case 'verify':
      return 'Whether it holds from day to day is then not known.'
    case 'carry':
      return 'The dish follows the mount as entered, with all its errors.'
  }
}
