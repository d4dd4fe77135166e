/** Words of the place "Sight": what to drive to, marking the time, completing it, and what the book makes of each sighting. */
import type { Hindrance } from '../../core/plan/hindrance.ts'
import type { MountRecord, TargetRecord, Use } from '../../core/records/fieldbook.ts'
import { countOf, duration, MINUS, utcAndLocal } from '../kit/format.ts'
import { hindranceState } from '../kit/hindrancewords.ts'
import { axisName, capital, targetWords, theTarget } from '../kit/phrases.ts'

export const SIGHT = {
  comes: {
    rises: 'Rises',
    sets: 'Sets',
    'comes-within-reach': 'Comes within reach',
    'leaves-reach': 'Leaves reach',
  },
  dialThis: (target: TargetRecord) => `Drive to: ${capital(targetWords(target))}`,
  stamp: 'On target: mark time',
  otherTitle: 'Another target',
  takeIt: 'Drive to this',
  notHeard: 'Nothing heard yet? First search',
  all: 'All sightings',
  typeIn: 'Type one in',
  noStation: 'A sighting belongs to a station. Set one up first, or import a field book.',
  makeStation: 'Set up my station',
  asking: 'Working out where to drive…',
  waitingOne: (time: string) => `Time marked ${time}, readings missing`,
  waitingAbout: (time: string) => `Readings of about ${time}, no marked time`,
  waitingMany: (n: number) => `${n} half sightings to complete`,
  waitingTitle: 'Half sightings',
  waitingPair: 'A marked time and readings seem to be one sighting',
  waitingWhy: 'A half sighting is kept, and is in every export. It counts once it has both the time and the readings.',
  otherPhone: 'Export these to the phone that marked the time',
  nothingWaits: 'Nothing to complete: every marked time has its readings.',
  complete: 'Complete it',
  throwAway: 'Discard',
  join: 'Join the two',
  joinSay: (stamp: string, readings: string, apart: string) =>
    `Readings noted at ${readings} are ${apart} from the time marked at ${stamp}. Do they belong together?`,
  keeping: 'Keeping the time…',
  readBoth: (isStamped: boolean) =>
    isStamped ? 'Read both axes. The time is kept.' : 'Readings noted at about this time.',
  halfTitle: (target: TargetRecord | undefined, time: string) =>
    target === undefined ? time : `${capital(targetWords(target))}, ${time}`,
  ago: (ms: number) => `${duration(ms)} ago`,
  seeMade: 'See the sighting made from it',
  backToDial: 'Back to Sight',
  leaveAsIs: 'Leave it as it was',
  lookAtIfKnown: 'Target, if you know it',
  next: 'Record the next one',
  counts: (all: string, aside: number, out: number, repeated = 0) =>
    `${all}${aside > 0 ? `, ${aside} set aside` : ''}${out > 0 ? `, ${out} left out` : ''}${repeated > 0 ? `, ${repeated} stored twice and counted once` : ''}. The arrow shows where the target stood against the beam, seen from behind the dish.`,
  gone: 'This half sighting is gone: it was completed, joined or discarded.',
  goneSighting: 'This sighting is no longer in the book.',
  keep: 'Keep this sighting',
  keepReadings: 'Keep these readings',
  keepChanges: 'Keep the changes',
  newTitle: 'Type a sighting in',
  readingsTitle: 'Readings only',
  readingsWhy:
    'Note what the dish shows when the other operator calls. The time here is this phone’s; the time marked on the other phone is joined to it later.',
  readerCaution: {
    act: 'reader',
    gravest: 'Jacks start without warning: hands and face clear while you read.',
    more: [
      'RF: nobody keys while you are in front of the dish.',
      'Read from the ground where you can. A ladder: on firm ground, held by somebody, not in wind.',
    ],
  },
  called: 'Called: mark the time',
  calledAt: (time: string) => `Time marked: ${time}. Now the readings.`,
  editTitle: 'Edit a sighting',
  aboutTime: 'This is when the readings were written down, not when it was on target: correct it if you know better.',
  listTitle: 'Sightings',
  listNone: 'No sightings yet.',
  waysTitle: 'Other methods',
  drifts: 'Drift scans',
  crosses: 'Cross scans',
  noise: 'Noise',
  why: {
    search: 'Nothing heard yet: where to point, step by step.',
    noon: 'The feed’s shadow on the dish: the Sun without a receiver.',
    drift: 'The dish is parked, and the target drifts through the beam.',
    cross: 'One axis after the other, in steps across the target.',
    storm: 'A few measurements that show whether anything moved.',
    typeIn: 'From your notes: target, time and both readings.',
    readings: 'One reads the dish, the other marks the time.',
  },
  columns: { time: 'UTC', target: 'target', off: 'off' },
  comparing: 'Comparing it with what was expected…',
  stood: (target: TargetRecord) => `${capital(theTarget(target))} stood`,
  nothingBefore: 'The first sighting that counts: there was nothing to compare it with.',
  /** After "The Sun stood 0.4° right", or after "The Sun stood spot on (to 0.1°)". */
  against: (isThere: boolean, isLatest: boolean, from: number) => {
    const place = isLatest
      ? `where it was expected before this sighting, going by ${countOf(from, 'sighting')}.`
      : `where the other ${countOf(from, 'sighting')} put it.`
    return isThere ? `It was ${place}` : `of ${place}`
  },
  takenIn: 'With this sighting included:',
  goodTo: (sigma: string) => `Uncertainty ${sigma}.`,
  notSolvedYet: 'Not computed yet.',
  statusLong: {
    used: 'Used.',
    outlier: 'Set aside: it contradicts the others.',
    excluded: 'Left out by hand.',
    repeats: 'The same sighting is stored twice: counted once.',
  },
  crowded: (weight: number) =>
    ` Others of the same minute share a part of its error: it counts as ${weight.toFixed(2)} of a sighting.`,
  historyWhy: 'Nothing is overwritten: every change is kept beside what was there before.',
  edit: 'Edit',
  use: 'Count it',
  uses: { auto: 'automatic', always: 'always', never: 'leave out' } as Record<Use, string>,
  useHint: 'Automatic sets it aside only when it contradicts the others.',
  history: 'History',
  delete: 'Delete',
} as const

/** "Leaves reach in 2 h 14 min, at 22:28: swing at its 820 counts stop." */
export function nextWords(
  mount: MountRecord,
  p: {
    elDeg: number
    reachable: boolean
    next: { what: 'rises' | 'sets' | 'comes-within-reach' | 'leaves-reach'; utcMs: number } | null
    why: Hindrance | null
    spell?: { fromMs: number | null } | null
  },
  nowMs: number,
): string {
  const when = p.next && `in ${duration(p.next.utcMs - nowMs)}, at ${utcAndLocal(p.next.utcMs)}`
  const because = p.why && hindranceState(mount, p.why)
  if (p.reachable)
    return p.next ? `Leaves reach ${when}${because ? `: ${because}` : ''}.` : 'Stays within reach all day.'
  const out = p.elDeg < 0 ? 'Below the horizon' : `Out of reach${because ? `: ${because}` : ''}`
  if (!p.next) return `${out}, for the coming day.`
  const reach = p.spell?.fromMs ?? null
  const then =
    reach === null || p.next.what === 'comes-within-reach'
      ? ''
      : ` ${SIGHT.comes['comes-within-reach']} in ${duration(reach - nowMs)}, at ${utcAndLocal(reach)}.`
  return `${out}. ${SIGHT.comes[p.next.what]} ${when}.${then}`
}

export const STATUS = { used: 'used', outlier: 'set aside', excluded: 'left out', repeats: 'stored twice' } as const

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
  sigmaDeg: 'uncertainty',
  cov: 'uncertainty',
  use: 'whether it counts',
  note: 'note',
  wind: 'wind',
}

/** The keys for readings. */
export const KEYPAD = {
  targetWas: (value: string) => `target was ${value}`,
  step: (by: number, unit: 'counts' | 'degrees' | 'minutes') =>
    `${by < 0 ? MINUS : '+'}${Math.abs(by)}${unit === 'counts' ? '' : unit === 'degrees' ? '°' : '′'}`,
  keysFor: (axis: string) => `Keys for ${axis}`,
  erase: 'erase',
  sign: '±',
  signOf: (axis: string) => `Change the sign of ${axis}`,
  space: '° ′',
  spaceLong: 'Space between degrees and minutes',
  point: 'Decimal point',
  toOther: (axis: string) => `to ${axis}`,
  phoneKeys: 'phone’s keys',
  ownKeys: 'Keys on this screen',
} as const
