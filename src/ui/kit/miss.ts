/**
 * A miss: where the target stands against the beam when the dish is driven by the book, right and high as seen from behind
 * the dish; measured minus expected. The one convention of every list, page and drawing. Pure.
 */
import type { SolvedSighting } from '../../core/records/solution.ts'
import { decimalsFor, degrees, NBSP } from './format.ts'

/** Of the target, degrees of arc; right and high positive. */
export interface Miss {
  rightDeg: number
  upDeg: number
}

/** The solution has the model minus what was measured; here it is what was measured minus the model. */
export const missOf = ({ rightDeg, upDeg }: Pick<SolvedSighting, 'rightDeg' | 'upDeg'>): Miss => ({
  rightDeg: 0 - rightDeg,
  upDeg: 0 - upDeg,
})

const RIGHT = ['left', 'right'] as const
const HIGH = ['low', 'high'] as const

/** The decimals of a miss that is good to σ: one to three. */
export const missDecimals = (sigmaDeg: number): number => Math.max(1, Math.min(3, decimalsFor(sigmaDeg, 2)))

export interface MissPart {
  /** "5.5°" */
  size: string
  /** "right", "low" */
  word: (typeof RIGHT)[number] | (typeof HIGH)[number]
}

/** Across first, then up; what rounds to nothing is left out. */
export function missParts({ rightDeg, upDeg }: Miss, decimals: number): MissPart[] {
  const part = (deg: number, [below, above]: typeof RIGHT | typeof HIGH): MissPart[] => {
    const size = degrees(Math.abs(deg), decimals)
    return /[1-9]/.test(size) ? [{ size, word: deg < 0 ? below : above }] : []
  }
  return [...part(rightDeg, RIGHT), ...part(upDeg, HIGH)]
}

/** "0.4° right, 0.1° high"; empty where it rounds to nothing. */
export const sidesWords = (miss: Miss, decimals: number): string =>
  missParts(miss, decimals)
    .map(({ size, word }) => `${size}${NBSP}${word}`)
    .join(', ')

/** The same, as finely as σ allows. */
export const offWords = (miss: Miss, sigmaDeg: number): string => sidesWords(miss, missDecimals(sigmaDeg))

/** "(to 0.1°)": how finely a miss that rounds to nothing is given. */
export function finenessWords(sigmaDeg: number): string {
  const decimals = missDecimals(sigmaDeg)
  return `(to ${degrees(10 ** -decimals, decimals)})`
}

/** "0.4° right, 0.1° high", or "spot on (to 0.1°)". */
export const missWords = (miss: Miss, sigmaDeg: number): string =>
  offWords(miss, sigmaDeg) || `spot on ${finenessWords(sigmaDeg)}`

/** How far off in all, and where its arrow points: clockwise from high, degrees; null where it rounds to nothing. */
export function missArrow(miss: Miss, sigmaDeg: number): { size: string; turnDeg: number | null } {
  const size = degrees(Math.hypot(miss.rightDeg, miss.upDeg), missDecimals(sigmaDeg))
  const turnDeg = Math.round((Math.atan2(miss.rightDeg, miss.upDeg) * 180) / Math.PI)
  return { size, turnDeg: /[1-9]/.test(size) ? turnDeg : null }
}
