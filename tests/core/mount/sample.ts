/**
 * Mounts to try: seeded, of every kind, both hemispheres, with deviations far larger than any real mount has.
 * What the mount and residual tests share. Radians, millimetres.
 */
import { beamDeviationFactor } from '../../../src/core/dish/optics.ts'
import { type Line, type MountModel, modelOf } from '../../../src/core/mount/asbuilt.ts'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import { type Built, onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import type { Jack } from '../../../src/core/readout/jack.ts'
import type { Readout } from '../../../src/core/readout/readout.ts'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'

export const KINDS = MOUNT_KINDS
export const LINES = ['beam', 'shadow', 'tube', 'boresight'] as const satisfies readonly Line[]
export type SlotName = keyof typeof SLOT
export const SLOT_NAMES = Object.keys(SLOT) as SlotName[]

export const between = (random: () => number, from: number, to: number): number => from + (to - from) * random()

export const directionOf = (random: () => number): Vec3 => {
  const z = between(random, -1, 1)
  const az = between(random, 0, 2 * Math.PI)
  const flat = Math.sqrt(1 - z * z)
  return [flat * Math.sin(az), flat * Math.cos(az), z]
}

/** A jack whose triangle closes for readings 0 to 1000, arms changed by up to ±20 mm included. */
export const JACK: Jack = {
  type: 'jack',
  baseArm: 700,
  rodArm: 450,
  lengthAtReadingZero: 420,
  countsPerMm: 1.9,
  phiAtAngleZero: 75 * DEG,
  direction: 1,
}
export const COUNTS: Readout = { type: 'linear-counts', zeroCounts: 4000, countsPerRad: -2300 }
export const DEGREES: Readout = { type: 'degrees' }
/** Every kind of readout, and a jack that turns the axis the other way. */
export const READOUTS = [DEGREES, COUNTS, JACK, { ...JACK, direction: -1 }] as const

interface Choice {
  kind: MountKind
  heading?: number
  latitude?: number
  offset?: number
  lower?: Readout
  upper?: Readout
  limits?: { lower: [number, number]; upper: [number, number] }
}

/** A mount on paper; degrees. Without limits the readings may be anything. */
export function mountOf({ kind, heading = 0, latitude = 50, offset = 0, lower, upper, limits }: Choice): MountModel {
  const axis = (readout: Readout, range: [number, number] = [-1e9, 1e9]) => ({
    readout,
    minReading: range[0],
    maxReading: range[1],
  })
  return modelOf({
    kind,
    heading: heading * DEG,
    latitude: latitude * DEG,
    offset: offset * DEG,
    lower: axis(lower ?? DEGREES, limits?.lower),
    upper: axis(upper ?? DEGREES, limits?.upper),
    focalLength: 960,
    bdf: beamDeviationFactor(0.4),
  })
}

/** Any heading, latitude of either sign, offset to ±20° where there is one. */
export function randomMount(random: () => number, kind: MountKind, lower?: Readout, upper?: Readout): MountModel {
  return mountOf({
    kind,
    heading: between(random, 0, 360),
    latitude: between(random, -89, 89),
    offset: kind === 'az-over-el' ? between(random, -20, 20) : 0,
    ...(lower ? { lower } : {}),
    ...(upper ? { upper } : {}),
  })
}

/** Leans of tens of degrees, zeros 10 to 30°, scale 5 %, arms 20 mm, feed 50 mm, sag 5°: nothing is small. */
export function randomBuilt(random: () => number): Built {
  const built = onPaper()
  const spread: Record<SlotName, number> = {
    axisA: 40 * DEG,
    axisB: 40 * DEG,
    lowerZero: 30 * DEG,
    upperZero: 30 * DEG,
    lowerScale: 0.05,
    upperScale: 0.05,
    lowerBaseArm: 20,
    lowerRodArm: 20,
    upperBaseArm: 20,
    upperRodArm: 20,
    squareness: 15 * DEG,
    collimation: 15 * DEG,
    sag: 5 * DEG,
    feedRight: 50,
    feedUp: 50,
    feedDroop: 30,
    squintRight: 5 * DEG,
    squintUp: 5 * DEG,
    tubeRight: 5 * DEG,
    tubeUp: 5 * DEG,
    lowerPlay: 3 * DEG,
    upperPlay: 3 * DEG,
    // Readings.
    lowerShift: 2,
    upperShift: 2,
  }
  for (const name of SLOT_NAMES) built[SLOT[name]] = between(random, -spread[name], spread[name])
  return built
}

/** A jack has arms and no scale: the slot that its axis does not have stays 0. */
export function withoutJackScale(model: MountModel, built: Built): Built {
  if (model.lower.readout.type === 'jack') built[SLOT.lowerScale] = 0
  if (model.upper.readout.type === 'jack') built[SLOT.upperScale] = 0
  return built
}

/** One value changed. */
export function moved(built: Built, slot: number, by: number): Built {
  const out = Float64Array.from(built)
  out[slot]! += by
  return out
}

/**
 * Central difference of a vector function, fourth order: error h⁴, so 1e-10 for h = 1e-3 rad and rounding 1e-13.
 * @param at the function at a displacement of its argument
 */
export function slope(at: (by: number) => readonly number[], h: number): number[] {
  const [p1, m1, p2, m2] = [at(h), at(-h), at(2 * h), at(-2 * h)]
  return p1.map((x, i) => (8 * (x - m1[i]!) - (p2[i]! - m2[i]!)) / (12 * h))
}
