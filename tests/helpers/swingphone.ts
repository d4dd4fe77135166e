/**
 * A phone fastened to a turning axis, as phones are: each of its three sensors off by about 20 mg for good, what it shows
 * rounded, and a tremor. Two ways that browsers deliver: angles to 0.1° (beta, gamma), or accelerations to 0.1 m/s².
 */
import { type Rotation, rotation } from '../../src/core/rotations.ts'
import { unit, type Vec3 } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import type { Chance } from './random.ts'

const G = 9.80665

export type Delivery = 'angles' | 'accelerations'
export const STEP: Record<Delivery, number> = { angles: 0.1 * DEG, accelerations: 0.1 / G }

export const randomUnit = (c: Chance): Vec3 => {
  for (;;) {
    const v: Vec3 = [c.normal(1), c.normal(1), c.normal(1)]
    if (Math.hypot(...v) > 0.1) return unit(v)
  }
}
export const randomRotation = (c: Chance): Rotation => rotation(randomUnit(c), c.between(0, 2 * Math.PI))

/** Up as the phone shows it, from the true up in its own frame. @param tremor rad, 1 σ of one position */
export function shownUp(trueUp: Vec3, bias: Vec3, delivery: Delivery, tremor: number, c: Chance): Vec3<'Phone'> {
  const felt = unit([
    trueUp[0] + bias[0] + c.normal(tremor),
    trueUp[1] + bias[1] + c.normal(tremor),
    trueUp[2] + bias[2] + c.normal(tremor),
  ] as Vec3)
  if (delivery === 'accelerations') return felt.map(x => Math.round(x * G * 10) / 10) as unknown as Vec3<'Phone'>
  // Row 3 of the W3C matrix: (-cos b sin g, sin b, cos b cos g).
  const beta0 = Math.asin(felt[1])
  const gamma0 = Math.atan2(-felt[0], felt[2])
  const round = (x: number) => (Math.round((x / DEG) * 10) / 10) * DEG
  const [b, g] = [round(beta0), round(gamma0)]
  return [-Math.cos(b) * Math.sin(g), Math.sin(b), Math.cos(b) * Math.cos(g)]
}
