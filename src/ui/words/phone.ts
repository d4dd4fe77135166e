/** Words of the phone as a level: what it hears, how it lies, what to do. Pure. */
import type { BiasUse } from '../../core/level/instrumentbias.ts'
import type { Edge, PhoneEnd } from '../../core/level/upvector.ts'
import { degFromRad } from '../../core/units.ts'
import type { AttitudeState, Live } from '../../state/level.ts'
import { duration, fixed } from '../format.ts'

export const PHONE = {
  title: 'The phone as a level',
  start: 'Start the sensors',
  takeNow: 'Take it now',
  byHand: 'Type it by hand',
  back: 'Back',
  again: 'Measure again',
  taken: 'Taken',
  takenBy: 'Taken by the phone',
  useIt: 'Keep it as a level',
  which: 'What did you measure?',
  edge: 'Measure by',
  otherEnd: 'Count from the other end',
  liesOnBack: 'It lies on its back',
  notOnBack: 'It does not seem to lie level on its back. Lay it down, screen up, and press again.',
  howSure: 'How sure',
  still: 'Lay it on, take your hand off: it takes the reading by itself after three seconds of rest.',
  allBroken: 'Nothing to take yet.',
  byPhone: 'Measure with the phone',
  anewByPhone: 'Measure again with the phone',
  live: 'Use the phone as a level',
  instruments: 'Instruments',
} as const

export const EDGE_WORDS: Readonly<Record<Edge, string>> = {
  long: 'Long edge',
  short: 'Short edge',
  screen: 'Plane of the screen',
}
export const END_WORDS: Readonly<Record<PhoneEnd, string>> = {
  top: 'top end',
  bottom: 'bottom end',
  right: 'right edge',
  left: 'left edge',
  screen: 'screen',
  back: 'back',
}
/** "Top end up", "Screen looks down". */
export function endSays(end: PhoneEnd, deg: number): string {
  const word = END_WORDS[end]
  const start = word.charAt(0).toUpperCase() + word.slice(1)
  if (Math.abs(deg) < 0.05) return end === 'screen' || end === 'back' ? `${start} looks level` : `${start} level`
  const way = deg < 0 ? 'down' : 'up'
  return end === 'screen' || end === 'back' ? `${start} looks ${way}` : `${start} ${way}`
}

/** Where the sensors are silent or at odds: what happened and what to do. Null where all is well. */
export function attitudeWords(state: AttitudeState): { stop: boolean; text: string } | null {
  switch (state) {
    case 'delivering':
    case 'silent':
      return null
    case 'starting':
      return { stop: false, text: 'Waiting for the sensors…' }
    case 'not-asked':
      return {
        stop: false,
        text: 'The phone asks you first whether this page may use its sensors. They tell which way is down, and nothing leaves the phone.',
      }
    case 'denied':
      return {
        stop: true,
        text: 'The phone does not let this page use its sensors. Allow motion sensors for this page in the browser’s settings and open it anew, or type what an inclinometer shows.',
      }
    case 'absent':
      return {
        stop: true,
        text: 'No sensor has answered. The page must be open by https; else this machine has none. Type what an inclinometer shows.',
      }
    case 'null-events':
      return { stop: true, text: 'This machine says that it has no tilt sensor. Type what an inclinometer shows.' }
    case 'hidden':
      return { stop: false, text: 'The page is hidden, and hidden pages get no sensors.' }
    case 'stale':
      return { stop: false, text: 'Nothing heard since the page came back. Tilt the phone a little.' }
    case 'disagree':
      return {
        stop: true,
        text: 'The phone’s two sensors are more than 5° apart, so neither is believed. Keep it still for some seconds and away from motors; if it stays, open the page anew.',
      }
    case 'sign-unknown':
      return {
        stop: false,
        text: 'This phone shows acceleration only, and not yet which way it counts. Lay it on its back once, screen up, and press the button.',
      }
  }
}

/** What happens now, in a few words at the number. */
export function stillWords(live: Live, mustMove: boolean): string {
  if (mustMove) return 'Turn it, then let go'
  const { still, secondsLeft } = live
  if (still.kind === 'gathering') return 'Wait'
  if (still.kind === 'moving') return 'Moving'
  return secondsLeft === 0 ? 'Now' : `Still: ${secondsLeft}`
}

/** Whether the instrument's own error is taken off, and if not, why. */
export function biasWords(use: BiasUse): string {
  switch (use.kind) {
    case 'none':
      return 'Its own error is not known: no reversal has been made with it.'
    case 'valid':
      return `Its own error of ${signed(use.bias)}, found ${duration(use.ageMs)} ago, is taken off.`
    case 'old':
      return use.ageMs < 0
        ? `Its own error (${signed(use.bias)}) was found later than this reading and is not taken off.`
        : `Its own error (${signed(use.bias)}) was found ${duration(use.ageMs)} ago. That is more than a day, so it is not taken off: make a new reversal.`
    case 'clamped-anew':
      return `Its own error (${signed(use.bias)}) was found in another clamping. A clamp bends a sensor, so it is not taken off: make a new reversal.`
    case 'lies-otherwise':
      return `Its own error (${signed(use.bias)}) was found with the phone lying on another side, so it is not taken off.`
    case 'other-phone':
      return 'Its own error was found with another phone and is not taken off.'
  }
}
const signed = (rad: number): string => `${fixed(degFromRad(rad), 2)}°`

export const sourceWords = (source: 'orientation' | 'motion'): string =>
  source === 'orientation' ? 'orientation' : 'acceleration'
