/**
 * The solved parameters as rows: what is off, how far and which way (or between what, where it is open), its state, and what
 * to do about it, grouped by that. Degrees, millimetres or inches, per cent. Pure.
 */
import { type Advice, adviceFor, WORTH_TURNING } from '../../core/export/advice.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { ParameterState, Solution, SolvedParameter } from '../../core/records/solution.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { angleStyle, decimalsFor, degrees, fixed, type LengthUnit, measured, NBSP } from '../kit/format.ts'
import { subjectWords } from '../kit/parameterwords.ts'
import { adviceWords } from './advicewords.ts'
import { feedName } from './words.ts'

export type Group = 'turn' | 'open' | 'numbers' | 'leave'

export interface Found {
  key: string
  what: string
  /** "anticlockwise 1.3 ± 0.6°"; for an open one "between 0.1 and 2.5° anticlockwise". */
  value: string
  state: ParameterState
  advice: Advice
  /** The advice in words. */
  says: string
  group: Group
  /** True when the value is more than 2 σ from zero. */
  isSure: boolean
}

/** 19 times in 20 the true value lies within this many σ. */
const RANGE = 2

/** Value and σ in the unit that is shown. */
function shownUnit(p: SolvedParameter, length: LengthUnit): { k: number; unit: string } {
  if (p.unit === 'deg') return { k: 1, unit: '°' }
  if (p.unit === 'ratio') return { k: 100, unit: '%' }
  return length === 'mm' ? { k: 1, unit: 'mm' } : { k: 1 / MM_PER_INCH, unit: 'in' }
}

const withUnit = (number: string, unit: string): string => (unit === '°' ? `${number}°` : `${number}${NBSP}${unit}`)

/** An open range as text, with few digits. */
export function rangeText(value: number, sigma: number, senses: readonly [string, string], unit: string): string {
  const [low, high] = [value - RANGE * sigma, value + RANGE * sigma]
  if (unit === '°' && high - low > 360) return 'anything'
  const decimals = Math.max(0, decimalsFor(sigma, 1))
  // With minutes each end carries its own signs.
  const isMinutes = unit === '°' && angleStyle() !== 'decimal' && decimals > 0
  const size = (x: number) => (isMinutes ? degrees(Math.abs(x), decimals) : fixed(Math.abs(x), decimals))
  const end = (x: number, sense: string) => `${isMinutes ? size(x) : withUnit(size(x), unit)} ${sense}`.trim()
  if (low >= 0) return `between ${size(low)} and ${end(high, senses[1])}`
  if (high <= 0) return `between ${size(high)} and ${end(low, senses[0])}`
  return `between ${end(low, senses[0])} and ${end(high, senses[1])}`
}

/** "anticlockwise 1.3 ± 0.6°"; what rounds to zero has no direction. */
export function directionText(value: number, sigma: number, senses: readonly [string, string], unit: string): string {
  const m = measured(Math.abs(value), sigma, unit)
  const sense = /[1-9]/.test(m.value) ? (value < 0 ? senses[0] : senses[1]) : ''
  return `${sense} ${m.text}`.trim()
}

export function foundRows(solution: Solution, station: StationRecord, length: LengthUnit): Found[] {
  const { mount, site, feeds } = station
  return solution.parameters.map(p => {
    const { what, senses } = subjectWords(p.id, mount, site.latDeg, feedName(feeds, p.feed))
    const { k, unit } = shownUnit(p, length)
    const advice = adviceFor(p, { kind: mount.kind, latDeg: site.latDeg })
    const isOpen = p.state === 'open'
    return {
      key: `${p.id} ${p.feed ?? ''}`,
      what,
      value: (isOpen ? rangeText : directionText)(k * p.value, k * p.sigma, senses, unit),
      state: p.state,
      advice,
      says: adviceWords(advice, length),
      isSure: Math.abs(p.value) > WORTH_TURNING * p.sigma,
      group: advice.kind === 'move' ? 'turn' : isOpen ? 'open' : advice.kind === 'leave' ? 'leave' : 'numbers',
    }
  })
}
