/**
 * What keeps a mount from a direction: too low, a stop, no such reading, no pose. Enu, apparent, radians.
 */
import { type Inverse, inverseOf, midRange, posesIn, reacher, type TrueAngles } from '../mount/aim.ts'
import type { Axis } from '../mount/names.ts'
import { readingAt, trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import { type Feed, isHighEnough, lowestElevation, type Station } from '../records/station.ts'
import { maskAt } from '../sky/horizonmask.ts'
import type { Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

/**
 * `floor`: below the lowest elevation worth pointing at; `mask`: above that and behind the horizon; `no-pose`: no angles of this
 * mount point there (its keyhole); `lower-triangle`: a jack of that axis has no such length; `lower-min`: that limit stops it.
 */
export type Hindrance = 'floor' | 'mask' | 'no-pose' | `${Axis}-${'min' | 'max' | 'triangle'}`

/** A mount as built with one feed, made ready for many directions. */
export interface PreparedMount {
  /** The lowest elevation that can ever be high enough: below it there is no need to ask. */
  lowest: Rad
  isHighEnough(az: Rad, el: Rad): boolean
  /** Some pose within the limits puts the beam there. */
  isReached(direction: Vec3): boolean
  /** Null: nothing hinders. The sky is asked first, then the mount. */
  hindrance(direction: Vec3, az: Rad, el: Rad): Hindrance | null
}

export function preparedMount(station: Station, feed: Feed, built: Built): PreparedMount {
  const { model, mask } = station
  const floor = lowestElevation(station, feed)
  const mid = midRange(model, built)
  const isReached = reacher(model, built, 'beam')
  const inverse = inverseOf(model, built, 'beam')
  // Along an edge of the mask the elevation is linear: the lowest corner is the lowest of all.
  const lowestMask = mask.reduce((least, p) => Math.min(least, p.el), mask.length === 0 ? -Math.PI / 2 : Infinity)
  return {
    lowest: Math.max(floor, lowestMask),
    isHighEnough: (az, el) => isHighEnough(station, feed, az, el),
    isReached,
    hindrance: (direction, az, el) => {
      if (el < floor) return 'floor'
      if (el < maskAt(mask, az)) return 'mask'
      return isReached(direction) ? null : mountHindrance(inverse, direction, mid)
    },
  }
}

const TURNS = [-2, -1, 0, 1, 2] as const

/** What of the mount stops it: of all poses the one nearest to being allowed, and there the axis that is further out. */
function mountHindrance(inverse: Inverse, direction: Vec3, mid: TrueAngles): Hindrance {
  const { model, built } = inverse
  const poses = posesIn(inverse, direction, mid.T)
  if (poses.length === 0) return 'no-pose'
  let name: Hindrance | null = null
  let least = Infinity
  for (const pose of poses) {
    // Whatever the other axis does, each is nearest to being allowed at its own nearest turn.
    const lower = leastOut(inverse, 'lower', pose.T)
    const upper = lower && leastOut(inverse, 'upper', pose.S)
    if (!lower || !upper) continue
    const by = Math.hypot(lower.by, upper.by)
    if (by >= least) continue
    least = by
    name = lower.by >= upper.by ? lower.name : upper.name
  }
  if (name !== null) return name
  const reads = (axis: Axis, angle: Rad): boolean =>
    TURNS.some(k => readingAt(model, built, axis, angle + 2 * Math.PI * k) !== null)
  return poses.some(p => reads('lower', p.T)) ? 'upper-triangle' : 'lower-triangle'
}

/** Of all turns of an axis that its readout shows, the one that is least beyond a limit, by how much and which; null: it shows none. */
function leastOut({ model, built }: Inverse, axis: Axis, angle: Rad): { name: Hindrance | null; by: Rad } | null {
  const { minReading, maxReading } = model[axis]
  let least: { name: Hindrance | null; by: Rad } | null = null
  for (const k of TURNS) {
    const turned = angle + 2 * Math.PI * k
    const reading = readingAt(model, built, axis, turned)
    if (reading === null) continue
    const end = reading < minReading ? 'min' : reading > maxReading ? 'max' : null
    if (end === null) return { name: null, by: 0 }
    const stop = trueAngle(model, built, axis, end === 'min' ? minReading : maxReading)
    // A stop has its triangle, by the rules of the records; solved arms may just lose it.
    const by = stop.kind === 'angle' ? Math.abs(turned - stop.angle) : Math.PI
    if (least === null || by < least.by) least = { name: `${axis}-${end}`, by }
  }
  return least
}
