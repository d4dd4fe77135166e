/**
 * Polarisation on a target: how far the dish's UP mark is rolled from the vertical, and how far the verticals of two places are turned
 * against each other as the Moon sees them. It matters for linear feeds alone. Enu, radians.
 */
import { wrapPi } from '../angles.ts'
import { northPole } from '../frames.ts'
import { poseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import type { Rad } from '../units.ts'
import { cross, dot, scale, sub, type Vec3 } from '../vectors.ts'

const U: Vec3 = [0, 0, 1]

/**
 * The roll of the UP mark from the vertical, [-π, π): + clockwise as seen by someone behind the dish looking out along the beam. Near
 * the zenith the vertical itself turns fast; straight up it is counted from the south. Null: a reading outside a jack's triangle.
 */
export function rollOf(station: Station, built: Built, lower: number, upper: number): Rad | null {
  const T = trueAngle(station.model, built, 'lower', lower)
  const S = trueAngle(station.model, built, 'upper', upper)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const { b, u } = poseAt(station.model, built, T.angle, S.angle, 'beam')
  // Leaning back to the zenith toward the north, the vertical of the picture ends pointing south.
  const vertical: Vec3 = Math.hypot(b[0], b[1]) < 1e-12 ? [0, -1, 0] : sub(U, scale(b, b[2]))
  return wrapPi(Math.atan2(dot(u, cross(b, vertical)), dot(u, vertical)))
}

/**
 * The angle at a target from the north of the sky to the vertical, through east: the parallactic angle, + west of the meridian in the
 * north; (-π, π]. @param airless  its direction from a place at `lat`
 */
export function verticalFromNorth(airless: Vec3<'Enu'>, lat: Rad): Rad {
  const pole = northPole(lat)
  const east = cross(pole, airless)
  const north = cross(airless, east)
  // The zenith, seen from the target's place, leaned on north and east; both have the same length.
  return Math.atan2(dot(U, east), dot(U, north))
}

/** An angle between two lines, [-π/2, π/2): half a turn of a linear polarisation is the same. */
const asLines = (a: Rad): Rad => a - Math.PI * Math.floor(a / Math.PI + 0.5)

/**
 * The spatial offset of two places: from the own vertical to the other's, on the sky through east as seen from here; of lines, so in
 * [-π/2, π/2). Two horizontal feeds lose -20 log10 |cos| of it, one way, by this alone (Faraday rotation comes on top).
 */
export const spatialOffset = (
  own: { airless: Vec3<'Enu'>; lat: Rad },
  other: { airless: Vec3<'Enu'>; lat: Rad },
): Rad => asLines(verticalFromNorth(other.airless, other.lat) - verticalFromNorth(own.airless, own.lat))
