/**
 * What a program computes from the numbers of the mount that it takes: the two axis angles for a place in the sky. It knows the mount
 * as entered, and besides that only the numbers of its page. Degrees out; Enu and radians inside.
 */
import { truePoses } from '../mount/aim.ts'
import { lowerAxisToward, lowerAxisTurn } from '../mount/asbuilt.ts'
import type { Axis } from '../mount/names.ts'
import { onPaper, SLOT } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import { apply } from '../rotations.ts'
import type { Site } from '../sky/place.ts'
import { type Deg, degFromRad, type Rad, radFromDeg } from '../units.ts'
import { cross, dot, enuFromAzEl, scale, sub, unit, type Vec3 } from '../vectors.ts'
import type { Aiming, AxisPage, Numbers } from './numbers.ts'

/** Something to aim at: where it stands here, and where it would stand seen from another site. */
export interface AimPoint {
  direction: Vec3
  from(site: Site): Vec3
}

export type Angles = Record<Axis, Deg>
export type Ranges = Record<Axis, Pick<AxisPage, 'fromDeg' | 'toDeg'>>

/** The turn of an angle that lies inside, nearest the middle; else the one nearest the middle. */
function turnOf(angle: Deg, { fromDeg, toDeg }: Ranges[Axis]): { angle: Deg; inside: boolean } {
  const middle = (fromDeg + toDeg) / 2
  const nearest = angle + 360 * Math.round((middle - angle) / 360)
  return { angle: nearest, inside: nearest >= fromDeg && nearest <= toDeg }
}

/** Of the poses the one inside both ranges, nearest their middles; one outside only where none is inside. */
function poseOf(poses: readonly Angles[], ranges: Ranges): Angles | null {
  let best: Angles | null = null
  let bestCost = Infinity
  for (const pose of poses) {
    const lower = turnOf(pose.lower, ranges.lower)
    const upper = turnOf(pose.upper, ranges.upper)
    const off = (at: Deg, r: Ranges[Axis]) => at - (r.fromDeg + r.toDeg) / 2
    const cost =
      Math.hypot(off(lower.angle, ranges.lower), off(upper.angle, ranges.upper)) +
      (lower.inside && upper.inside ? 0 : 1e6)
    if (cost >= bestCost) continue
    best = { lower: lower.angle, upper: upper.angle }
    bestCost = cost
  }
  return best
}

/** A direction with its azimuth turned by an angle. */
const turned = (t: Vec3, by: Rad): Vec3 => {
  const s = Math.sin(by)
  const c = Math.cos(by)
  return [t[0] * c + t[1] * s, t[1] * c - t[0] * s, t[2]]
}

/** The part of v square to n, as a unit vector; null where v lies along n. */
function squareTo(n: Vec3, v: Vec3): Vec3 | null {
  const across = sub(v, scale(n, dot(n, v)))
  return Math.hypot(...across) < 1e-9 ? null : unit(across)
}

/** The upper end of a polar axis, as a direction of the pole that the mount is named for. */
const poleOf = ({ model }: Station, azDeg: Deg, elDeg: Deg): Vec3 => {
  const end = enuFromAzEl(radFromDeg(azDeg), radFromDeg(elDeg))
  return model.latitude < 0 ? scale(end, -1) : end
}

/** Directions counted about a polar axis as it stands, put where the mount on paper has the same angles. */
function aboutPole(station: Station, P: Vec3): (t: Vec3) => Vec3 {
  const { paper } = station.model
  // Hour angle zero lies in the vertical plane through the axis, on the upper side.
  const Q = squareTo(P, [0, 0, 1]) ?? paper.b0
  const W = cross(Q, P)
  return t => {
    const [q, w, p] = [dot(t, Q), dot(t, W), dot(t, P)]
    const along = (k: 0 | 1 | 2) => q * paper.b0[k] + w * (k === 0 ? -1 : 0) + p * paper.a1[k]
    return [along(0), along(1), along(2)]
  }
}

/** The lower axis of a told geometry: unit vector along a1, Enu. */
export function toldAxis(station: Station, n: Numbers): Vec3 {
  const { kind } = station.model
  switch (kind) {
    case 'el-over-az':
      return enuFromAzEl(radFromDeg(n.leanAzDeg!), radFromDeg(90 - n.leanDeg!))
    case 'ha-dec':
      return poleOf(station, n.axisAzDeg!, n.axisElDeg!)
    default: {
      // Of the mount's heading: a1 points forward, or to the right hand.
      const right = kind === 'az-over-el' ? 90 : 0
      return enuFromAzEl(radFromDeg(n.headingDeg! + right), radFromDeg(n.axisElDeg!))
    }
  }
}

/**
 * By how much the page's zero of the lower axis is turned against that of the chain, which goes the shortest way from paper. The page
 * counts from a plane that can be seen: el-over-az through north, ha-dec through the vertical; the other two through the level line.
 */
function zeroTurn(station: Station, a: Rad, b: Rad): Rad {
  const { paper, kind } = station.model
  if (paper.headed) return 0
  const { R } = lowerAxisTurn(paper, a, b)
  const n = apply(R, paper.a1)
  const seen = squareTo(n, kind === 'el-over-az' ? [0, 1, 0] : [0, 0, 1])
  if (seen === null) return 0
  const zero = apply(R, paper.b0)
  return paper.s1 * Math.atan2(dot(n, cross(seen, zero)), dot(seen, zero))
}

/**
 * The program's own aiming, made once for many places.
 *
 * @param n  the page's numbers; of `paper` none are read
 * @returns  null where no pose of the mount as told shows the place
 */
export function aimingBy(
  station: Station,
  aiming: Aiming,
  n: Numbers,
  ranges: Ranges,
): (look: AimPoint) => Angles | null {
  const { model } = station
  const built = onPaper()
  let toPaper: (look: AimPoint) => Vec3 = look => look.direction
  let turnDeg = 0
  if (aiming === 'site') {
    // No program accepts a latitude beyond 90°.
    if (!(Math.abs(n.latDeg!) <= 90)) return () => null
    const site = { ...station.site, lat: radFromDeg(n.latDeg!), lon: radFromDeg(n.lonDeg!) }
    toPaper = look => turned(look.from(site), radFromDeg(n.turnDeg!))
  } else if (aiming === 'pole') {
    const about = aboutPole(station, poleOf(station, n.axisAzDeg!, n.axisElDeg!))
    toPaper = look => about(look.direction)
  } else if (aiming === 'geometry') {
    const [a, b] = lowerAxisToward(model.paper, toldAxis(station, n))
    built[SLOT.axisA] = a
    built[SLOT.axisB] = b
    built[SLOT.collimation] = radFromDeg(n.dishOffsetDeg!) - model.offset
    turnDeg = degFromRad(zeroTurn(station, a, b))
  }
  return look =>
    poseOf(
      truePoses(model, built, 'beam', toPaper(look)).map(pose => ({
        lower: degFromRad(pose.T) + turnDeg,
        upper: degFromRad(pose.S),
      })),
      ranges,
    )
}
