/**
 * Which way is up, seen from the phone: a unit vector in the Phone frame (x right edge, y top edge, z out of the screen).
 * From the two angles of an orientation event it is the third row of the rotation matrix, and needs no heading; from an
 * acceleration it is the acceleration's direction, whose sign depends on the platform and is found by agreement.
 * Radians. Angles are never averaged: at beta = ±90° two of them lose their meaning and the vector does not.
 * Source: W3C Device Orientation and Motion, appendix A.2 (Z-X'-Y'' intrinsic).
 */
import { type Rad, radFromDeg } from '../units.ts'
import { cross, dot, norm, scale, unit, type Vec3 } from '../vectors.ts'

/** Up in the Phone frame. @param beta about the short axis; @param gamma about the long one; any heading */
export const upFromAngles = (beta: Rad, gamma: Rad): Vec3<'Phone'> => [
  -Math.cos(beta) * Math.sin(gamma),
  Math.sin(beta),
  Math.cos(beta) * Math.cos(gamma),
]

/** Standard gravity, m/s². */
export const GRAVITY = 9.80665

/** A phone that moves shows more or less than gravity; beyond this share its acceleration says nothing of up. */
const MOST_ODD = 0.1
/** Two sources that differ by more, the phone being still, are not both right. */
const MOST_APART: Rad = radFromDeg(5)

/** 1: as the specification has it (lying on its back it shows +z). -1: the other way round. */
export type GravitySign = 1 | -1

type SignFound =
  | { kind: 'sign'; sign: GravitySign; apart: Rad }
  /** Neither sign brings the two together. */
  | { kind: 'disagree'; apart: Rad }
  /** The phone is being moved, or the acceleration is not gravity at all. */
  | { kind: 'not-still' }

/**
 * The sign of this phone's acceleration with gravity in it, from the up vector that its orientation gives at that moment.
 *
 * @param acceleration  accelerationIncludingGravity, m/s²
 * @param up            unit vector
 */
export function signOfGravity(acceleration: Vec3<'Phone'>, up: Vec3<'Phone'>): SignFound {
  const size = norm(acceleration)
  if (!(Math.abs(size / GRAVITY - 1) <= MOST_ODD)) return { kind: 'not-still' }
  const sign = dot(acceleration, up) < 0 ? -1 : 1
  const apart = angleApart(scale(acceleration, sign), up)
  return apart <= MOST_APART ? { kind: 'sign', sign, apart } : { kind: 'disagree', apart }
}

/** Lying on its back the phone's z is up: the sign, where there is no orientation to compare with. Null when it is not. */
export function signLyingFaceUp(acceleration: Vec3<'Phone'>): GravitySign | null {
  const size = norm(acceleration)
  if (!(Math.abs(size / GRAVITY - 1) <= MOST_ODD)) return null
  const z = acceleration[2] / size
  return Math.abs(z) < Math.cos(radFromDeg(30)) ? null : z < 0 ? -1 : 1
}

/** Up from an acceleration whose sign is known; null when the phone is being moved. */
export function upFromGravity(acceleration: Vec3<'Phone'>, sign: GravitySign): Vec3<'Phone'> | null {
  const size = norm(acceleration)
  return Math.abs(size / GRAVITY - 1) <= MOST_ODD ? scale(acceleration, sign / size) : null
}

/** The angle between two vectors of any lengths, accurate at both ends. */
export const angleApart = (a: Vec3<'Phone'>, b: Vec3<'Phone'>): Rad => Math.atan2(norm(cross(a, b)), dot(a, b))

/** What the phone can be measured by: an edge, or the plane of its screen, given by its normal. */
export const EDGES = ['long', 'short', 'screen'] as const
export type Edge = (typeof EDGES)[number]
/** An edge, named by the end whose rise is +. */
export type PhoneEnd = 'top' | 'bottom' | 'right' | 'left' | 'screen' | 'back'

const ENDS: Readonly<Record<PhoneEnd, { edge: Edge; line: Vec3<'Phone'> }>> = {
  top: { edge: 'long', line: [0, 1, 0] },
  bottom: { edge: 'long', line: [0, -1, 0] },
  right: { edge: 'short', line: [1, 0, 0] },
  left: { edge: 'short', line: [-1, 0, 0] },
  screen: { edge: 'screen', line: [0, 0, 1] },
  back: { edge: 'screen', line: [0, 0, -1] },
}

/** Unit vector toward the end. */
export const lineOfEnd = (end: PhoneEnd): Vec3<'Phone'> => ENDS[end].line
export const edgeOf = (end: PhoneEnd): Edge => ENDS[end].edge
/** The two ends of an edge: the one along the frame's own axis first. */
export const endsOf = (edge: Edge): readonly [PhoneEnd, PhoneEnd] =>
  edge === 'long' ? ['top', 'bottom'] : edge === 'short' ? ['right', 'left'] : ['screen', 'back']

/** How high a line points, + up. @param line unit vector @param up unit vector */
export const elevationOf = (line: Vec3<'Phone'>, up: Vec3<'Phone'>): Rad =>
  Math.asin(Math.max(-1, Math.min(1, dot(line, up))))

export type PhoneAxis = 'x' | 'y' | 'z'
const AXES: Readonly<Record<PhoneAxis, Vec3<'Phone'>>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] }
export const axisVector = (axis: PhoneAxis): Vec3<'Phone'> => AXES[axis]

/**
 * The axis that the half turn of a reversal goes about, for a line measured as the phone lies now: of the two axes square
 * to the line, the one nearer to level. On its back the long edge is turned about the short axis (ends and face swap),
 * standing on its side about the screen's normal (upside down).
 */
export function turnAxisFor(end: PhoneEnd, up: Vec3<'Phone'>): PhoneAxis {
  const [x, y, z] = up.map(Math.abs) as [number, number, number]
  switch (edgeOf(end)) {
    case 'long':
      return z >= x ? 'x' : 'z'
    case 'short':
      return z >= y ? 'y' : 'z'
    case 'screen':
      return x <= y ? 'x' : 'y'
  }
}

/** Where up lies in the plane that a reversal measures in, (-π, π]: the line's angle in that plane, + when its end is up. */
export function angleInPlane(end: PhoneEnd, axis: PhoneAxis, up: Vec3<'Phone'>): Rad {
  const line = lineOfEnd(end)
  return Math.atan2(dot(up, line), dot(up, unit(cross(axisVector(axis), line))))
}
