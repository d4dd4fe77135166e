/** Words of a row of Sun noise against a setting of the feed. */
import type { RowEnd, RowVerdict } from '../../core/noise/feedrow.ts'
import type { RowSetting } from '../../core/records/noise.ts'
import { countOf, fixed, measured, NBSP } from '../kit/format.ts'
import type { RowNotYet } from './rowform.ts'

export const FEED_ROW = {
  title: 'Best place of the feed',
  start: 'Find the best place of the feed',
  caution: {
    act: 'noise-row',
    gravest: 'Turn the dish off the Sun before hands go near the feed, each time.',
    more: [
      'Transmitter off and locked off. Jack supply off while you are at the feed.',
      'Ladder on firm ground with somebody to hold it. Not in wind, not alone.',
    ],
  },
  what: 'Set the feed, note its scale, read the Sun above cold sky. Move on in equal steps, past the best on both sides. Come back to the first setting at the end: if it reads differently, the Sun or the receiver has drifted.',
  setting: 'What you move',
  reading: (n: number) => `Reading ${n}`,
  folded: (n: number, at: string, unit: string, y: string) =>
    `Reading ${n}, ${at}${unit === '°' ? '' : NBSP}${unit}, ${y}${NBSP}dB`,
  at: 'Setting',
  atHint: ' ',
  y: 'Sun above cold sky',
  remove: (n: number) => `Remove reading ${n}`,
  sigma: 'Uncertainty of a reading, ±',
  sigmaHint: 'Optional: from the scatter of the row if left empty.',
  keep: 'Keep this row',
  list: 'Rows',
  plot: 'Sun above cold sky at each setting, dB',
  best: 'best',
  removeRow: 'Delete this row',
} as const

export const SETTING_WORDS: Readonly<Record<RowSetting, { word: string; note: string; more: string; less: string }>> = {
  axial: { word: 'In and out', note: 'the feed along its axis, mm', more: 'larger', less: 'smaller' },
  'choke-ring': { word: 'Choke ring', note: 'its place on the feed, mm', more: 'larger', less: 'smaller' },
  rotation: { word: 'Rotation', note: 'the feed about its axis, degrees', more: 'larger', less: 'smaller' },
}

export const unitOfSetting = (setting: RowSetting): string => (setting === 'rotation' ? '°' : 'mm')

export const ROW_NOT_YET: Readonly<Record<RowNotYet, string>> = {
  none: 'No reading yet.',
  half: 'A reading lacks its setting or its dB.',
  sigma: 'The uncertainty cannot be read.',
  time: 'The time is missing.',
}

const toward = (setting: RowSetting, way: RowEnd): string => `${SETTING_WORDS[setting][way]} settings`

/** The finding, with its ±: half of the 68 % interval. */
export const bestWords = (setting: RowSetting, best: Extract<RowVerdict, { kind: 'best' }>): string =>
  measured(best.at, (best.high68 - best.low68) / 2, unitOfSetting(setting)).text

const place = (setting: RowSetting, at: number): string =>
  `${fixed(at, 1)}${setting === 'rotation' ? '°' : `${NBSP}mm`}`

/** One sentence or two. */
export function feedRowSays(setting: RowSetting, verdict: RowVerdict): string {
  switch (verdict.kind) {
    case 'best':
      return `Best at ${bestWords(setting, verdict)}: 19 times in 20 between ${place(setting, verdict.low95)} and ${place(setting, verdict.high95)}. The Sun is ${fixed(verdict.yDb, 1)}${NBSP}dB above cold sky there.`
    case 'outside':
      return `The best lies outside the row, at ${toward(setting, verdict.toward)}. Take readings there; how far out, this row does not show.`
    case 'open':
      return `Louder toward ${toward(setting, verdict.toward)}; the best is not bracketed. Take readings beyond that end.`
    case 'flat':
      return 'No setting stands out from the scatter. Take wider steps, or average each reading for longer.'
    case 'valley':
      return 'Weakest in the middle: no best in this row. Check the aim between the readings.'
    case 'not-enough':
      return `Not enough yet: at least ${countOf(verdict.wanted, 'more reading')}, at four settings or more.`
  }
}

/** For the list: what was found, in a few words. */
export const rowShort = (setting: RowSetting, verdict: RowVerdict): string =>
  verdict.kind === 'best'
    ? `best at ${bestWords(setting, verdict)}`
    : verdict.kind === 'outside'
      ? 'best outside the row'
      : verdict.kind === 'not-enough'
        ? 'not enough yet'
        : 'best not found'
