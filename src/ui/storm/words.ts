/** Words of the check after a storm: how to take it, what moved, which axis, and what to do next. */
import type { StormCheckJson } from '../../core/check/feedjson.ts'
import { AXIS_NAMES } from '../../core/fit/labels.ts'
import { lowerAxisIds } from '../../core/mount/slots.ts'
import type { ParameterId, StationRecord } from '../../core/records/fieldbook.ts'
import { fixed, type LengthUnit, measured, measuredLength, NBSP } from '../kit/format.ts'
import { subjectOf } from '../kit/parameterwords.ts'
import { offWords } from '../kit/sighting/words.ts'

export const STORM = {
  why: 'One sighting tells whether the mount or the feed has moved: peak on the Sun by its signal, and read the feed’s shadow in the same pose.',
  look: 'First walk round it: loose bolts, bent struts, water in the feed. Nothing is driven before that, and nobody climbs while it blows.',
  one: '1. Peak on the Sun',
  oneHow:
    'By the signal, best by equal levels on both sides. Leave the dish there, and write down what both axes show.',
  onPeak: 'On the peak: take the time',
  two: '2. Read the shadow at once',
  twoHow: 'Within half a minute: the shadow wanders by several millimetres a minute.',
  saw: 'The shadow',
  sees: { yes: 'I can see it', no: 'cloud: no shadow' } as const,
  keep: 'Keep both, and say what moved',
  keepOne: 'Keep it, and say what it tells',
  saysShadow: 'Say whether the shadow can be seen.',
  answer: 'What moved',
  asking: 'Comparing with how it was before…',
  none: 'With no sightings from before there is nothing to compare with. These two are the first.',
  cannot: 'This could not be computed: the readings lie outside what the jack can do. Edit the sighting.',
  gone: 'This check is not here any more, or one of its sightings was taken out.',
  before: 'Checks so far',
  step: 'check after a storm',
  again: 'Check again',
  toFeed: 'Shadow against signal',
  noteChange: 'Note the change',
  peak: 'See the peak',
  shadow: 'See the shadow',
  atPeak: 'The signal',
  ofShadow: 'The shadow at the peak',
  best: 'What would explain it, best first',
  enough: 'explains it',
  notEnough: 'does not explain it alone',
  list: 'All sightings',
  noon: 'Noon check',
  onward: 'Record the next sighting',
} as const

const VERDICTS: Readonly<Record<StormCheckJson['verdict'], string>> = {
  'as-before': 'Nothing moved: signal and shadow are where they were.',
  'feed-or-dish': 'The feed or the dish moved; the mount points as before.',
  'mount-or-counter': 'The mount or a counter moved; feed and dish are as before.',
  both: 'Both moved: the feed or the dish, and the mount or a counter.',
  moved: 'Something moved. Without the shadow it cannot be told what.',
}

/** The sentence of the check. @param withShadow  whether the shadow was read too */
export const stormVerdict = (verdict: StormCheckJson['verdict'], withShadow: boolean): string =>
  verdict === 'as-before' && !withShadow ? 'The signal is where it was. The shadow was not read.' : VERDICTS[verdict]

/** What to do about it. */
export const STORM_NEXT: Readonly<Record<StormCheckJson['verdict'], string>> = {
  'as-before': 'Go on as you are. What you took counts like any other sighting.',
  'feed-or-dish':
    'Look at the feed’s struts and the dish’s bolts, and put back what you see. Then note the change, and take three or four sightings by shadow and by signal.',
  'mount-or-counter':
    'Drive to an end stop and compare the counter first: often it has lost counts. Then note what changed, and sight Sun or Moon in four or more places.',
  both: 'Repair first. Then note the change of each, and begin with the counters at their stops.',
  moved: 'Read the shadow in the same way when the Sun is out: that parts the feed from the mount.',
}

/** Where the Sun was found, against before. */
export function stormMiss(s: StormCheckJson): string {
  const sigma = Math.max(s.miss.sigmaRightDeg, s.miss.sigmaUpDeg)
  const off = offWords(s.miss.rightDeg, s.miss.upDeg, sigma)
  const m = measured(sigma, null, '°', 2).text
  return off.startsWith('on the spot') ? `where it was, ±${NBSP}${m}` : `${off} of where it was, ±${NBSP}${m}`
}

const sided = (mm: number, sigma: number, words: readonly [string, string], unit: LengthUnit): string => {
  const m = measuredLength(Math.abs(mm), sigma, unit)
  return /[1-9]/.test(m.value) ? `${m.text} ${words[mm < 0 ? 0 : 1]}` : ''
}

/** How far the shadow stands from where it was at a peak, seen from behind; what chance does is no move. */
export function stormShadow({ shadow, feed }: StormCheckJson, unit: LengthUnit): string {
  if (shadow === null) return 'not read'
  const both = [
    sided(shadow.rightMm, shadow.sigmaRight, ['left', 'right'], unit),
    sided(shadow.upMm, shadow.sigmaUp, ['away from UP', 'toward UP'], unit),
  ].filter(Boolean)
  const sure = measuredLength(Math.max(shadow.sigmaRight, shadow.sigmaUp), null, unit).text
  return feed === null || both.length === 0 ? `where it was, ±${NBSP}${sure}` : `moved ${both.join(', ')}`
}

/** The feed's own move that does it. */
export function stormFeed(feed: NonNullable<StormCheckJson['feed']>, unit: LengthUnit): string {
  const both = [
    sided(feed.rightMm, feed.sigmaMm, ['to the left', 'to the right'], unit),
    sided(feed.upMm, feed.sigmaMm, ['away from the UP mark', 'toward the UP mark'], unit),
  ].filter(Boolean)
  return `As if the feed had gone ${both.join(' and ')}, seen from behind; a bent dish looks the same.`
}

/** "Zero: swing shows" and "too little by 1.2 ± 0.3° (23 counts)" */
export function culpritWords(station: StationRecord, c: StormCheckJson['culprits'][number]) {
  const { mount, site } = station
  const { what, senses } = subjectOf(c.id, mount, site.latDeg, AXIS_NAMES[mount.kind], null)
  const size = measured(Math.abs(c.changeDeg), c.sigmaDeg, '°').text
  const counts = c.counts === null ? '' : `, ${fixed(Math.abs(c.counts), 0)}${NBSP}counts`
  return { what, value: `${senses[c.changeDeg < 0 ? 0 : 1]} by ${size}${counts}` }
}

/** As it stands inside a sentence; "X axis" keeps its letter. */
const inside = (what: string): string => (/^[A-Z][a-z]/.test(what) ? what[0]!.toLowerCase() + what.slice(1) : what)

/** "seen from above, anticlockwise"; "swing shows too little" */
const joined = (what: string, value: string): string =>
  `${inside(what)}${/(above|south|west)$/.test(what) ? ',' : ''} ${value}`

/** The sentence about the axis. */
export function culpritSays(station: StationRecord, s: StormCheckJson): string | null {
  const [best] = s.culprits
  if (best === undefined) return null
  const { what, value } = culpritWords(station, best)
  return s.isClear
    ? `Best explained by one thing: ${joined(what, value)}.`
    : `Not one thing alone stands out. Nearest: ${joined(what, value)}.`
}

/** A rest of one coordinate, χ², that chance leaves once in twenty. */
const EXPLAINED = 3.84
export const isEnough = (c: StormCheckJson['culprits'][number]): boolean => c.leftChi2 < EXPLAINED

/** The names of what changed, for the record of a change. */
export function changedBy(station: StationRecord, feed: string, s: StormCheckJson): string[] {
  const isFeed = s.verdict === 'feed-or-dish' || s.verdict === 'both'
  const isMount = s.verdict === 'mount-or-counter' || s.verdict === 'both' || s.verdict === 'moved'
  const best = s.culprits[0]?.id
  return [...(isFeed ? [`feed:${feed}`] : []), ...(isMount && best ? namesOf(station, best) : [])]
}
const namesOf = (station: StationRecord, id: ParameterId): string[] => {
  if (id === 'lowerZero') return ['lower-zero']
  if (id === 'upperZero') return ['upper-zero']
  return lowerAxisIds(station.mount.kind).includes(id) ? ['lower-axis'] : []
}
