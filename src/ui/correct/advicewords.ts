/** What to turn and which way, in a sentence. The move itself is core/export/advice.ts's. */
import type { AboutVertical, Advice, MovedPart, Toward } from '../../core/export/advice.ts'
import { type LengthUnit, measured, measuredLength, NBSP } from '../kit/format.ts'

/** "clockwise, seen from above" */
const TOWARD: Readonly<Record<Toward, string>> = {
  clockwise: 'clockwise, seen from above',
  anticlockwise: 'anticlockwise, seen from above',
  north: 'toward the north',
  south: 'toward the south',
  east: 'toward the east',
  west: 'toward the west',
  up: 'up',
  down: 'down',
  left: 'to the left, as seen from behind',
  right: 'to the right, as seen from behind',
  forward: 'forward',
  back: 'back',
  'up-mark': 'toward the UP mark',
  'from-up-mark': 'away from the UP mark',
}

const BEHIND = 'as seen from behind the mount'
const AT_MERIDIAN = 'with the dish at the meridian'

/** The sentence without its full stop; `size` is "1.3 ± 0.6°". */
function sentenceOf(part: MovedPart, toward: Toward, size: string): string {
  const way = TOWARD[toward]
  switch (part) {
    case 'mount':
      return `Turn the whole mount ${size} ${way}`
    case 'mast':
      return `Tip the mast ${size} ${way}`
    case 'polar-axis':
      return toward === 'up' || toward === 'down'
        ? `${toward === 'up' ? 'Raise' : 'Lower'} the upper end of the polar axis by ${size}`
        : `Move the upper end of the polar axis ${size} ${way}`
    case 'left-end':
      return `Raise the left-hand end of the tilt axis by ${size}, ${BEHIND}`
    case 'right-end':
      return `Raise the right-hand end of the tilt axis by ${size}, ${BEHIND}`
    case 'forward-end':
      return `Raise the forward end of the X axis by ${size}`
    case 'rear-end':
      return `Raise the rear end of the X axis by ${size}`
    case 'upper-axis-left-end':
      return `Raise the left-hand end of the elevation axis by ${size}, ${BEHIND}`
    case 'upper-axis-right-end':
      return toward === 'up'
        ? `Raise the right-hand end of the elevation axis by ${size}, ${BEHIND}`
        : `Move the right-hand end of the Y axis ${size} ${way}, with the dish at the zenith`
    case 'upper-axis-top':
      return `Tip the top of the swing axis ${size} ${way}`
    case 'upper-axis-west-end':
      return `Move the west end of the declination axis ${size} ${way}, ${AT_MERIDIAN}`
    case 'dish':
      return toward === 'up' || toward === 'down'
        ? `Tip the dish on its bracket ${size} ${way}`
        : `Turn the dish on its frame ${size} ${way}${toward === 'east' || toward === 'west' ? `, ${AT_MERIDIAN}` : ''}`
    case 'feed':
      return toward === 'left' || toward === 'right'
        ? `Move the feed ${toward} ${size}, as seen from behind`
        : `Move the feed ${size} ${way}`
    case 'tube':
      return `Turn the sighting tube ${size} ${way}`
  }
}

const footWords = (v: AboutVertical): string =>
  ` Or turn its whole foot ${measured(v.sizeDeg, v.sigmaDeg, '°').text} ${TOWARD[v.toward]}: that moves the hour angle's zero by ${measured(Math.abs(v.zeroShiftDeg), null, '°').text}, so sight again.`

export function adviceWords(advice: Advice, unit: LengthUnit): string {
  switch (advice.kind) {
    case 'move': {
      const { size, sigma } = advice
      const text = advice.unit === 'mm' ? measuredLength(size, sigma, unit).text : measured(size, sigma, '°').text
      const sentence = sentenceOf(advice.part, advice.toward, text)
      const foot = advice.aboutVertical ? footWords(advice.aboutVertical) : ''
      return advice.firstStep
        ? `A first step, the rest is not known yet: ${sentence[0]!.toLowerCase()}${sentence.slice(1)}. Then sight again.${foot}`
        : `${sentence}.${foot}`
    }
    case 'leave':
      return 'Leave it: within its uncertainty it could just as well be zero.'
    case 'not-yet':
      return 'Turn nothing for this yet.'
    case 'software':
      return `A number for the program, not for a${NBSP}spanner.`
    case 'stiffen':
      return 'It bends: a stay would help; otherwise it is a number for the program.'
    case 'slack':
      return 'Take up the play, and always arrive from the same side.'
  }
}
