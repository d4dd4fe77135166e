/** Words of the place "Sight": what to dial, the stamp, completing it, and what the book makes of each sighting. */
import type { OutOfReach } from '../../core/plan/dialtarget.ts'
import type { Method, MountRecord, Side, SightingRecord, TargetRecord, Use } from '../../core/records/fieldbook.ts'
import type { SolvedSighting } from '../../core/records/solution.ts'
import { decimalsFor, degrees, duration, NBSP, utcAndLocal, utcDate, utcTime } from '../kit/format.ts'
import { axisName, dialled, keptReading, readingUnit, targetWords } from '../kit/phrases.ts'
import type { SightField } from './form.ts'

export { keptReading }

export const SIGHT = {
  dialThis: (target: TargetRecord) => `Dial this: ${targetWords(target)}`,
  stamp: 'On it: stamp the time',
  lookAt: 'What you look at',
  moon: 'Moon',
  sun: 'Sun',
  other: 'Other',
  otherTitle: 'Another target',
  takeIt: 'Look at this',
  all: 'All sightings',
  typeIn: 'Type one in',
  readingsOnly: 'Note readings',
  noStation: 'A sighting belongs to a station. Make one first, or bring in a field book.',
  makeStation: 'Make a station',
  asking: 'Working out what to dial…',
  waitingOne: (time: string) => `Stamped ${time}, readings missing`,
  waitingAbout: (time: string) => `Readings of about ${time}, stamp missing`,
  waitingMany: (n: number) => `${n} half sightings wait to be completed`,
  waitingTitle: 'Waiting',
  waitingPair: 'A stamp and readings wait that seem to be one sighting',
  waitingWhy:
    'A half sighting is kept, and goes with every copy handed out. It counts once it has both the time and the readings.',
  otherPhone: 'Hand these to the phone with the stamp',
  nothingWaits: 'Nothing waits: every stamp has its readings.',
  complete: 'Complete it',
  throwAway: 'Throw away',
  join: 'Join the two',
  joinSay: (stamp: string, readings: string, apart: string) =>
    `Readings of ${readings} were noted ${apart} from the stamp of ${stamp}. Two halves of one sighting?`,
  keeping: 'Keeping the time…',
  notYetKept: 'Not kept yet: press "Try again" above.',
  stampKept: 'The time is kept in the book. Now what the dish shows; if that comes later, this waits under Sight.',
  stampedAt: (when: string) => `Stamped ${when}`,
  notedAt: (when: string) => `Readings noted at about ${when}`,
  completeTitle: (target: TargetRecord) => `Complete: ${targetWords(target)}`,
  seeMade: 'See the sighting made from it',
  backToDial: 'Back to what to dial',
  leaveAsIs: 'Leave it as it was',
  lookAtIfKnown: 'What was looked at, if you know',
  next: 'Record the next one',
  counts: (all: string, aside: number, out: number, repeated = 0) =>
    `${all}${aside > 0 ? `, ${aside} set aside` : ''}${out > 0 ? `, ${out} left out` : ''}${repeated > 0 ? `, ${repeated} stored twice and counted once` : ''}. Right and high are as the dish counts, with the UP mark on top.`,
  gone: 'This half sighting is not here any more: it was completed, joined or thrown away.',
  goneSighting: 'This sighting is not here any more.',
  keep: 'Keep this sighting',
  keepReadings: 'Keep these readings',
  keepChanges: 'Keep the changes',
  newTitle: 'Type a sighting in',
  readingsTitle: 'Readings only',
  readingsWhy:
    'For a second person: what the dish shows at the moment of the call. The time is that of this screen; the stamp of the other phone is joined to it later.',
  called: 'Called: take the time',
  calledAt: (time: string) => `Time taken: ${time}. Now the readings.`,
  editTitle: 'Edit a sighting',
  aboutTime:
    'This time is when the readings were written down, not a stamp. One minute is a quarter of a degree: correct it if you know better.',
  clockStep: (s: number) =>
    `The phone’s clock was set ${s > 0 ? 'forward' : 'back'} by ${duration(1000 * s)} while Moonplumb was open. Compare it with a good clock, and enter what it is off.`,
  target: 'Target',
  targetOthers: { source: 'Radio source', geostationary: 'Satellite', landmark: 'Landmark' },
  source: 'Source',
  satellite: 'The satellite’s longitude',
  landmarkAz: 'Azimuth from true north',
  landmarkEl: 'Elevation as measured',
  method: 'How it was found',
  methodGuess: 'Picked as last time. Pick another if it was another.',
  feed: 'Which feed was mounted',
  asDialled: (value: string) => `As dialled: ${value}`,
  dialledHint: (value: string) => `To dial was ${value}. Enter what the dish shows.`,
  stops: (from: string, to: string) => `Stops at ${from} and ${to}.`,
  arrived: (axis: string) => `How ${axis} arrived`,
  sides: { '': 'not noted', '+': 'reading going up', '-': 'reading going down' } as Record<Side | '', string>,
  view: 'Where you stand',
  behind: 'behind the dish',
  front: 'in front of the dish',
  shadowHow:
    'Measure from the vertex to the middle of the feed’s shadow, along the dish’s own UP mark, not a plumb line.',
  shadowAcross: 'Shadow beside the vertex',
  shadowAcrossSide: 'To which side, as you see it',
  shadowAlong: 'Shadow above or below the vertex',
  shadowAlongSide: 'Which way, with the UP mark on top',
  left: 'left',
  right: 'right',
  above: 'above, toward UP',
  below: 'below',
  more: 'Time, how sure, note, more',
  utc: 'Time, UTC',
  clockOffset: 'Phone clock minus true time',
  clockOffsetHint: 'Empty: not known. Plus: the phone is ahead.',
  sigma: 'How sure, plus or minus',
  sigmaHint: (value: string) => `Empty: ± ${value}, usual for this way of finding it.`,
  offsetRight: 'Target stood to the right by',
  offsetUp: 'Target stood up by',
  offsetHint: 'Only if known: where it stood against the beam, as the dish counts. Minus: left, or down.',
  note: 'Note',
  wind: 'Wind',
  beyondStop: (axis: string, stop: string) => `Beyond the stop of ${axis} at ${stop}. It is kept as it is.`,
  farFromDialled: (axis: string, value: string) =>
    `${axis} is far from the ${value} that was to be dialled. A slip, or swapped?`,
  listTitle: 'Sightings',
  listNone: 'No sightings yet.',
  notSolved: 'not weighed yet',
  notSolvedYet: 'The book has not weighed this one yet.',
  weighing: 'Weighing it against the others…',
  statusLong: {
    used: 'Used.',
    outlier: 'Set aside: it contradicts the others.',
    excluded: 'Left out by hand.',
    repeats: 'The same sighting is stored twice: counted once.',
  },
  crowded: (weight: number) =>
    ` Others of the same minute share a part of its error: it counts as ${weight.toFixed(2)} of one.`,
  historyWhy: 'Nothing is overwritten: every change is kept beside what was there before.',
  edit: 'Edit',
  use: 'Count it',
  uses: { auto: 'automatic', always: 'always', never: 'leave out' } as Record<Use, string>,
  useHint: 'Automatic sets it aside only when it contradicts the others.',
  history: 'History',
  delete: 'Delete',
  letGo: 'Let it go',
  undo: (what: string) => `Undo: ${what}`,
  overtaken: 'Another tab has changed this since, so nothing was undone.',
} as const

/** Cautions, where the act is. */
export const CAUTION = {
  sun: 'Sunlight gathers at the feed: hands and face out of it. Never look along the tube at the Sun. Transmitter off; jacks move.',
  other: 'Transmitter off. Jacks move: hands clear.',
  shadow:
    'Sunlight gathers at the feed. Keep hands and face out of it, and turn the dish off the Sun when you are done.',
  tubeSun: 'Never look along the tube at the Sun: let its light fall on paper.',
} as const

/** "34.6°", "412 counts" */
export function readingText(mount: MountRecord, axis: 'lower' | 'upper', value: number): string {
  const shown = dialled(mount, axis, value)
  return shown.unit === '' ? shown.value : `${shown.value}${NBSP}${shown.unit}`
}

/** "tilt, degrees" */
export const readingLabel = (mount: MountRecord, axis: 'lower' | 'upper'): string =>
  `${axisName(mount, axis)}, ${readingUnit(mount, axis)}`

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
export const axisWord = (mount: MountRecord, axis: 'lower' | 'upper'): string => capital(axisName(mount, axis))

/** "the Moon", "Cygnus A", "the satellite at 13° E" */
export const theTarget = (target: TargetRecord): string =>
  target.type === 'source' ? targetWords(target) : `the ${targetWords(target)}`

function whyWords(mount: MountRecord, why: OutOfReach): string {
  switch (why.kind) {
    case 'low':
      return 'too low'
    case 'no-pose':
      return 'too near the axis for this mount'
    case 'stop': {
      const stop = mount[why.axis][why.end === 'min' ? 'minReading' : 'maxReading']
      return `${axisName(mount, why.axis)} at its ${keptReading(mount, why.axis, stop)} stop`
    }
  }
}

/** "Leaves reach in 2 h 14 min, at 22:28: swing at its 820 counts stop." */
export function nextWords(
  mount: MountRecord,
  p: {
    elDeg: number
    reachable: boolean
    next: { what: 'rises' | 'sets' | 'comes-within-reach' | 'leaves-reach'; utcMs: number } | null
    why: OutOfReach | null
  },
  nowMs: number,
): string {
  const when = p.next && `in ${duration(p.next.utcMs - nowMs)}, at ${utcAndLocal(p.next.utcMs)}`
  const because = p.why && whyWords(mount, p.why)
  if (p.reachable)
    return p.next ? `Leaves reach ${when}${because ? `: ${because}` : ''}.` : 'Stays within reach all day.'
  const out = p.elDeg < 0 ? 'Below the horizon' : `Out of reach${because ? `: ${because}` : ''}`
  if (!p.next) return `${out}, for the coming day.`
  const does = {
    rises: 'Rises',
    sets: 'Sets',
    'comes-within-reach': 'Comes within reach',
    'leaves-reach': 'Leaves reach',
  }
  return `${out}. ${does[p.next.what]} ${when}.`
}

/** "27 Apr 2026, 20:14:05 UTC (22:14 here)" */
export const whenWords = (utcMs: number): string => `${utcDate(utcMs)}, ${utcAndLocal(utcMs, 'second')}`

const side = (deg: number, words: readonly [string, string], decimals: number): string => {
  const text = degrees(Math.abs(deg), decimals)
  return /[1-9]/.test(text) ? `${text}${NBSP}${deg < 0 ? words[0] : words[1]}` : ''
}

/** "0.4° right, 0.1° high", or "on the spot". */
export function offWords(rightDeg: number, upDeg: number, sigmaDeg: number): string {
  const decimals = Math.max(1, Math.min(3, decimalsFor(sigmaDeg, 2)))
  const both = [side(rightDeg, ['left', 'right'], decimals), side(upDeg, ['low', 'high'], decimals)].filter(Boolean)
  return both.length === 0 ? `on the spot (to ${degrees(10 ** -decimals, decimals)})` : both.join(', ')
}

/**
 * Where the target stood against the model. The solution's residual is model minus measured: what stood to the right has
 * a negative one.
 */
export const residualWords = (s: SolvedSighting): string => offWords(0 - s.rightDeg, 0 - s.upDeg, s.sigmaDeg)

export const residualSentence = (target: TargetRecord, s: SolvedSighting): string => {
  const off = residualWords(s)
  const body = capital(theTarget(target))
  return off.startsWith('on the spot')
    ? `${body} stood where the book expects it ${off.replace('on the spot ', '')}.`
    : `${body} stood ${off} of where the book expects it.`
}

/** "The Sun stands 1.05° right, 0.53° low of the dish's shadow line, ± 0.38°." */
export function shadowSentence(m: { rightDeg: number; upDeg: number; sigmaDeg: number }): {
  lead: string
  off: string
  tail: string
} {
  const both = [side(m.rightDeg, ['left', 'right'], 2), side(m.upDeg, ['low', 'high'], 2)].filter(Boolean)
  const tail = `, ±${NBSP}${degrees(m.sigmaDeg, 2)}.`
  return both.length === 0
    ? { lead: 'The Sun stands ', off: 'on', tail: ` the dish’s shadow line${tail}` }
    : { lead: 'The Sun stands ', off: both.join(', '), tail: ` of the dish’s shadow line${tail}` }
}

export const STATUS = { used: 'used', outlier: 'set aside', excluded: 'left out', repeats: 'stored twice' } as const

/** For the undo button: "stamp the Moon of 20:14:05". */
export const WHAT = {
  stamp: (target: TargetRecord, utcMs: number) => `stamp of ${theTarget(target)}, ${utcTime(utcMs)}`,
  readings: (utcMs: number) => `readings of ${utcTime(utcMs)}`,
  keep: (s: SightingRecord) => `sighting of ${theTarget(s.target)}, ${utcTime(Date.parse(s.utc))}`,
  edit: (s: SightingRecord) => `edit of ${utcTime(Date.parse(s.utc))}`,
  use: (s: SightingRecord, use: Use) =>
    `${{ auto: 'automatic', always: 'always count', never: 'leave out' }[use]}, ${utcTime(Date.parse(s.utc))}`,
  delete: (s: SightingRecord) => `delete the sighting of ${utcTime(Date.parse(s.utc))}`,
  drop: (utcMs: number) => `throw away ${utcTime(utcMs)}`,
  join: (utcMs: number) => `join with ${utcTime(utcMs)}`,
} as const

/** What is still missing, for the line above the action. */
export function missingWords(mount: MountRecord, fields: readonly SightField[]): string {
  const words: Partial<Record<SightField, string>> = {
    target: 'the target',
    source: 'which source',
    satelliteLon: 'the satellite’s longitude',
    landmarkAz: 'the landmark’s place',
    method: 'how it was found',
    feed: 'which feed',
    lower: axisName(mount, 'lower'),
    upper: axisName(mount, 'upper'),
    view: 'where you stand',
    shadowAcross: 'the shadow beside the vertex',
    shadowSide: 'left or right',
    shadowAlong: 'the shadow above or below',
    shadowHeight: 'above or below',
    utc: 'the time',
    sigma: 'how sure',
    clockOffset: 'the clock',
    offsetRight: 'the offset',
    offsetUp: 'the offset',
  }
  return `Not yet: ${fields.map(f => words[f] ?? f).join(', ')}.`
}

/** What a field of a sighting is called, for the history; undefined for what a person does not see. */
export const fieldWord = (field: string, mount: MountRecord): string | undefined =>
  field === 'lower' || field === 'upper' ? axisName(mount, field) : FIELD_WORDS[field]

const FIELD_WORDS: Readonly<Record<string, string>> = {
  utc: 'time',
  clockOffsetS: 'clock',
  target: 'target',
  arrivedFrom: 'side of arrival',
  method: 'method',
  feed: 'feed',
  offset: 'offset',
  shadow: 'shadow',
  sigmaDeg: 'how sure',
  cov: 'how sure',
  use: 'whether it counts',
  note: 'note',
  wind: 'wind',
}

/** Methods as buttons of the form say them. */
export const METHOD_BUTTONS: Readonly<Partial<Record<Method, string>>> = {
  'signal-peak': 'strongest signal',
  shadow: 'feed’s shadow',
  optical: 'sighting tube',
}
