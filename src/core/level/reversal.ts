/**
 * Reversal: two readings with gravity negated in the measuring plane give the tilt without the instrument's own error.
 *
 * The instrument measures the angle of a line (its long edge) in a plane. The right turn is half a turn about the axis
 * square to that plane: ends and face are swapped. A turn end for end on the same face negates only one of the two
 * components that an angle is made of, and above a few degrees leaves the other component's error in.
 * Angles in radians, + when the named end of the line is up in the first position.
 */
import { wrapPi } from '../angles.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { cross, dot, unit, type Vec3 } from '../vectors.ts'
import { levelSigma, REVERSED_BIAS, SENSOR_BIAS, type Spread } from './sigma.ts'

/** Below this a turn on the same face does no harm: 20 mg on the other component leave 0.1°. */
const NEARLY_LEVEL: Rad = radFromDeg(5)
/** A larger bias is not the instrument's but comes from a wrong turn: 4 σ of 20 mg. */
const MOST_BIAS: Rad = radFromDeg(5)

export type Proof =
  /** The numbers show half a turn. */
  | 'half-turn'
  /** Nearly level, where the numbers cannot tell one turn from another, nor does it matter much. */
  | 'nearly-level'
  /** Nearly plumb, where a turn on the same face gives the same numbers. */
  | 'nearly-plumb'
  /** The instrument shows no full circle, so its numbers cannot prove the turn. */
  | 'none'

export type Reversal =
  | {
      kind: 'reversed'
      angle: Rad
      /** By how much the instrument shows too much, in the first position. */
      bias: Rad
      proof: Proof
      /** 1 σ of the error that this reversal leaves in. */
      left: Rad
    }
  /** The ends were swapped on the same face, at a tilt where that does not do. */
  | { kind: 'plain-end-swap'; tilt: Rad }
  /** The face was swapped and the ends were not. */
  | { kind: 'face-only'; tilt: Rad }
  | { kind: 'not-turned'; tilt: Rad }
  /** One reading says that this end is up, the other that the other end is, by as much. */
  | { kind: 'opposite-sides'; tilt: Rad }
  /** No turn explains the two. @property apart  how far from the nearest right one */
  | { kind: 'no-reversal'; apart: Rad }

/** What the two components' errors leave in the mean when only one of them is negated. */
const leftBySwap = (tilt: Rad): Rad => Math.hypot(REVERSED_BIAS, SENSOR_BIAS * Math.sin(tilt))

/**
 * From two readings of an instrument that shows the full circle (0 to 360° or ±180°), as it shows them.
 *
 * After the right turn it shows the first reading and half a circle; the mean of the first and of the second less half a
 * circle is the angle, half their difference its own error.
 */
export function reversalOnCircle(first: Rad, second: Rad): Reversal {
  requireFinite(first, second)
  const most = 2 * MOST_BIAS
  const halfTurn = wrapPi(second - first - Math.PI)
  const endSwap = wrapPi(second + first)
  const faceOnly = wrapPi(second + first - Math.PI)
  const same = wrapPi(second - first)
  if (Math.abs(halfTurn) <= most) {
    const angle = wrapPi(first + halfTurn / 2)
    const proof = Math.abs(faceOnly) <= most ? 'nearly-level' : Math.abs(endSwap) <= most ? 'nearly-plumb' : 'half-turn'
    return { kind: 'reversed', angle, bias: -halfTurn / 2, proof, left: REVERSED_BIAS }
  }
  if (Math.abs(endSwap) <= most) {
    const angle = wrapPi(first - endSwap / 2)
    if (Math.abs(angle) > NEARLY_LEVEL) return { kind: 'plain-end-swap', tilt: angle }
    return { kind: 'reversed', angle, bias: endSwap / 2, proof: 'nearly-level', left: leftBySwap(angle) }
  }
  if (Math.abs(same) <= most) return { kind: 'not-turned', tilt: wrapPi(first) }
  if (Math.abs(faceOnly) <= most) return { kind: 'face-only', tilt: wrapPi(first) }
  return { kind: 'no-reversal', apart: Math.min(Math.abs(halfTurn), Math.abs(endSwap)) }
}

/**
 * From two readings of an instrument that shows no more than 90°, each + when the named end of the line is up: the mean is
 * the angle, half the difference the instrument's own error. Such numbers cannot prove that the face was swapped too, so
 * what a turn on the same face would leave stays in σ.
 */
export function reversalOfElevations(first: Rad, second: Rad): Reversal {
  requireFinite(first, second)
  const angle = (first + second) / 2
  const bias = (first - second) / 2
  if (Math.abs(bias) > MOST_BIAS) {
    return Math.abs(angle) < MOST_BIAS && first * second < 0
      ? { kind: 'opposite-sides', tilt: Math.abs(bias) }
      : { kind: 'no-reversal', apart: 2 * Math.abs(bias) }
  }
  const proof = Math.abs(angle) <= NEARLY_LEVEL ? 'nearly-level' : 'none'
  return { kind: 'reversed', angle, bias, proof, left: leftBySwap(angle) }
}

/**
 * From two up vectors.
 *
 * @param line      unit vector along the measured line, toward its named end in the first position
 * @param turnAxis  unit vector that the half turn goes about, square to the line: the phone's short axis when it lies on its
 *                  back, the screen's normal when it stands on its edge
 * @returns         angle: elevation of the line. What lies along `turnAxis` is taken from both; its error stays in, of second order
 * @throws RangeError  line and turn axis not square to each other within 1°
 */
export function reversalOfUpVectors(
  first: Vec3<'Phone'>,
  second: Vec3<'Phone'>,
  line: Vec3<'Phone'>,
  turnAxis: Vec3<'Phone'>,
): Reversal {
  const askew = dot(unit(line), unit(turnAxis))
  if (!(Math.abs(askew) < Math.sin(radFromDeg(1))))
    throw new RangeError(`reversalOfUpVectors: line and turn axis must be square, their cosine is ${askew}`)
  const l = unit(line)
  const across = unit(cross(turnAxis, l))
  const u1 = unit(first)
  const u2 = unit(second)
  const inPlane = (u: Vec3<'Phone'>): Rad => Math.atan2(dot(u, l), dot(u, across))
  const turned = reversalOnCircle(inPlane(u1), inPlane(u2))
  if (turned.kind !== 'reversed') return turned
  // A line that also lies in a plane leaning sideways rises less than its angle in that plane.
  const sideways = (dot(u1, unit(turnAxis)) + dot(u2, unit(turnAxis))) / 2
  const upright = Math.sqrt(Math.max(0, 1 - sideways * sideways))
  return { ...turned, angle: Math.asin(Math.sin(turned.angle) * upright) }
}

/** 1 σ of a reversed level. @param spread  of each of the two readings; they halve its noise's square, and nothing else */
export const reversalSigma = (left: Rad, { noise, step }: Omit<Spread, 'bias'>): Rad =>
  levelSigma({ noise: noise / Math.SQRT2, step, bias: left })

function requireFinite(first: number, second: number): void {
  if (!Number.isFinite(first) || !Number.isFinite(second))
    throw new RangeError(`reversal: readings must be finite, got ${first} and ${second}`)
}
