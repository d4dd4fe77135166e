/** Words of shadow against signal: where each feed sits, which way to move it and how far, what it costs, what remains. */
import type { FeedCheckJson } from '../../core/check/feedjson.ts'
import { countOf, degrees, type LengthUnit, measured, measuredLength, NBSP } from '../kit/format.ts'
import { oneWayLoss } from '../kit/loss.ts'

export const FEED = {
  why: 'A feed off the axis moves its shadow one way and the beam the other. Sightings of the Sun by both show where it really sits.',
  asking: 'Comparing shadow and signal…',
  failed: 'This could not be computed. Load the page again; the book is safe.',
  sits: 'It sits',
  cost: 'Lost when aimed by the shadow',
  costSkewed: 'Lost even when aimed by the beam',
  remains: 'What will remain',
  sightings: 'Known from',
  droop: 'Sag as the dish points low',
  moved: 'I moved it: note how far',
  noon: 'Read a shadow',
  storm: 'After a storm',
  good: 'On the axis',
  done: 'Done',
  open: 'Not known yet',
  peak: 'Peak on the Sun',
  movedTitle: 'The feed was moved',
  movedWhy: 'What was found before still counts: the place now expected is kept with the change.',
  across: 'Sideways by',
  acrossSide: 'To which side, seen from behind',
  along: 'Along the UP mark by',
  alongSide: 'Which way',
  left: 'left',
  right: 'right',
  up: 'toward UP',
  down: 'away from UP',
  asAdvised: (text: string) => `As advised: ${text}`,
  zero: 'Enter 0 where it was not moved that way.',
  keep: 'Keep this change',
  when: 'When',
  back: 'Back to the feeds',
  noFeed: 'This feed is no longer at this station.',
  note: (move: string) => `feed moved ${move}`,
  missing: {
    amount: 'Say how far it was moved, both ways; 0 is an answer.',
    side: 'Say to which side.',
    way: 'Say toward or away from the UP mark.',
    time: 'The time cannot be read.',
    computing: 'Working out what to expect after it…',
  },
} as const

interface Place {
  rightMm: number
  upMm: number
  sigmaRightMm: number
  sigmaUpMm: number
}

/** One coordinate: "12 ± 2 mm to the left"; empty where it rounds to nothing. */
function part(mm: number, sigma: number, words: readonly [string, string], unit: LengthUnit): string {
  const m = measuredLength(Math.abs(mm), sigma, unit)
  return mm !== 0 && /[1-9]/.test(m.value) ? `${m.text} ${words[mm < 0 ? 0 : 1]}` : ''
}

const parts = (p: Place, across: readonly [string, string], along: readonly [string, string], unit: LengthUnit) =>
  [part(p.rightMm, p.sigmaRightMm, across, unit), part(p.upMm, p.sigmaUpMm, along, unit)].filter(Boolean)

const MOVE_ACROSS = ['to the left', 'to the right'] as const
const MOVE_ALONG = ['away from the UP mark', 'toward the UP mark'] as const

/** "12 ± 2 mm to the left and 5 ± 2 mm toward the UP mark" */
const moveWords = (f: FeedCheckJson, unit: LengthUnit): string =>
  parts({ ...f, ...f.move }, MOVE_ACROSS, MOVE_ALONG, unit).join(' and ')

/** A move without its ±, as it is noted. */
export const movedWords = (move: { rightMm: number; upMm: number }, unit: LengthUnit): string => {
  const bare = { ...move, sigmaRightMm: 0, sigmaUpMm: 0 }
  return parts(bare, MOVE_ACROSS, MOVE_ALONG, unit).join(' and ') || 'not at all'
}

/** The sentence of a feed. */
export function verdictSays(f: FeedCheckJson, unit: LengthUnit): string {
  switch (f.verdict) {
    case 'move':
      return `Move the feed ${moveWords(f, unit)}, seen from behind the dish.`
    case 'leave':
      return 'Leave the feed alone: it sits on the axis, within its uncertainty or within what is worth moving.'
    case 'done':
      return `Done: the feed sits right. An error of ${measuredLength(f.limitMm, null, unit).text} would have shown.`
    case 'unchecked':
      return 'Moved and not checked yet: leave the feed alone.'
    case 'not-as-noted':
      return 'The sightings since then do not fit the move as noted. Was it the other way, or by another amount? Look at the change, and at the feed.'
    case 'not-yet':
      return 'Not known yet: leave the feed alone.'
  }
}

/** What would make it known. */
export function wantedSays(f: FeedCheckJson): string {
  if (f.verdict === 'not-as-noted')
    return 'Correct the change if it is wrong. If it is right, take two or three more by shadow and by signal.'
  if (f.verdict === 'unchecked') {
    const both = [
      f.wanted.shadow > 0 ? countOf(f.wanted.shadow, 'shadow', 'shadows') : '',
      f.wanted.signal > 0 ? countOf(f.wanted.signal, 'Sun peak by signal', 'Sun peaks by signal') : '',
    ].filter(Boolean)
    return `To tell whether it is done: ${both.join(' and ')}${f.sightings.shadow + f.sightings.signal > 0 ? ' more' : ''}, since the move.`
  }
  const { shadow, signal } = f.sightings
  if (shadow === 0 && signal === 0) return 'Both are needed: the feed’s shadow and the strongest signal, of the Sun.'
  if (shadow === 0) return 'No shadow read yet. Two or three in different parts of the sky are enough.'
  if (signal === 0) return 'The shadow alone does not show it. Peak on the Sun by its signal too, or scan across it.'
  return 'A few more of both, in other parts of the sky, would show it.'
}

/** "12 ± 2 mm right, 3 ± 2 mm toward UP" */
export const placeSays = (f: FeedCheckJson, unit: LengthUnit): string =>
  parts(f, ['left', 'right'], ['away from UP', 'toward UP'], unit).join(', ') ||
  `on the axis, ± ${measuredLength(Math.max(f.sigmaRightMm, f.sigmaUpMm), null, unit).text}`

/** What is lost while the dish is aimed by the shadow. */
export const costNote = (f: FeedCheckJson): string => {
  const { rightDeg, upDeg, sigmaRightDeg, sigmaUpDeg } = f.beamFromShadow
  const m = measured(Math.hypot(rightDeg, upDeg), Math.hypot(sigmaRightDeg, sigmaUpDeg) / Math.SQRT2, '°')
  return `The beam is ${m.text} from the shadow line. One way; twice that on echoes.`
}

export const remainsSays = (f: FeedCheckJson, unit: LengthUnit): string =>
  `±${NBSP}${measuredLength(f.after.sigmaMm, null, unit).text}, ${oneWayLoss(f.after.byShadowDb)}`

export const countsSays = (f: FeedCheckJson): string =>
  `${f.sightings.shadow} by shadow, ${f.sightings.signal} by signal`

/** The feed's sinking told apart from the dish's. */
export function droopSays(f: FeedCheckJson, unit: LengthUnit): string {
  const { verdict, feedMm, sigmaFeedMm, sagDeg, sigmaSagDeg } = f.droop
  const feed = measuredLength(Math.abs(feedMm), sigmaFeedMm, unit).text
  const sag = measured(Math.abs(sagDeg), sigmaSagDeg, '°').text
  const dish = `The dish as a whole ${sagDeg < 0 ? 'rises' : 'droops'} by ${sag}.`
  switch (verdict) {
    case 'sinks':
      return `The feed ${feedMm < 0 ? 'rises' : 'sags'} by ${feed} from zenith to horizon: look at its struts. ${dish}`
    case 'does-not':
      return `The feed keeps its place, ${feed}. ${dish}`
    case 'cannot-tell':
      return 'Open: whether the feed sags on its struts or the whole dish droops. Shadow and signal of the Sun, low and high, would show it.'
  }
}

/** Which tells it apart from a squint. */
export const squintSays = (f: FeedCheckJson): string | null => {
  const { rightDeg, upDeg, sigmaRightDeg, sigmaUpDeg } = f.squint
  const isSure = Math.abs(rightDeg) > 3 * sigmaRightDeg || Math.abs(upDeg) > 3 * sigmaUpDeg
  return isSure
    ? `The beam is also ${degrees(Math.hypot(rightDeg, upDeg), 2)} off for another reason. Do not move the feed for that.`
    : null
}
