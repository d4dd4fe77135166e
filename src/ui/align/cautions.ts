/** The cautions of the alignment: at each step those of the act that it leads to. */
import type { AlignmentStep } from '../../core/records/alignment.ts'
import { CAUTIONS } from '../kit/mount/words.ts'

interface CautionWords {
  act: string
  gravest: string
  more: readonly string[]
}

/** At the whole list: what holds for every visit. The same acts as elsewhere, so that a caution read today is short here too. */
export const SITE_CAUTION: CautionWords = {
  act: 'site',
  gravest: 'Lightning: leave the mast at the first thunder, however far off.',
  more: [
    'Wind: know the wind your mount is good for, and stow the dish before it comes.',
    'Mains: the jack supply on a residual-current device (RCD, GFCI), out of the wet, and off before hands go near a jack.',
    'Height: a ladder on firm ground, held by somebody. Not alone. Local rules come first.',
  ],
}

const SUN_LINE: CautionWords = {
  act: 'sun-line',
  gravest: 'Never look at the Sun: stand with your back to it and look at the shadow.',
  more: [
    'Before a clamp is loosened to turn the mount: jack supply off, the dish propped or tied, not in wind, not alone.',
  ],
}
const FIRST_MOVE: CautionWords = {
  act: 'first-move',
  gravest: 'First automatic move: somebody at the switch, nobody near the dish.',
  more: [
    'First drive each axis to both limits with the buttons: the limit switches must stop it.',
    'Transmitter off until it follows the Moon.',
  ],
}

/** `dish` and `sun`: cautions with a figure for this dish, in the kit. Null: nothing dangerous. */
export function cautionOf(step: AlignmentStep): CautionWords | 'dish' | 'sun' | null {
  switch (step) {
    case 'mast':
      return CAUTIONS.mast
    case 'axes':
      return CAUTIONS.axis
    case 'references':
      return CAUTIONS.mark
    case 'readouts':
      return CAUTIONS.axis
    case 'heading':
      return SUN_LINE
    case 'feed':
      return 'dish'
    case 'search':
    case 'sightings':
    case 'verify':
      return 'sun'
    case 'bolts':
      return CAUTIONS.unpinned
    case 'carry':
      return FIRST_MOVE
    default:
      return null
  }
}
