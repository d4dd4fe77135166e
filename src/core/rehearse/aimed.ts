/**
 * The readings at which the real mount puts a line on a direction: Newton on the mount's own chain, started from the best of a
 * grid of readings where there is no first guess. Used to judge a dish and to draw one that reaches its sky; the solver has its own.
 */
import type { Axis } from '../records/fieldbook.ts'
import { type LineName, offsetDeg, readoutAngleDeg, type Sides, type TrueMount, type TruePose } from './mount.ts'
import { apartDeg } from './turning.ts'

export interface Readings {
  lower: number
  upper: number
}

/**
 * The readings at which t stands at an offset (degrees) from the line, from a first guess; null where Newton does not converge.
 */
export function trueReadings(
  mount: TrueMount,
  line: LineName,
  feed: string | undefined,
  t: readonly [number, number, number],
  offset: readonly [number, number],
  guess: Readings,
  sides: Sides = {},
): Readings | null {
  let { lower, upper } = guess
  const at = (l: number, s: number) => offsetDeg(mount.pose(l, s, line, feed, sides), t)
  // The step for the slopes: the reading that is worth a thousandth of a degree.
  const stepOf = (axis: Axis, reading: number): number => {
    const perReading =
      (readoutAngleDeg(mount.record, axis, reading + 0.01) - readoutAngleDeg(mount.record, axis, reading)) / 0.01
    return 0.001 / Math.max(1e-6, Math.abs(perReading))
  }
  for (let i = 0; i < 30; i++) {
    const [x, y] = at(lower, upper)
    const ex = x - offset[0]
    const ey = y - offset[1]
    if (!Number.isFinite(ex + ey)) return null
    const hl = stepOf('lower', lower)
    const hu = stepOf('upper', upper)
    const l1 = at(lower + hl, upper)
    const l0 = at(lower - hl, upper)
    const u1 = at(lower, upper + hu)
    const u0 = at(lower, upper - hu)
    const xl = (l1[0] - l0[0]) / (2 * hl)
    const yl = (l1[1] - l0[1]) / (2 * hl)
    const xu = (u1[0] - u0[0]) / (2 * hu)
    const yu = (u1[1] - u0[1]) / (2 * hu)
    const det = xl * yu - xu * yl
    if (!(Math.abs(det) > 1e-12)) return null
    lower -= (yu * ex - xu * ey) / det
    upper -= (xl * ey - yl * ex) / det
    if (Math.hypot(ex, ey) < 1e-11) return { lower, upper }
  }
  const [x, y] = at(lower, upper)
  return Math.hypot(x - offset[0], y - offset[1]) < 1e-7 ? { lower, upper } : null
}

/** First guesses along each axis. */
const GRID = 9

/** Where a line looks at the readings of the grid. */
function gridOf(mount: TrueMount, line: LineName, feed: string | undefined): { at: Readings; b: TruePose['b'] }[] {
  const { lower, upper } = mount.record.mount
  const out: { at: Readings; b: TruePose['b'] }[] = []
  for (let i = 0; i < GRID; i++)
    for (let j = 0; j < GRID; j++) {
      const at = {
        lower: lower.minReading + ((i + 0.5) / GRID) * (lower.maxReading - lower.minReading),
        upper: upper.minReading + ((j + 0.5) / GRID) * (upper.maxReading - upper.minReading),
      }
      out.push({ at, b: mount.pose(at.lower, at.upper, line, feed).b })
    }
  return out
}

/** As `aimed`, for many directions of one mount and one line: the grid is worked out once. */
export function aimerOf(mount: TrueMount, line: LineName, feed?: string) {
  const { lower, upper } = mount.record.mount
  const isInside = (at: Readings) =>
    at.lower >= lower.minReading &&
    at.lower <= lower.maxReading &&
    at.upper >= upper.minReading &&
    at.upper <= upper.maxReading
  let grid: ReturnType<typeof gridOf> | null = null
  return (t: readonly [number, number, number], near?: Readings | null): Readings | null => {
    const from = (guess: Readings): Readings | null => {
      const found = trueReadings(mount, line, feed, t, [0, 0], guess)
      return found !== null && isInside(found) ? found : null
    }
    const first = near ? from(near) : null
    if (first !== null) return first
    grid ??= gridOf(mount, line, feed)
    const guesses = grid.map(({ at, b }) => ({ at, off: apartDeg(b, t) })).filter(({ off }) => Number.isFinite(off))
    guesses.sort((a, b) => a.off - b.off)
    for (const { at } of guesses.slice(0, 3)) {
      const found = from(at)
      if (found !== null) return found
    }
    return null
  }
}

/**
 * The readings inside the limits that put a line on t; null: out of reach. @param near  a guess to begin with
 */
export const aimed = (
  mount: TrueMount,
  line: LineName,
  feed: string | undefined,
  t: readonly [number, number, number],
  near?: Readings | null,
): Readings | null => aimerOf(mount, line, feed)(t, near)
