/**
 * What a storm can move, one thing at a time and two together: each cause as directions among the mount's parameters, and in addition the
 * reading of each jack (a count lost or a clamp slipped along the tube is a length, not an angle). Radians, millimetres, readings.
 */
import type { MountModel } from '../mount/asbuilt.ts'
import { AXES } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOT, SLOTS } from '../mount/slots.ts'
import type { Axis } from '../records/fieldbook.ts'
import { radFromDeg } from '../units.ts'

/** The slots, then the lower and the upper reading. */
export const WAY_COUNT = SLOTS + 2
export const READING = { lower: SLOTS, upper: SLOTS + 1 } as const

/** A change of every way. */
export type MoveByWay = Float64Array
export const AS_IT_WAS: MoveByWay = new Float64Array(WAY_COUNT)

export type CauseKind =
  /** The lower axis, or the whole mount on its mast or foundation: turned or leaning. */
  | 'mount'
  /** An axis's zero: clamp or counter. */
  | 'lower-zero'
  | 'upper-zero'
  /** A jack's end has moved on its arm. */
  | 'lower-jack'
  | 'upper-jack'
  /** The dish on its axes: collimation, squareness, sag. */
  | 'dish'
  | 'feed'
  /** The beam away from the boresight with the feed where it was: a bent surface. */
  | 'beam'
  | 'tube'

/** One way in which a cause moves, with the σ that a storm is given for it. */
export interface MoveWay {
  name: 'a' | 'b' | 'turn' | 'zero' | 'reading' | 'base' | 'rod' | 'dish' | 'feed' | 'beam' | 'tube'
  /** Parts of it by way, per unit. */
  parts: readonly (readonly [way: number, per: number])[]
  sigma: number
}

export interface MoveCause {
  kinds: readonly CauseKind[]
  ways: readonly MoveWay[]
}

/**
 * How far a storm moves things, σ: wide enough that what was measured decides (no source). A dish that droops more by three of these, or a feed
 * that sinks more, is no longer bent but lies on the ground.
 */
const STORM = {
  turn: 10,
  lean: 4,
  zero: 10,
  dish: 1,
  square: 0.5,
  sag: 0.3,
  feedMm: 25,
  sinkMm: 5,
  beam: 0.4,
  tube: 1,
  armMm: 2,
}

const way = (name: MoveWay['name'], slot: number, sigma: number): MoveWay => ({ name, parts: [[slot, 1]], sigma })

/** Single causes; and pairs, which a storm rarely moves together. */
export interface Causes {
  single: MoveCause[]
  double: MoveCause[]
}

/** @param built  the mount as it was */
export function causesOf(model: MountModel, built: Built, hasTube: boolean): Causes {
  const deg = radFromDeg
  const a = way('a', SLOT.axisA, deg(model.paper.headed ? STORM.turn : STORM.lean))
  const b = way('b', SLOT.axisB, deg(STORM.lean))
  const zeroOf = { lower: SLOT.lowerZero, upper: SLOT.upperZero }
  const zero = (axis: Axis) => way('zero', zeroOf[axis], deg(STORM.zero))
  const single: MoveCause[] = []
  const add = (kind: CauseKind, ...ways: MoveWay[]): MoveCause => {
    const cause = { kinds: [kind], ways }
    single.push(cause)
    return cause
  }
  if (model.paper.headed) {
    add('mount', a)
    add('mount', b)
  } else add('mount', a, b)
  if (model.kind === 'ha-dec') {
    // Clockwise about the vertical: the pole goes east by cos φ, hour angle reads too little by sin φ.
    const turn: MoveWay = {
      name: 'turn',
      parts: [
        [SLOT.axisA, Math.cos(model.latitude)],
        [SLOT.lowerZero, Math.sin(model.latitude)],
      ],
      sigma: deg(STORM.turn),
    }
    add('mount', turn)
  }
  const whole = add('mount', a, b, zero('lower'))
  const zeros: MoveCause[] = []
  for (const axis of AXES) {
    const kind = `${axis}-zero` as const
    zeros.push(add(kind, zero(axis)))
    if (model[axis].readout.type !== 'jack') continue
    const { minReading, maxReading } = model[axis]
    const at = trueAngle(model, built, axis, (minReading + maxReading) / 2)
    const per = at.kind === 'angle' ? Math.abs(at.perReading) : 0
    if (per > 0) add(kind, { name: 'reading', parts: [[READING[axis], 1]], sigma: deg(STORM.zero) / per })
    const arms = axis === 'lower' ? [SLOT.lowerBaseArm, SLOT.lowerRodArm] : [SLOT.upperBaseArm, SLOT.upperRodArm]
    add(`${axis}-jack`, way('base', arms[0]!, STORM.armMm))
    add(`${axis}-jack`, way('rod', arms[1]!, STORM.armMm))
  }
  const turned = add('dish', way('dish', SLOT.collimation, deg(STORM.dish)))
  add('dish', way('dish', SLOT.squareness, deg(STORM.square)))
  add('dish', way('dish', SLOT.sag, deg(STORM.sag)))
  const feed = add('feed', way('feed', SLOT.feedRight, STORM.feedMm), way('feed', SLOT.feedUp, STORM.feedMm))
  add('feed', way('feed', SLOT.feedDroop, STORM.sinkMm))
  const beam = add('beam', way('beam', SLOT.squintRight, deg(STORM.beam)), way('beam', SLOT.squintUp, deg(STORM.beam)))
  if (hasTube) add('tube', way('tube', SLOT.tubeRight, deg(STORM.tube)), way('tube', SLOT.tubeUp, deg(STORM.tube)))
  const main = [whole, ...zeros, turned, feed, beam]
  const double: MoveCause[] = []
  main.forEach((p, i) => {
    for (const q of main.slice(i + 1)) {
      // The lower zero is one of the three ways of the whole mount.
      if (q.ways.every(w => p.ways.some(x => x.parts[0]![0] === w.parts[0]![0]))) continue
      double.push({ kinds: [...p.kinds, ...q.kinds], ways: [...p.ways, ...q.ways] })
    }
  })
  return { single, double }
}

/** A move along a cause's ways. */
export function moveOf(cause: MoveCause, by: ArrayLike<number>): MoveByWay {
  const out = new Float64Array(WAY_COUNT)
  cause.ways.forEach((w, i) => {
    for (const [k, per] of w.parts) out[k]! += per * by[i]!
  })
  return out
}

/** Aᵀ v of a cause's ways: what a row or a gradient by way is along them. */
export function along(cause: MoveCause, v: ArrayLike<number>, offset = 0): number[] {
  return cause.ways.map(w => w.parts.reduce((sum, [k, per]) => sum + per * v[offset + k]!, 0))
}
