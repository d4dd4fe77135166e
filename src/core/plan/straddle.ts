/**
 * Whether a peak can be found where it would be sighted: the signal has to fall by half on either side of each axis, and what falls must be
 * the target's. Not with a stop within half a beamwidth, nor with ground or hills inside the beam's half-power edge. A shadow or a tube
 * wants none of that. Radians.
 */
import { lineOf } from '../fit/methods.ts'
import type { Reach } from '../mount/aim.ts'
import { lowerAxisTurn } from '../mount/asbuilt.ts'
import { readingAt } from '../mount/readings.ts'
import { type Built, SLOT } from '../mount/slots.ts'
import type { Axis, Method } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import { apply } from '../rotations.ts'
import { maskAt } from '../sky/horizonmask.ts'
import type { Rad } from '../units.ts'
import { azElFromEnu, cross, norm, type Vec3 } from '../vectors.ts'

/** Found by driving past it on both axes. A drift waits in one place. */
const isDrivenPast = (method: Method): boolean => method === 'signal-peak' || method === 'cross-scan'

/** A level ground's horizon. */
const GROUND: Rad = 0

/**
 * For a mount as built and a feed: whether a sighting by a method can be made of a target at t with the axes at `reach`.
 */
export function straddler(
  station: Station,
  feed: Feed,
  built: Built,
): (method: Method, t: Vec3, reach: Pick<Reach, 'T' | 'S'>) => boolean {
  const { model, mask } = station
  const half = feed.hpbw / 2
  const { R } = lowerAxisTurn(model.paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const lowerAxis = apply(R, model.paper.a1)

  const hasRoom = (axis: Axis, at: Rad, by: Rad): boolean => {
    const { minReading, maxReading } = model[axis]
    return [-by, by].every(way => {
      const reading = readingAt(model, built, axis, at + way)
      return reading !== null && reading >= minReading && reading <= maxReading
    })
  }
  /** By how much the lower axis turns until the beam is half a width away: the nearer to that axis the more. Null: it never is. */
  const lowerTurn = (t: Vec3): Rad | null => {
    const chord = Math.sin(half / 2) / norm(cross(lowerAxis, t))
    return chord <= 1 ? 2 * Math.asin(chord) : null
  }
  const isClear = (t: Vec3): boolean => {
    const { az, el } = azElFromEnu(t)
    const beside = half / Math.max(Math.cos(el), 1e-3)
    const highest = Math.max(GROUND, ...[-beside, 0, beside].map(by => maskAt(mask, az + by)))
    return el - half >= highest
  }

  return (method, t, { T, S }) => {
    if (lineOf(method) !== 'beam') return true
    if (!isClear(t)) return false
    if (!isDrivenPast(method)) return true
    const by = lowerTurn(t)
    return by !== null && hasRoom('lower', T, by) && hasRoom('upper', S, half)
  }
}
