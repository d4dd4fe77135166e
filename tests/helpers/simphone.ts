/**
 * Invented phones: sensors with an offset on each axis, a hand or a mount that trembles, and rounding as Chromium does it
 * (0.1° in beta and gamma, 0.1 m/s² on each axis). The true attitude goes in, what the level would hold comes out.
 */
import type { PhoneReading, Source } from '../../src/core/level/phone.ts'
import { type HeldStill, HOLD_MS, heldMean } from '../../src/core/level/still.ts'
import { GRAVITY, upFromAngles, upFromGravity } from '../../src/core/level/upvector.ts'
import { apply, rotationFromVector } from '../../src/core/rotations.ts'
import { degFromRad, radFromDeg } from '../../src/core/units.ts'
import { add, unit, type Vec3 } from '../../src/core/vectors.ts'
import type { Chance } from './random.ts'

export type Up = Vec3<'Phone'>

export interface SimPhone {
  source: Source
  /** Offsets of the three axes, in units of gravity. */
  bias: Up
  /** 1 σ of the trembling about each axis, degrees. */
  tremorDeg: number
}

/** Rounding to 0.1 and the step that it is as an angle. */
export const STEP: Readonly<Record<Source, number>> = { orientation: radFromDeg(0.1), motion: 0.1 / GRAVITY }

/** 20 mg on each axis; clamped (hardly a tremble) to held by hand. */
export const anyPhone = (luck: Chance, source: Source): SimPhone => ({
  source,
  bias: [luck.normal(0.02), luck.normal(0.02), luck.normal(0.02)],
  tremorDeg: luck.one([0.005, 0.02, 0.05, 0.1]),
})

const round = (x: number, q: number): number => Math.round(x / q) * q

/** What the phone shows of a true up vector at one moment. */
export function shown(phone: SimPhone, up: Up): Up {
  const felt = add(up, phone.bias)
  if (phone.source === 'motion') {
    const seen = felt.map(x => round(GRAVITY * x, 0.1)) as [number, number, number]
    return upFromGravity(seen, 1) ?? unit(seen)
  }
  const [x, y, z] = unit(felt)
  const beta = Math.atan2(y, Math.sign(z || 1) * Math.hypot(x, z))
  const gamma = Math.atan(-x / z)
  return upFromAngles(radFromDeg(round(degFromRad(beta), 0.1)), radFromDeg(round(degFromRad(gamma), 0.1)))
}

/** Turned by small angles about the phone's axes. */
export const turnedBy = (up: Up, angles: Up): Up =>
  apply(rotationFromVector(angles as unknown as Vec3), up as unknown as Vec3) as unknown as Up

/** Samples of a held phone, twenty a second; the trembling has a memory of 0.3 s. */
export function samplesOf(phone: SimPhone, up: Up, luck: Chance, ms = HOLD_MS): HeldStill[] {
  const every = 50
  const keeps = Math.exp(-every / 300)
  const sigma = radFromDeg(phone.tremorDeg)
  const fresh = () => luck.normal(sigma)
  let tremor: Up = [fresh(), fresh(), fresh()]
  return Array.from({ length: ms / every + 1 }, (_, k) => {
    const kick = Math.sqrt(1 - keeps * keeps)
    tremor = tremor.map(x => keeps * x + kick * fresh()) as unknown as Up
    return { atMs: every * k, up: shown(phone, turnedBy(up, tremor)) }
  })
}

/** One reading: held for three seconds. */
export function readingOf(phone: SimPhone, up: Up, luck: Chance): PhoneReading {
  const step = STEP[phone.source]
  return { ...heldMean(samplesOf(phone, up, luck), step), source: phone.source, step }
}
