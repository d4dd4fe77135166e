/** Words of the place "Correct": what the fit found, what to turn, what it sets aside and suspects, what to tell the software. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { FeedRecord, SightingRecord, StationRecord, Use } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import type { Suspect } from '../../core/records/solution.ts'
import {
  allowedDecibels,
  countOf,
  decibels,
  degrees,
  fixed,
  measured,
  NBSP,
  safeText,
  seenText,
  utcAndLocal,
  utcDate,
} from '../kit/format.ts'
import { axisName, keptReading, targetWords } from '../kit/phrases.ts'

export const CORRECT = {
  title: 'Correct',
  noStation: 'No station yet. Make one, or look around in the demo station.',
  toBook: 'Set up my station',
  noSightingsWhy:
    'Six sightings of Sun and Moon, spread over the sky, show most of it; what they leave open is marked. Two in one place show little.',
  record: 'Record a sighting',
  turned: 'Note what I turned',
  // The sub screens.
  left: 'How well each sighting fits',
  leftTitle: 'How they fit',
  skyTitle: 'The sky',
  suspects: 'What looks wrong',
  sky: 'Loss over the sky',
  next: 'Worth doing next',
  software: 'For the tracking program',
  none: 'nothing',
  /** Without a sighting nothing wrong would have been seen. */
  notSeen: 'not known yet',
  // Sections.
  toTurn: 'With a spanner',
  program: 'Into the program',
  noNumbers: 'No number is clearly off zero by itself; as a set they still help.',
  howKnown: 'How well it is known',
  barsKey: 'filled: known well enough · ticks: what your tolerance allows',
  every: 'Every number found',
  everyTitle: 'Every number',
  notKnown: 'Not known yet',
  notKnownWhy:
    'The sightings cannot separate these yet. Turn nothing for them; sight in another part of the sky first.',
  numbers: 'Numbers for the program, not for a spanner',
  leave: 'Small enough to leave',
  help: [
    'Each line is how far the mount as built is from what was entered, with its uncertainty: two times in three the true value is within the ±.',
    'Known well enough: what is still open matters little for the Moon. As measured: your own measurement; the sightings neither moved nor sharpened it. Not known yet: shown as a range that holds the true value 19 times in 20.',
    'Several that are not known one by one can still be known as a set: then the beam follows the Moon well, though no single bolt can be blamed.',
  ],
  // What is left.
  leftHelp: 'Right and up as seen from behind the dish. The arrowheads at the frame are off the scale.',
  asideTitle: 'Set aside by the computation',
  moreAside: (n: number) => `${n} more set aside`,
  moreByHand: (n: number) => `${n} more by you`,
  asideWhy:
    'So far off that chance alone would do it once in 10\u00a0000 sightings. A wrong minute, a wrong digit, or a reflection.',
  noneAside: 'None set aside.',
  fewSightings: 'With fewer than four sightings none is set aside: there is nothing to judge them by.',
  byHand: 'Decided by you',
  all: 'All sightings',
  see: 'See this sighting',
  decide: 'Use it or leave it out',
  useTitle: 'Use it?',
  useLabel: 'This sighting is',
  keepUse: 'Keep this choice',
  sameUse: 'Nothing is changed yet.',
  kept: 'Kept. The solution is computed again.',
  gone: 'This sighting is no longer in the book.',
  // Suspects.
  noSuspects: 'Nothing looks wrong.',
  noneYet: 'No sightings yet.',
  nothingToJudge: 'Not known yet: there is no sighting in which something wrong would show.',
  butAside: (n: number) =>
    `Nothing looks wrong with the mount, but ${n === 1 ? 'one sighting is' : `${n} sightings are`} set aside: so far off that a slip is likelier than chance.`,
  noSuspectsWhy:
    'Looked for: a counter that lost or gained counts, a clock or longitude that disagrees with the measured levels, a reading that counts the other way, readings or east and west swapped, the wrong body, lost motion, a feed that moved, a scale far off, two halves that do not fit together.',
  evidence: 'Evidence',
  settles: 'What would settle it',
  rivals: 'Or',
  halves: 'Each half by itself',
  acceptChange: 'Accept: note the change',
  acceptSightings: 'Accept: correct the sightings',
  acceptMirror: 'Accept: mirror these readings',
  acceptReadout: 'Accept: correct the readout',
  acceptPriors: 'Accept: go by the sightings',
  notSo: 'Dismiss',
  asideByYou: 'Dismissed by you',
  again: 'Look at it again',
  comesBack: 'It comes back when the evidence has grown by half.',
  // The sky.
  skyLoss: 'Loss on echoes, with corrections and before',
  skyUnknown: 'Not known yet: no sighting says where the beam points.',
  skyHelp:
    'Large: the loss with the corrections applied; small: before, “was off” where the beam missed the Moon. The bar reaches the mark at your tolerance. Each loss holds for 95 % of the Moon time there, with 90 % confidence.',
  // Next.
  noNext: 'Nothing you can do in the next three days would help much.',
  noNextWhy:
    'Levels, marks, shadows, a drift, the clock and sightings of Sun and Moon were weighed, with what this station can hear and reach. The best of them takes less than 0.1 dB off.',
  noNextFar:
    'Levels, marks, shadows and sightings were weighed, with what this station can hear and reach. Check limits and horizon under Book.',
  nextLead: 'Each by itself: what it takes off, and how long it takes outside. The most per minute first.',
  ahead: 'Sightings to come',
  aheadRow: 'Sightings to come, along the paths',
  aheadKey: 'The larger the bead, the more a sighting there brings. Diamonds: worth making in the next 24 hours.',
  aheadToday: 'Worth making in the next 24 hours',
  aheadTodayWhy: 'In order of time; each with what is left once it and those above it are made.',
  aheadNone: 'No sighting in the next 24 hours would improve it noticeably.',
  aheadRanked: 'The best of each day, by itself',
  aheadBack: 'When to come back',
} as const

export const RECIPE = {
  title: 'The recipe',
  lead: 'For anyone who writes a program: the equations from azimuth and elevation to both readings and back, with this station’s numbers, and ten worked points to check the program by.',
  what: 'What to export',
  text: 'To read and print',
  textNote: 'complete by itself, about 140 lines',
  json: 'JSON',
  jsonNote: 'the same, for software to read',
  preparing: 'Preparing…',
} as const

export const STATE_NAMES = {
  settled: 'known well enough',
  'as measured': 'as measured',
  open: 'not known yet',
} as const

/** The verdict against what is allowed, and what the mount would do without corrections. @param verdict  of verdictWords */
export const beforeSentence = (verdict: string, allowedDb: number, beforeDb: number): string =>
  `${verdict} You allow ${allowedDecibels(allowedDb)}. With the mount as entered ${isBeamOffTarget(beforeDb) ? 'the beam would miss the Moon' : `it would be ${decibels(beforeDb, allowedDb)}`}.`

/** "nothing", "2 found", "2 set aside": sightings set aside count too. */
/** @param suspected  how many are found, the dismissed left out */
export const wrongValue = (suspected: number, { used, outliers }: { used: number; outliers: number }): string =>
  suspected > 0
    ? `${suspected} found`
    : outliers > 0
      ? `${outliers} set aside`
      : used === 0
        ? CORRECT.notSeen
        : CORRECT.none

export const leftValue = (used: number, aside: number): string =>
  used + aside === 0 ? 'none yet' : `${used} used, ${aside} set aside`

/** "Moon, 24 Nov 2026 20:14" */
export const sightingWords = (s: SightingRecord): string => {
  const ms = instantMs(s.utc)
  return `${targetWords(s.target)}, ${utcDate(ms)} ${utcAndLocal(ms)}`
}
export const sightingHow = (s: SightingRecord): string => METHOD_WORDS[s.method]

/** "9.8° off, 25 times its ±" */
export function offInSigmasWords(offDeg: number, sigmaDeg: number): string {
  const times = offDeg / sigmaDeg
  return `${degrees(offDeg, offDeg < 9.95 ? 2 : 1)} off, ${fixed(times, times < 9.95 ? 1 : 0)}${NBSP}times its${NBSP}±`
}

export const USE_WORDS: Readonly<Record<Use, { word: string; note: string }>> = {
  auto: { word: 'judged by the computation', note: 'Set aside only if it is far off.' },
  always: { word: 'used always', note: 'You are sure of it, however far off it is.' },
  never: { word: 'left out', note: 'You know that something was wrong with it.' },
}

/** "24 in χ²: about 1 in 500 000 by chance" in plain words. */
export function evidenceWords(deltaChi2: number, chance: number, places: number): string {
  const drop = `With it the misfit falls by ${fixed(deltaChi2, 0)} (χ²)`
  const odds = chance > 0.1 ? 'chance easily does as much' : `chance alone does that about once in ${onceIn(chance)}`
  return `${drop}: ${odds}${places > 1 ? `, counting all ${places} places tried` : ''}.`
}

/** One significant digit, in words from a million on: "500 000", "2 million", "more than a billion". */
export function onceIn(chance: number): string {
  const n = 1 / chance
  if (!(n < 1e9)) return 'more than a billion'
  const power = 10 ** Math.floor(Math.log10(n))
  const round = Math.round(n / power) * power
  return round >= 1e6 ? `${fixed(round / 1e6, 0)} million` : fixed(round, 0)
}

const dayAndTime = (utc: string): string => `${utcDate(instantMs(utc))} ${utcAndLocal(instantMs(utc))}`

function stepSentence(station: StationRecord, s: Suspect): string | null {
  const { mount } = station
  const { axis, betweenUtc, angleDeg, sigmaDeg, counts } = s
  if (!axis || !betweenUtc || angleDeg === undefined || sigmaDeg === undefined) return null
  const name = axisName(mount, axis)
  const when = `between ${dayAndTime(betweenUtc[0])} and ${dayAndTime(betweenUtc[1])}`
  const what =
    counts === undefined
      ? `The ${name} axis reads ${measured(Math.abs(angleDeg), sigmaDeg, '°').text} ${angleDeg > 0 ? 'less' : 'more'} than before; it changed ${when}.`
      : // One count is worth the same of the angle and of its ±.
        `The ${name} counter ${counts > 0 ? 'lost' : 'gained'} about ${measured(Math.abs(counts), Math.abs((counts * sigmaDeg) / angleDeg), 'counts').text}, ${when}.`
  const [before, after] = (s.marks ?? []).map(id => station.references?.find(r => r.id === id))
  if (!before || !after) return what
  return `${what} The mark “${safeText(before.mark)}” read ${keptReading(mount, axis, before.reading)}, then ${keptReading(mount, axis, after.reading)}.`
}

/** What is suspected, in the person's units and with local times; the core's own sentence where that has neither. */
export function suspectSentence(station: StationRecord, s: Suspect): string {
  if (s.kind === 'counter-step') return stepSentence(station, s) ?? seenText(s.text)
  const { clockS, sigmaS, longitudeDeg } = s
  if (s.kind !== 'clock-or-longitude' || clockS === undefined || longitudeDeg === undefined) return seenText(s.text)
  if (sigmaS === undefined) return seenText(s.text)
  const isFast = clockS > 0
  return `The sightings and the measured levels do not agree unless the clock is ${measured(Math.abs(clockS), sigmaS, 's', 0).text} ${isFast ? 'fast' : 'slow'}, or the longitude ${degrees(Math.abs(longitudeDeg), 2)} too far ${isFast ? 'east' : 'west'}.`
}

/** What the button says that accepts an offer. */
export const OFFER_WORDS: Readonly<Record<NonNullable<Suspect['offer']>['type'], string>> = {
  change: CORRECT.acceptChange,
  sightings: CORRECT.acceptSightings,
  mirror: CORRECT.acceptMirror,
  readout: CORRECT.acceptReadout,
  priors: CORRECT.acceptPriors,
}

/** "Earlier: 9 sightings, scatter 0.21°" */
export const halfWords = (h: NonNullable<Suspect['halves']>[number]): string =>
  `${h.name.charAt(0).toUpperCase()}${h.name.slice(1)}: ${countOf(h.ids.length, 'sighting')}, scatter ${degrees(h.rmsDeg, 2)}${h.p95Deg === undefined ? '' : `, alone it leaves ${degrees(h.p95Deg, 2)}`}.`

/** A feed's name where there are several. */
export const feedName = (feeds: readonly FeedRecord[], id: string | undefined): string | null => {
  if (id === undefined || feeds.length < 2) return null
  const feed = feeds.find(f => f.id === id)
  return feed ? safeText(feed.name) : null
}
