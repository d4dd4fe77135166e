/**
 * The cross scan's plan: which readings to set, one axis after the other, each in its own unit (counts for a jack), in steps of
 * half a beamwidth on the sky, always arriving from one side. The target moves on while it is scanned; each reading is meant for
 * its own moment.
 */
import { aim } from '../mount/aim.ts'
import { AXES } from '../mount/names.ts'
import type { Built } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis, Side } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Target } from '../sky/place.ts'
import type { Rad, UtcMs } from '../units.ts'
import { directionTrack, lineOffsetAt, lineOffsetSlopes } from './dishtrack.ts'
import { discOf, scanWidth } from './drift.ts'

export interface CrossWish {
  /** Readings per axis, five or more. Default 5. */
  points?: number
  /** Steps in beamwidths. Default 0.5. */
  step?: number
  /** From which side every reading is reached. Default '+': with growing readings. */
  from?: Side
  /** Time for one reading. Default 30 s. */
  secondsEach?: number
  /** Which axes, in which order. Default both, the lower first. */
  axes?: readonly Axis[]
  /** Where the peak is thought to be, from the beam of the mount as built: the target's offset, right and up. */
  centre?: { right: Rad; up: Rad }
}

interface CrossPoint {
  axis: Axis
  /** -k … k; 0 is the middle. */
  index: number
  utcMs: UtcMs
  lower: number
  upper: number
  /** Within both axes' limits. */
  inside: boolean
  /** The beam's distance from the middle along the scan, planned, after rounding. */
  offset: Rad
}

interface CrossPlan {
  points: CrossPoint[]
  /** Where to drive each scanned axis before its first reading, so that this one too is reached from the wanted side. */
  approach: { axis: Axis; lower: number; upper: number }[]
  from: Side
  /** Step of each axis on the sky, and in its readings at the middle. */
  step: Rad
  stepReading: Partial<Record<Axis, number>>
  /** An axis whose turning hardly moves the beam here (the dish looks along it): it is not planned. */
  useless: Axis[]
  expectedWidth: Rad
}

/** With a smaller share of the axis's turn seen on the sky, scanning it means tens of degrees. */
const LEAST = 0.15

/** Plans a cross scan from a moment on; null where no pose shows the target. */
export function planCross(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  fromUtcMs: UtcMs,
  wish: CrossWish = {},
): CrossPlan | null {
  const { model, site } = station
  const count = Math.max(5, wish.points ?? 5)
  const from = wish.from ?? '+'
  const each = 1000 * (wish.secondsEach ?? 30)
  const axes = wish.axes ?? AXES
  const expectedWidth = scanWidth(feed.hpbw, discOf(target))
  const step = (wish.step ?? 0.5) * expectedWidth
  const direction = directionTrack(target, site, 'radio', fromUtcMs, fromUtcMs + each * count * axes.length)
  const plan: CrossPlan = { points: [], approach: [], from, step, stepReading: {}, useless: [], expectedWidth }
  const rounded = (axis: Axis, reading: number): number =>
    countsSteps(model[axis].readout) ? Math.round(reading) : Math.round(reading * 100) / 100
  let k = 0
  for (const axis of axes) {
    for (let i = 0; i < count; i++, k++) {
      const utcMs = fromUtcMs + each * k
      const t = direction(utcMs)
      const reach = aim(model, built, 'beam', t)
      if (reach === null) return null
      const at = { lower: reach.lower, upper: reach.upper }
      const here = lineOffsetSlopes(model, built, 'beam', at, t)
      if (here === null) return null
      const slope = here[axis]
      const seen = Math.hypot(slope[0], slope[1])
      if (seen < LEAST) {
        if (!plan.useless.includes(axis)) plan.useless.push(axis)
        continue
      }
      const perReading = seen * (axis === 'lower' ? here.lowerPerReading : here.upperPerReading)
      // Readings that put the target where the peak is thought to be: one Newton step, the offsets being small.
      const wanted = wish.centre ?? { right: 0, up: 0 }
      const det = here.lower[0] * here.upper[1] - here.lower[1] * here.upper[0]
      const isFree = Math.abs(det) > 1e-3
      const dLower = isFree ? (wanted.right * here.upper[1] - wanted.up * here.upper[0]) / det : 0
      const dUpper = isFree ? (wanted.up * here.lower[0] - wanted.right * here.lower[1]) / det : 0
      at.lower += dLower / here.lowerPerReading
      at.upper += dUpper / here.upperPerReading
      const middle = at[axis]
      // Growing readings when arrived from '+' (from below), falling ones from '-'.
      const index = from === '+' ? i - (count - 1) / 2 : (count - 1) / 2 - i
      const stepReading = Math.abs(step / perReading)
      at[axis] = middle + index * stepReading
      const shown = { lower: rounded('lower', at.lower), upper: rounded('upper', at.upper) }
      const limits = model[axis === 'lower' ? 'lower' : 'upper']
      const spot = lineOffsetAt(model, built, 'beam', shown, t)
      plan.points.push({
        axis,
        index,
        utcMs,
        ...shown,
        inside:
          spot !== null &&
          AXES.every(x => shown[x] >= model[x].minReading - 1e-9 && shown[x] <= model[x].maxReading + 1e-9),
        offset: (shown[axis] - middle) * Math.abs(perReading),
      })
      plan.stepReading[axis] = stepReading
      if (i === 0) {
        const before = rounded(axis, at[axis] - (from === '+' ? 1 : -1) * stepReading)
        const held = Math.max(limits.minReading, Math.min(limits.maxReading, before))
        plan.approach.push({ axis, ...shown, [axis]: held })
      }
    }
  }
  return plan.points.length === 0 ? null : plan
}
