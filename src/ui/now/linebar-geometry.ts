import { roundAbove } from '../kit/roundabove.ts'

/**
 * A bar like a graduated scale: filled up to the value, with a strong mark at what is allowed and small ticks at round
 * numbers. All positions in percent of its length.
 */
interface LineBarShapes {
  filledPct: number
  /** null where there is no limit. */
  allowedPct: number | null
  ticksPct: number[]
  /** The end of the scale. */
  full: number
  /** True when the value passes the end; the bar is then full. */
  beyond: boolean
}

/** @param full end of the scale; without it, 1.25 × the larger of value and allowed. Negative values count as nothing. */
export function lineBar(value: number, allowed: number | null, full?: number): LineBarShapes {
  const v = Number.isFinite(value) ? Math.max(0, value) : 0
  const end = full !== undefined && full > 0 ? full : 1.25 * Math.max(v, allowed ?? 0) || 1
  const step = roundAbove(end / 10)
  const ticksPct: number[] = []
  for (let k = 1; k * step < end * (1 - 1e-9); k++) ticksPct.push((100 * k * step) / end)
  return {
    filledPct: Math.min(100, (100 * v) / end),
    allowedPct: allowed === null ? null : Math.min(100, (100 * allowed) / end),
    ticksPct,
    full: end,
    beyond: v > end,
  }
}
