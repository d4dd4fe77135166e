/** Words of noise records: what is compared with what, what it says of the dish, and since when it hears less. */
import { HEARD_DB, MOON_K } from '../../core/noise/noise.ts'
import {
  COLD_K,
  type ExpectedNoise,
  HOT_K,
  type NoiseAnswer,
  type NoiseResult,
  type NoiseRow,
} from '../../core/noise/noiseanswer.ts'
import type { FeedRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { NoiseOf } from '../../core/records/noise.ts'
import { countOf, fixed, measured, NBSP, safeText, utcDate } from '../kit/format.ts'
import type { TableRow } from '../kit/numbers.tsx'
import type { NoiseNotYet } from './form.ts'

const dB = (x: number, decimals = 1): string => `${fixed(x, decimals)}${NBSP}dB`
const kelvin = (k: number): string => `${fixed(k, k < 10 ? 1 : 0)}${NBSP}K`
const sfuWords = (sfu: number): string => `${fixed(sfu, 0)}${NBSP}sfu`
const mhz = (f: number): string => `${fixed(f, Number.isInteger(f) ? 0 : 1)}${NBSP}MHz`

export const NOISE = {
  record: 'Record noise',
  change: 'Edit a noise record',
  keep: 'Keep this record',
  why: 'How much louder the Sun is than the sky beside it tells how well the whole dish hears: feed, preamplifier, cable and aim in one number. Take it again after a storm.',
  none: 'Nothing recorded yet.',
  list: 'Newest first',
  expects: 'What this dish should hear',
  sunAbove: 'Sun above cold sky',
  moonAbove: (db: number) => `Moon ${dB(db, 2)}`,
  back: 'All noise records',
  toSight: 'Back to the sightings',
  gone: 'This record is no longer in the book.',
  remove: 'Delete it',
  edit: 'Edit it',
  of: 'Hot source',
  feed: 'Through which feed',
  how: 'How it was read',
  rise: 'dB above cold sky',
  levels: 'Two readings',
  riseLabel: 'Above cold sky by',
  riseHint: 'With the receiver’s AGC off.',
  unit: 'The readings are in',
  unitDb: 'dB',
  unitPower: 'Power, any unit',
  unitNote: 'Proportional to power: watts, or a square-law detector. Not volts.',
  hot: 'Reading on the hot source',
  cold: 'Reading on cold sky',
  flux: 'The Sun’s flux today',
  fluxOwn: (f: FeedRecord) => `For ${mhz(f.frequencyMHz)}`,
  fluxTwo: 'From published ones',
  fluxTen: 'Only 10.7 cm at hand',
  fluxHint: 'Solar flux units, of that day. Not known yet? Leave it empty and add it later.',
  fluxAt: (f: number) => `Flux at ${mhz(f)}`,
  fluxMade: (sfu: number, f: FeedRecord) => `That makes ${sfuWords(sfu)} at ${mhz(f.frequencyMHz)}.`,
  tenCm:
    'One value at 10.7 cm does not give the flux at another frequency: the slope of the Sun’s spectrum changes from day to day, most of all when there are spots. Use two of the published frequencies, one on each side of yours.',
  brightness: 'Brightness of the Moon',
  brightnessHint: `Optional: ${MOON_K}${NBSP}K if left empty.`,
  hotK: { ground: 'Temperature of the ground', load: 'Temperature of the load' },
  hotHint: `Optional: ${HOT_K}${NBSP}K, 17${NBSP}°C, if left empty.`,
  coldK: 'Cold sky, with what spills over the rim',
  coldHint: `Optional: ${COLD_K}${NBSP}K if left empty.`,
  losses: 'Air, losses, uncertainty',
  zenith: 'Loss in the air, straight up',
  zenithHint: 'Optional. In clear weather under 0.1 dB up to 10 GHz.',
  el: 'Its elevation',
  elHint: (el: number | null) =>
    el === null
      ? 'Degrees.'
      : el < 0
        ? 'It was below the horizon then.'
        : `Optional: ${fixed(el, 1)}°, where it stood, if left empty.`,
  loss: 'Other losses before the feed',
  lossHint: 'Optional: cover, wet feed, aim.',
  sigma: 'Uncertainty, ±',
  sigmaHint: 'Optional: 0.1 dB if left empty.',
  gain: 'The dish’s gain, if measured',
  gainHint: 'Optional: that of 55 % efficiency if left empty.',
  when: 'When',
  note: 'Note',
  noteHint: 'Optional.',
  trend: (of: NoiseOf) => `G/T in dB/K by the ${NOISE_OF_WORDS[of].name}`,
  trendTitle: (of: NoiseOf) => `G/T by the ${NOISE_OF_WORDS[of].name}`,
  result: 'Result',
  sun: 'Keep the dish on the Sun only for as long as it takes: on a shiny dish the feed burns.',
  /** The caution for hands at the feed. */
  loadCaution: {
    act: 'noise-load',
    gravest: 'Transmitter off and locked off before hands go near the feed.',
    more: [
      'Dish off the Sun first: sunlight burns at the feed. Jack supply off.',
      'Ladder on firm ground with somebody to hold it. Not in wind, not alone.',
    ],
  },
  take: (k: number) => `Use ${kelvin(k)} for this feed`,
  taken: 'This is the system temperature that the station has for this feed.',
  facts: 'In numbers',
} as const

export const NOISE_OF_WORDS: Readonly<Record<NoiseOf, { word: string; note: string; name: string }>> = {
  sun: { word: 'The Sun', note: 'against the cold sky beside it', name: 'Sun' },
  moon: { word: 'The Moon', note: 'against the cold sky beside it', name: 'Moon' },
  ground: { word: 'The ground', note: 'or a wood that fills the beam, against cold sky', name: 'Ground' },
  load: { word: 'A load at the feed', note: 'or an absorber over it, against cold sky', name: 'Load' },
}

export const NOISE_NOT_YET: Readonly<Record<NoiseNotYet, string>> = {
  feed: 'Choose a feed.',
  rise: 'Enter the dB above cold sky.',
  hot: 'The reading on the hot source is missing.',
  cold: 'The reading on cold sky is missing.',
  sfu: 'The Sun’s flux cannot be read. Leave it empty to add it later.',
  two: 'One of the two published fluxes is missing. Leave both empty to add them later.',
  kelvin: 'A temperature cannot be read; it should be above 0.',
  loss: 'A loss cannot be read; it is not below 0.',
  el: 'Its elevation is missing.',
  sigma: 'The uncertainty cannot be read.',
  gain: 'The gain cannot be read.',
  time: 'The time is missing.',
}

const gOverT = (r: Extract<NoiseResult, { kind: 'result' }>): string => measured(r.gOverTDb, r.sigmaDb, 'dB/K').text
/** 4.34 dB are a factor e: ± in kelvin from ± in dB. */
const systemWords = (r: Extract<NoiseResult, { kind: 'result' }>): string =>
  measured(r.systemK, (r.systemK * r.sigmaDb) / 4.343, 'K', 0).text

/** One sentence or two on a record. */
export function noiseSays(result: NoiseResult, of: NoiseOf): string {
  switch (result.kind) {
    case 'result':
      return of === 'sun'
        ? `G/T is ${gOverT(result)}. With this gain the system temperature is ${systemWords(result)}.`
        : `The system temperature is ${systemWords(result)}. With this gain G/T is ${gOverT(result)}.`
    case 'no-rise':
      return 'The hot source was not above the cold sky. Are the two readings swapped, or is the aim off?'
    case 'too-much-rise':
      return `${dB(result.yDb)} above cold sky; with these temperatures even a receiver without noise shows ${dB(result.mostDb)} at most. One of the two temperatures is wrong.`
    case 'no-flux':
      return fluxSays(result.why)
  }
}

export function fluxSays(why: Extract<NoiseResult, { kind: 'no-flux' }>['why']): string {
  switch (why.kind) {
    case 'one-frequency':
      return why.frequencyMHz > 0
        ? `The flux at ${mhz(why.frequencyMHz)} alone does not give the flux at this feed’s: the slope of the Sun’s spectrum changes from day to day. A second one on the other side is needed.`
        : 'The Sun’s flux is not known yet: G/T follows once it is added.'
    case 'not-between':
      return `The flux is known from ${mhz(why.from)} to ${mhz(why.to)}; this feed lies outside, where it would be a guess.`
    case 'too-far-apart':
      return `${mhz(why.from)} and ${mhz(why.to)} are too far apart: between them the Sun’s spectrum is not straight. Take the published frequencies next to this feed’s.`
  }
}

/** What G/T rests on, in rows. */
export function noiseTable(r: Extract<NoiseResult, { kind: 'result' }>): TableRow[] {
  const rows: TableRow[] = [
    { label: 'Above cold sky', value: dB(r.yDb, 2) },
    { label: 'G/T', value: gOverT(r) },
    { label: 'System temperature', value: systemWords(r) },
  ]
  if (r.receiverK !== null) rows.push({ label: 'The receiver alone', value: kelvin(r.receiverK) })
  if (r.sourceK !== null) rows.push({ label: 'The source adds', value: kelvin(r.sourceK) })
  if (r.sfu !== null) rows.push({ label: 'Flux', value: sfuWords(r.sfu) })
  rows.push({
    label: 'Effective area',
    value: `${fixed(r.areaM2, 2)}${NBSP}m²`,
    note: `Gain ${fixed(r.gainDbi, 1)}${NBSP}dBi, ${r.gainKnown ? 'as entered' : 'at 55 % efficiency'}.`,
  })
  const lost = r.sizeDb + r.airDb + r.lossDb
  if (lost > 0.005)
    rows.push({
      label: 'Taken off',
      value: dB(lost, 2),
      note: `${(
        [
          ['for the width of the disc', r.sizeDb],
          ['for the air', r.airDb],
          ['for other losses', r.lossDb],
        ] as const
      )
        .filter(([, db]) => db >= 0.005)
        .map(([what, db]) => `${dB(db, 2)} ${what}`)
        .join(', ')}.`,
    })
  return rows
}

/** Kept before the flux was known. */
export const lacksFlux = (result: NoiseResult): boolean =>
  result.kind === 'no-flux' && result.why.kind === 'one-frequency' && result.why.frequencyMHz === 0

/** "Sun 8.2 dB" and what came of it, for the list. */
export const noiseRowWords = (row: NoiseRow): { head: string; says: string } => ({
  head: NOISE_OF_WORDS[row.of].name,
  says:
    row.result.kind === 'result'
      ? `${dB(row.result.yDb)}, G/T ${gOverT(row.result)}`
      : row.result.kind === 'no-flux'
        ? lacksFlux(row.result)
          ? 'flux missing: add it'
          : 'flux not known'
        : dB(row.result.yDb),
})

const FROM = {
  measured: 'as last measured',
  station: 'from the station',
  assumed: 'assumed',
} as const

/** What a feed should hear. */
export function noiseExpectedSays(e: ExpectedNoise): string[] {
  const out: string[] = []
  const system = `With a system temperature of ${kelvin(e.systemK)} (${FROM[e.systemFrom]})`
  out.push(
    e.sunDb === null
      ? `${system} expect Moon noise ${dB(e.moonDb, 2)} above cold sky. The quiet Sun’s flux is not published for this band.`
      : `${system} expect Sun noise ${dB(e.sunDb)} above cold sky at ${sfuWords(e.sfu!)} (${e.fluxFrom === 'quiet' ? 'the quiet Sun' : 'as last entered'}), Moon noise ${dB(e.moonDb, 2)}.`,
  )
  return out
}
export const moonWarning = (e: ExpectedNoise): string | null =>
  e.moonTooWeak
    ? `The Moon’s noise is too weak to point by: ${dB(e.moonDb, 2)}, and ${dB(HEARD_DB)} is needed. ${e.hearsMoonEchoes ? 'Point by the Sun, or by echoes.' : 'Point by the Sun, or by its shadow.'}`
    : null

/** "Since 9 May 2026 it hears 1.9 ± 0.2 dB less of the Sun than before." */
export function stepSays(step: NoiseAnswer['steps'][number], feed: string): string {
  const size = measured(Math.abs(step.db), step.sigma, 'dB').text
  const rows = `${countOf(step.before, 'record')} before, ${step.after} after`
  return step.db < 0
    ? `Since ${utcDate(instantMs(step.utc))} G/T through ${safeText(feed)} is ${size} lower than before (${rows}). Look at the aim first, then at feed, connectors and preamplifier, then at the dish itself.`
    : `Since ${utcDate(instantMs(step.utc))} G/T through ${safeText(feed)} is ${size} higher than before (${rows}).`
}
