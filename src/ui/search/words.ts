/** Words of "First search": how far the Sun may be, what to set, what should be heard, and what to do once it is. */
import type { FirstSearchJson } from '../../core/plan/firstsearchjson.ts'
import { instantMs } from '../../core/records/instant.ts'
import { countOf, degrees, duration, fixed, NBSP, toward, utcAndLocal } from '../kit/format.ts'

export const SEARCH = {
  begin: 'Begin the search',
  next: 'Nothing here: next',
  heard: 'Heard it',
  back: 'One step back',
  stop: 'Stop the search',
  again: 'Search again from the middle',
  asking: 'Working out the search…',
  failed: 'The search could not be worked out:',
  why: 'For a dish that has not heard the Sun yet: it is pointed at one place after another until the receiver hears it.',
  seconds: 'Seconds for each step',
  secondsHint: 'To listen, and to drive where the speed of the axes is not known. Optional: 20 s if left empty.',
  sure: 'No search is needed: the Sun should be in the beam.',
  sureWhy: 'As far as is known, the Sun is already in the beam. Drive to it and peak.',
  toSun: 'Drive to the Sun',
  noPose: 'No step of the search is within the limits of this mount now.',
  noPoseWhy: 'Wait until the Sun is elsewhere, or check the limits and the heading under Book.',
  stepLost: 'No pose of this mount reaches this step now. Go on to the next.',
  low: 'The Sun is too low now: readings are shown, but the ground is heard too.',
  steps: 'steps',
  quicker: 'Bring it nearer first',
  sunline: 'The Sun’s line: see which way it faces',
  heading: 'A rough heading by compass',
  noon: 'The feed’s shadow on the dish',
  done: 'Nothing was heard at any step.',
  doneWhy: [
    'Check that the receiver hears at all: point at the ground, then at the sky. The ground should be louder.',
    'Check the clock, the site and the way each axis counts: a reading with the wrong sign or a limit that is a guess sends the beam elsewhere.',
  ],
  kept: 'Kept as the first sighting',
  keptWhy: (sigma: string) =>
    `The Sun was in the beam or just beside it: it counts with an uncertainty of ${sigma} until you have peaked.`,
  keptNow: 'Now move one axis at a time for the strongest signal, and mark the time there.',
  peak: 'Peak on it and mark',
  see: 'See this sighting',
  note: 'First search: heard here, not peaked.',
  plot: 'The search, as seen from behind the dish',
  readings: 'If the dish shows something else, edit the sighting afterwards.',
  caution: 'Sunlight burns at the feed, and jacks move: hands and face clear.',
  agc: 'Set the receiver where there is no carrier, AGC off, and watch the noise. Move on if it does not rise.',
  help: [
    'The steps lie round the place where the Sun is expected, as far as it may be off (95 %), the likelier ones first. Between steps the beam loses 3 dB at most.',
    'The Sun moves on while you search: the readings of a step are those for now.',
  ],
  moon: {
    'too-far':
      'The Moon is not proposed yet: the beam may be more than its own width off, and the Moon’s noise or echo is too weak to search by.',
    'not-heard': 'The Moon’s noise is too weak for this dish to point by; use the Sun.',
    may: 'The Moon can be used as well: it should be in the beam.',
  },
} as const

const about = (deg: number): string => degrees(deg, deg < 9.5 ? 1 : 0)

/** "The Sun may be up to 27° from where it is expected, 15° the other way." */
export function extentWords({ isCircle, extentDeg: { wide, narrow } }: FirstSearchJson): string {
  if (isCircle)
    return `Nobody knows yet which way this mount faces: the search goes all the way round at the Sun’s height, then up to ${about(narrow)} above and below it.`
  return narrow > 0.7 * wide
    ? `The Sun may be up to ${about(wide)} from where it is expected.`
    : `The Sun may be up to ${about(wide)} from where it is expected one way, and ${about(narrow)} across that.`
}

export const timeWords = (plan: FirstSearchJson): string => `${duration(1000 * plan.seconds)} at most`

export const skippedWords = (plan: FirstSearchJson): string | null => {
  const beyond =
    plan.skipped === 0
      ? ''
      : `${countOf(plan.skipped, 'step')} beyond the limits ${plan.skipped === 1 ? 'is' : 'are'} skipped: the Sun may be there.`
  const more =
    plan.leftOut === 0
      ? ''
      : `${countOf(plan.leftOut, 'step')} farther out ${plan.leftOut === 1 ? 'is' : 'are'} not listed.`
  return [beyond, more].filter(Boolean).join(' ') || null
}

/** For a long search: what to do first. */
export const longSearchWords = (plan: FirstSearchJson, canShadow: boolean): string =>
  plan.isCircle
    ? `That takes ${duration(1000 * plan.seconds)}. A line to the Sun${canShadow ? ', or the shadow of the feed,' : ''} tells in minutes which way it faces.`
    : `That takes ${duration(1000 * plan.seconds)}. A level or a heading${canShadow ? ', or the shadow of the feed,' : ''} makes it shorter.`

const dB = (x: number): string => fixed(x, x < 9.95 ? 1 : 0)

/** "The Sun should be 6.6 to 9.1 dB above cold sky." */
export function riseWords({ rise }: FirstSearchJson): string {
  if (rise.sunDb === null || rise.betweenDb === null)
    return 'The Sun’s flux is not published for this frequency: how far it is above cold sky is not known.'
  const [least, most] = [dB(rise.betweenDb), dB(rise.sunDb)]
  return `The Sun should be ${least === most ? most : `${least} to ${most}`}${NBSP}dB above cold sky.`
}

/** The same while one listens: "Expect 6.6 to 9.1 dB above cold sky." */
export const expectedRiseWords = (plan: FirstSearchJson): string =>
  riseWords(plan).replace('The Sun should be', 'Expect')

/** What that rests on. */
export function riseWhy({ rise }: FirstSearchJson): string {
  const flux =
    rise.sfu === null
      ? ''
      : rise.fluxFrom === 'quiet'
        ? 'Today’s flux is not known: this is a quiet Sun, and it may be more.'
        : 'By the flux of your last noise record.'
  const system = rise.systemFrom === 'assumed' ? ' The receiver is taken as an ordinary one of 100 K.' : ''
  return `${flux}${system}`.trim()
}

export const TOO_WEAK = 'That is too little to notice. Measure the noise first, or use a feed that hears more.'

export const lowWords = (plan: FirstSearchJson): string =>
  plan.nextUtc === null
    ? 'The Sun is too low, and stays so for two days.'
    : `The Sun is too low to search for. It is high enough from ${utcAndLocal(instantMs(plan.nextUtc))}.`

/** "Step 4 of 103" */
export const searchStepWords = (at: number, of: number): string => `Step ${fixed(at + 1, 0)} of ${fixed(of, 0)}`

/** "right 3.8°, up 3.8°", or the middle. */
export function whereWords({ rightDeg, upDeg }: { rightDeg: number; upDeg: number }): string {
  const parts = [
    ...(Math.abs(rightDeg) < 0.05 ? [] : [toward(rightDeg, ['left', 'right'], '°')]),
    ...(Math.abs(upDeg) < 0.05 ? [] : [toward(upDeg, ['down', 'up'], '°')]),
  ]
  return parts.length === 0 ? 'where the Sun is expected' : `${parts.join(', ')} of where the Sun is expected`
}
