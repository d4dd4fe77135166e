/** What can be tapped in a plot, and how a tap finds it. Positions in the drawing's own units, y down. */

/**
 * used: filled disc; outlier: cross; excluded: hollow disc; next: diamond; moon: large hollow disc; sun: disc with rays;
 * over: arrowhead at the frame (off the scale), turned by `turnDeg`.
 */
export type MarkShape = 'used' | 'outlier' | 'excluded' | 'next' | 'moon' | 'sun' | 'over'

export interface PlotMark {
  id: string
  shape: MarkShape
  x: number
  y: number
  /** One sentence: what it is. */
  says: string
  /** For `over`: clockwise from up, degrees. */
  turnDeg?: number
}

/** The mark nearest to a tap, within reach; of equals the last one, which lies on top. */
export function nearestMark(marks: readonly PlotMark[], x: number, y: number, reach: number): PlotMark | null {
  let best: PlotMark | null = null
  let bestDistance = reach
  for (const mark of marks) {
    const d = Math.hypot(mark.x - x, mark.y - y)
    if (d <= bestDistance) {
      best = mark
      bestDistance = d
    }
  }
  return best
}

/** A tenth of a unit is finer than any screen shows. */
export const n1 = (v: number): number => Math.round(v * 10) / 10

export const pathOf = (points: readonly (readonly [number, number])[], close = false): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${n1(x)} ${n1(y)}`).join('') + (close ? 'Z' : '')

export const STATUS_WORDS = { used: 'used', outlier: 'set aside as an outlier', excluded: 'left out by hand' } as const
