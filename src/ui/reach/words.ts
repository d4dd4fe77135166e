/** Words of "Will it reach?": before building, what a mount gets of the Moon and what takes the rest. */
import type { LossJson, WillReachJson } from '../../core/plan/willreachjson.ts'
import type { MountKind, MountRecord } from '../../core/records/fieldbook.ts'
import { degrees, fixed, NBSP, safeText } from '../kit/format.ts'
import { hindranceWords } from '../kit/hindrancewords.ts'
import { axisName, capital, listed, MOUNT_WORDS, WINDS } from '../kit/phrases.ts'
import type { ReachForm, Variant, Which } from './typed.ts'

export const REACH = {
  computing: 'Computing…',
  lead: 'Before the post is in concrete: how many hours of the Moon a mount would get at a place, and what takes the rest.',
  place: 'Place',
  sky: 'Skyline and minimum elevation',
  open: 'not yet',
  mount: (which: Which, hasB: boolean) => (hasB ? `Mount ${which.toUpperCase()}` : 'Mount'),
  next: {
    place: 'Next: the place',
    sky: 'Next: the skyline',
    a: 'Next: the mount',
    b: 'Next: mount B',
  },
  back: 'Show the hours',
  take: (name: string) => `Take the values of ${safeText(name)}`,
  compare: 'Compare with another mount',
  changeB: 'Change mount B',
  dropB: 'Leave out mount B',
  hours: (year: number) => `Hours of the Moon in ${year}`,
  more: (year: number) => `B against A in ${year}`,
  months: 'Month by month',
  monthsTwo: 'Month by month: A full, B hollow',
  skyTitle: 'The sky: hatched is lost',
  skyCurves: 'Curves: the Moon’s path when it goes farthest north and farthest south.',
  details: (mount: string) => `${mount}: what takes the rest`,
  skyOf: 'the sky, hatched is lost',
  lost: 'What takes the rest',
  nothingLost: 'Nothing: the mount reaches all of it.',
  none: 'This mount reaches nothing of the Moon’s path.',
  hourAngle: 'Hour angle',
  declination: 'Declination',
  cycle: 'What is reached, and over 18.6 years',
  best: 'Best year',
  worst: 'Worst year',
  cycleWhy: 'The Moon goes farther north and south in some years than in others.',
  perMonth: (hours: string) => `${hours}${NBSP}h a month`,
  ofUp: (share: string) => `${share} of the hours it is up`,
} as const

export const FORM = {
  placeTitle: 'Will it reach? The place',
  skyTitle: 'Will it reach? The skyline',
  mountTitle: (which: Which) => `Will it reach? Mount ${which.toUpperCase()}`,
  kind: 'What kind of mount',
  usual: 'Limits are angles of the axis, not counts. A kind just chosen starts with its usual ones.',
  lowest: (axis: string) => `Lowest ${axis}`,
  highest: (axis: string) => `Highest ${axis}`,
  heading: 'Heading',
  headingHint: 'From true north through east.',
  offset: 'Offset of the dish above the swing plane',
  offsetHint: 'Usually 0. Optional.',
  pole: (el: string) => `The polar axis points at the pole: its elevation is your latitude, ${el}.`,
  turnOver: 'Turn it over, east for west',
  sameAsA: 'The same as mount A again',
  minEl: 'Minimum elevation',
  minElHint: 'Optional: else 8°.',
  skyline:
    'Height of the skyline in eight directions, seen from the dish, with straight lines between. Leave a clear one empty.',
} as const

export const FAULT = {
  place: 'The place is missing: a locator, or latitude and longitude.',
  kind: 'Choose the kind of mount.',
  limit: 'All four limits must be angles, from −360 to 360°.',
  order: (axis: string) => `The lowest ${axis} must be below the highest.`,
  heading: 'The heading is missing: from 0 to 360°.',
  offset: 'The offset of the dish must be from −45 to 45°.',
  minEl: 'The minimum elevation must be from 0 to 90°.',
  skyline: 'Heights of the skyline must be from 0 to 90°.',
} as const

export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const

export const hoursWords = (hours: number): string => `${fixed(hours, 0)}${NBSP}h`
export const shareWords = (share: number): string =>
  share > 0 && share < 0.005 ? `under 1${NBSP}%` : `${fixed(100 * share, 0)}${NBSP}%`

/** "+198", "−12", "0": with its sign, since it is a difference. */
export const differenceDigits = (hours: number): string => {
  const text = fixed(hours, 0)
  return hours > 0 && text !== '0' ? `+${text}` : text
}

/** "B gets 198 h more, 11 %." */
export function differenceWords(a: number, b: number): string {
  const more = Math.round(b) - Math.round(a)
  if (more === 0) return 'Both get the same hours.'
  const share = a > 0 ? `, ${fixed((100 * Math.abs(more)) / a, 0)}${NBSP}%` : ''
  return `B gets ${hoursWords(Math.abs(more))} ${more > 0 ? 'more' : 'less'}${share}.`
}

/** "Tilt, then swing: tilt 0 to 80°, swing −60 to 60°, heading 180°" */
export function variantWords(v: Variant): string {
  if (v.kind === '') return REACH.open
  const name = (axis: 'lower' | 'upper') => axisName({ kind: v.kind } as MountRecord, axis)
  return [
    `${MOUNT_WORDS[v.kind]}: ${name('lower')} ${v.lowerMin} to ${v.lowerMax}°`,
    `${name('upper')} ${v.upperMin} to ${v.upperMax}°`,
    ...(v.heading === '' ? [] : [`heading ${v.heading}°`]),
    ...(v.offset === '' || v.offset === '0' ? [] : [`offset ${v.offset}°`]),
  ].join(', ')
}

export function skylineWords({ minEl, skyline }: ReachForm): string {
  const high = skyline.flatMap((text, k) => (text.trim() === '' || text === '0' ? [] : [`${WINDS[k]} ${text}°`]))
  const floor = `from ${minEl.trim() === '' ? '8' : minEl}° up`
  return high.length === 0 ? `${floor}, clear` : `${floor}; ${high.length > 3 ? 'written all round' : listed(high)}`
}

/** Azimuths and elevations of what is lost: "azimuth 230 to 300°, elevation 10 to 45°". */
export function whereLost({ sectors, elDeg }: LossJson): string {
  const round = (deg: number) => degrees(deg, 0, 'decimal')
  const az =
    sectors.length === 1 && sectors[0]!.toDeg - sectors[0]!.fromDeg >= 360
      ? 'all round'
      : `azimuth ${listed(sectors.map(s => `${fixed(s.fromDeg, 0)} to ${round(s.toDeg % 360 || 360)}`))}`
  return `${az}; elevation ${fixed(elDeg.min, 0)} to ${round(elDeg.max)}`
}

export const lossHead = (kind: MountKind, loss: LossJson): string => capital(hindranceWords({ kind }, loss.to))

export const fromToWords = ({ min, max }: { min: number; max: number }): string =>
  `${degrees(min, 0, 'decimal')} to ${degrees(max, 0, 'decimal')}`

/** Months in words, for people who cannot see the bars. */
export const monthsWords = (a: WillReachJson, b: WillReachJson | null): string[] =>
  a.months.map(
    (m, k) =>
      `${MONTHS[k]} ${b ? `A ${hoursWords(m.hours)}, B ${hoursWords(b.months[k]!.hours)}` : hoursWords(m.hours)}.`,
  )

/** The picture in words: what takes most, and where. */
export const lostSkyWords = (kind: MountKind, { losses }: WillReachJson): string[] =>
  losses.length === 0 ? [REACH.nothingLost] : losses.slice(0, 3).map(l => `${lossHead(kind, l)}: ${whereLost(l)}.`)
