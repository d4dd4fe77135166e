/** Words of the check after a storm: how to take it, which of the three answers it gives, and what to do next. */
import type { StepJson } from '../../core/plan/stepjson.ts'
import type { ChangedJson, ExplanationJson, StormCheckJson } from '../../core/plan/stormjson.ts'
import type { CauseKind } from '../../core/plan/stormmoves.ts'
import type { StormCheckRecord } from '../../core/records/checks.ts'
import type { LevelRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import {
  countOf,
  degrees,
  fixed,
  type LengthUnit,
  measured,
  measuredLength,
  NBSP,
  roughDegrees,
  utcAndLocal,
  utcDate,
} from '../kit/format.ts'
import { offWords } from '../kit/miss.ts'
import { subjectWords } from '../kit/parameterwords.ts'
import { axisName, capital, listed, targetWords } from '../kit/phrases.ts'

export const STORM = {
  why: 'Peak on the Sun by its signal, and read the feed’s shadow without moving the dish. That is the start; then it says whether that is enough.',
  goOn: 'One more peak for the check that is under way. Read the shadow too if you can see it.',
  look: 'First walk round it: loose bolts, bent struts, water in the feed. Do not drive it before that, and do not climb in wind.',
  prop: 'Before you loosen a clamp or unpin a jack: power off, and prop or tie the dish. It can swing down by itself.',
  one: '1. Peak on the Sun',
  oneHow: 'By the signal, best by equal readings on both sides. Leave the dish there, and note what both axes show.',
  onPeak: 'On the peak: mark the time',
  two: '2. Read the shadow at once',
  twoHow: 'Within half a minute: the shadow wanders by several millimetres a minute.',
  saw: 'The shadow',
  sees: { yes: 'I can see it', no: 'cloud: no shadow' } as const,
  keep: 'Keep both: what moved?',
  keepOne: 'Keep it: what moved?',
  saysShadow: 'Say whether the shadow can be seen.',
  answer: 'What moved',
  asking: 'Comparing with how it was before…',
  cannot: 'This could not be computed: the readings lie outside what the jack can do. Edit the sighting.',
  gone: 'This check is gone, or its first sighting was deleted.',
  before: 'Checks so far',
  again: 'Start a new check',
  toFeed: 'Shadow against signal',
  noteChange: 'Note the change',
  compared: 'Compared with before',
  fits: 'fits',
  fitsNot: 'does not fit',
  asBefore: 'as before',
  or: 'Other explanations',
  more: 'One more Sun peak',
  seeOdd: 'See that sighting',
  later: (n: number) => `${n} more, later`,
  wouldTell: 'What would show it',
  wouldPart: 'What would tell them apart',
  list: 'All sightings',
  noon: 'Noon check',
  onward: 'Record the next sighting',
} as const

const VERDICTS: Readonly<Record<NonNullable<StormCheckRecord['verdict']>, string>> = {
  'nothing-moved': 'Nothing moved.',
  'cannot-tell': 'Cannot tell yet.',
  moved: 'Something moved.',
  'as-before': 'Signal and shadow as before.',
  'feed-or-dish': 'The feed or the dish moved.',
  'mount-or-counter': 'The mount or a counter moved.',
  both: 'Feed or dish moved, and the mount or a counter.',
}
/** The verdict of that time, in the list of checks. */
export const stormVerdict = (verdict: NonNullable<StormCheckRecord['verdict']>): string => VERDICTS[verdict]

/** What could have moved, as the subject of a sentence. */
function causeName(kind: CauseKind, station: StationRecord): string {
  const { mount } = station
  switch (kind) {
    case 'mount':
      return 'the mount on its base'
    case 'lower-zero':
    case 'upper-zero':
      return `the clamp or counter of ${axisName(mount, kind === 'lower-zero' ? 'lower' : 'upper')}`
    case 'lower-jack':
    case 'upper-jack':
      return `the jack of ${axisName(mount, kind === 'lower-jack' ? 'lower' : 'upper')}, where it is pinned`
    case 'dish':
      return 'the dish on its axes'
    case 'feed':
      return 'the feed'
    case 'beam':
      return 'the beam, by a bent dish'
    case 'tube':
      return 'the sighting tube'
  }
}

/** The sentence of the check. */
export function stormSentence(station: StationRecord, s: StormCheckJson): string {
  const cause = causeName(s.weakest, station)
  if (s.verdict === 'nothing-moved') return 'Nothing moved. A move that matters would have shown.'
  if (s.verdict === 'moved') {
    const [best] = s.explanations
    if (best === undefined) return 'Something moved.'
    const names = listed(best.kinds.map(k => causeName(k, station)))
    if (!s.isExplained) return 'Something moved, and no one cause explains it.'
    if (s.explanations.length > 1 || s.odd !== null) return `Something moved: most likely ${names}.`
    return `${capital(names)} moved.`
  }
  switch (s.why) {
    case 'nothing-before':
      return 'Cannot tell: there are too few sightings from before to compare with.'
    case 'loose-before':
      return 'Cannot tell: even before the storm this mount was not known well enough.'
    case 'no-sky':
      return 'Cannot tell: the Moon never comes within reach of this mount.'
    case 'odd-one':
      return 'Cannot tell: one sighting does not fit the others. Take it again.'
    default:
      return `Cannot tell yet. Nothing shows so far, but ${cause} could have moved by more than the tolerance.`
  }
}

/** How large a move may still hide, or what the one found costs. */
export function stormCost(s: StormCheckJson): string | null {
  const allowed = roughDegrees(s.toleranceDeg)
  if (s.verdict === 'nothing-moved')
    return `What could still be hidden costs less than ${roughDegrees(s.atMostDeg)} on 95${NBSP}% of the Moon’s path; tolerance ${allowed}.`
  const [best] = s.explanations
  if (s.verdict !== 'moved' || best === undefined) return null
  return best.isSmall
    ? `It costs ${roughDegrees(best.skyDeg)} on the Moon’s path, less than the tolerance of ${allowed}. It can wait.`
    : `It costs up to ${roughDegrees(best.skyDeg)} on 95${NBSP}% of the Moon’s path; tolerance ${allowed}.`
}

/** What to do about it, besides more sightings. */
export function stormNext(s: StormCheckJson): string {
  if (s.verdict === 'nothing-moved') return 'Carry on. What you took counts like any other sighting.'
  if (s.verdict === 'cannot-tell')
    switch (s.why) {
      case 'nothing-before':
        return 'These sightings are the first. Take more of Sun and Moon, so that the next storm can be checked.'
      case 'no-sky':
        return 'Check the limits and the horizon of this station.'
      case 'odd-one':
        return 'Check its readings and its time. If it comes out the same again, something did move.'
      default:
        return 'This is not an all-clear. Do what is listed below.'
    }
  const kinds = s.explanations[0]?.kinds ?? []
  const isFeed = kinds.some(k => k === 'feed' || k === 'beam')
  const isZero = kinds.some(k => k.endsWith('zero'))
  const isSmall = s.explanations[0]?.isSmall === true
  const say = (what: string) => (isSmall ? `If you leave it: ${what}` : capital(what))
  if (isFeed)
    return say(
      'look at the feed’s struts and the dish’s bolts, and put right what you see. Then note the change, and take three or four sightings by shadow and by signal.',
    )
  if (isZero)
    return say(
      'first drive to the limit switch and compare the counter: often it has lost counts. Then note what changed, and sight Sun or Moon in four or more places.',
    )
  return say(
    'look at bolts, clamps and the base. Then note what changed, and sight Sun or Moon in four or more places.',
  )
}

/** "Zero: swing shows", "too little by 1.2 ± 0.3°, 23 counts" */
export function changedWords(station: StationRecord, c: ChangedJson, unit: LengthUnit) {
  const { mount, site } = station
  const { what, senses } = subjectWords(c.id, mount, site.latDeg, null)
  const size =
    c.unit === 'mm'
      ? measuredLength(Math.abs(c.change), c.sigma, unit).text
      : measured(Math.abs(c.change), c.sigma, '°').text
  const counts = c.counts === null ? '' : `, ${fixed(Math.abs(c.counts), 0)}${NBSP}counts`
  return { what, value: `${senses[c.change < 0 ? 0 : 1]} by ${size}${counts}` }
}

/** "the feed, or the dish on its axes; or one sighting is wrong" */
export function rivalWords(station: StationRecord, s: StormCheckJson): string | null {
  const others = s.explanations.slice(1).map(e => listed(e.kinds.map(k => causeName(k, station))))
  const all = [...others, ...(s.odd === null ? [] : ['one of the sightings is wrong'])]
  return all.length === 0 ? null : `Would also explain it: ${all.join('; or ')}.`
}

const LEVELS: Readonly<Record<LevelRecord['what'], string>> = {
  'mast-lean': 'Level: how the mast leans',
  'lower-axis-elevation': 'Level: the lower axis',
  'upper-axis-elevation': 'Level: the upper axis, as the dish stands',
  'dish-elevation': 'Level: the dish, as it stands',
}

/** "Sun by strongest signal", "12 May 2026, 10:00 UTC, ± 0.16°" */
export function measurementWords(step: StepJson): { what: string; value: string } {
  const sure = `±${NBSP}${degrees(step.sigmaDeg, 2)}`
  if (step.kind === 'level') return { what: LEVELS[step.what], value: sure }
  if (step.kind === 'mark') return { what: `Mark: ${step.mark}`, value: sure }
  const ms = instantMs(step.utc)
  return {
    what: `${targetWords({ type: step.target })} by ${METHOD_WORDS[step.method]}`,
    value: `${utcDate(ms)}, ${utcAndLocal(ms)}, ${sure}`,
  }
}

/** The button that leads there. */
export function stepDo(step: StepJson): string {
  if (step.kind === 'level') return 'Take the level'
  if (step.kind === 'mark') return 'Read the mark'
  if (step.method === 'shadow') return 'Read a shadow'
  return step.target === 'moon' ? 'Sight the Moon' : step.method === 'optical' ? 'Sight the Sun' : 'One more Sun peak'
}

/** "3 Sun peaks, 2 shadows and 1 level" */
export function stepsCounted(steps: readonly StepJson[]): string {
  const is = (target: 'sun' | 'moon', method: string) => (s: StepJson) =>
    s.kind === 'sighting' && s.target === target && s.method === method
  const counts: [number, string, string][] = [
    [steps.filter(is('sun', 'signal-peak')).length, 'Sun peak', 'Sun peaks'],
    [steps.filter(is('moon', 'signal-peak')).length, 'Moon peak', 'Moon peaks'],
    [steps.filter(is('sun', 'shadow')).length, 'shadow', 'shadows'],
    [
      steps.filter(s => s.kind === 'sighting' && s.method === 'optical').length,
      'look through the tube',
      'looks through the tube',
    ],
    [steps.filter(s => s.kind === 'level').length, 'level', 'levels'],
    [steps.filter(s => s.kind === 'mark').length, 'mark', 'marks'],
  ]
  return listed(counts.filter(([n]) => n > 0).map(([n, one, more]) => countOf(n, one, more)))
}

/** The sentence above the list of what would tell. */
export function planSays(s: StormCheckJson): string | null {
  if (s.next.length === 0)
    return s.verdict === 'cannot-tell' && s.why === 'unseen'
      ? 'Nothing you can do in the next day and a half would show more.'
      : null
  if (s.verdict === 'moved') return null
  const counted = capital(stepsCounted(s.next))
  const plan = s.isEnough
    ? `${counted} would be enough.`
    : `${counted} in the next day and a half would help, but are not enough.`
  const sharp =
    s.sharper &&
    `With peaks by equal readings on both sides, ± ${degrees(s.sharper.sigmaDeg, 2)}, ${s.sharper.steps === 1 ? 'one' : fixed(s.sharper.steps, 0)} would do.`
  return sharp ? `${plan} ${sharp}` : plan
}

/** Where a target was found, against before. */
export function foundWords(
  station: StationRecord,
  f: StormCheckJson['found'][number],
): { label: string; value: string; note: string } {
  const sighting = station.sightings.find(s => s.id === f.id)
  const level = station.levels?.find(l => l.id === f.id)
  const mark = station.references?.find(r => r.id === f.id)
  const utc = (sighting ?? level ?? mark)?.utc
  const label = sighting
    ? `${targetWords(sighting.target)} by ${METHOD_WORDS[sighting.method]}`
    : level
      ? LEVELS[level.what]
      : `Mark: ${mark?.mark ?? ''}`
  const when = utc === undefined ? '' : utcAndLocal(instantMs(utc))
  const isOff = f.chi2 > (f.rows > 1 ? 9.21 : 6.63)
  if (f.miss === null) return { label, value: isOff ? STORM.fitsNot : STORM.fits, note: when }
  const sigma = Math.max(f.miss.sigmaRightDeg, f.miss.sigmaUpDeg)
  const sure = `±${NBSP}${measured(sigma, null, '°', 2).text}`
  const off = offWords(f.miss, sigma)
  return {
    label,
    value: isOff && off !== '' ? `${off}, ${sure}` : `${STORM.asBefore}, ${sure}`,
    note: when,
  }
}

/** The names of what changed, for the record of a change. */
export const changedBy = (s: StormCheckJson): string[] => [...(s.explanations[0]?.what ?? [])]

/** Whether hands go near clamps and jacks. */
export const touchesMount = (e: ExplanationJson | undefined): boolean =>
  e?.kinds.some(k => k !== 'feed' && k !== 'beam' && k !== 'tube') === true
