/** Swings by phones that hear, round, tremble and are held as the app holds them (simphone.ts), σ as the app states it. */
import { LEAST_REDUCED } from '../../src/core/level/phone.ts'
import { spreadOfReadings, swingAxis } from '../../src/core/level/swing.ts'
import { apply, compose, rotation, transpose } from '../../src/core/rotations.ts'
import type { Vec3 } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import { chance } from './random.ts'
import { anyPhone, readingOf } from './simphone.ts'
import { randomRotation } from './swingphone.ts'
import { BIAS, type Coverage, coverageOf } from './swingtrials.ts'

export function heldSwingTrials(
  n: number,
  o: { source: 'orientation' | 'motion'; clampings: 1 | 2 },
  seed: number,
): Coverage {
  const list: { off: number; sigma: number }[] = []
  let refused = 0
  for (let k = 0; k < n; k++) {
    const c = chance(seed + k)
    const el = c.between(-5, 70) * DEG
    const az = c.between(0, 360) * DEG
    const axis: Vec3 = [Math.cos(el) * Math.sin(az), Math.cos(el) * Math.cos(az), Math.sin(el)]
    const sense = c.sign()
    const arc = c.between(60, 170) * DEG
    const count = c.whole(4, 8)
    const phone = anyPhone(c, o.source)
    const fastened = randomRotation(c)
    const square: Vec3 = [Math.cos(az), -Math.sin(az), 0]
    const ways = [fastened, compose(rotation(square, Math.PI + c.normal(5 * DEG)), fastened)].slice(0, o.clampings)
    const taken = ways.map(way =>
      Array.from({ length: count }, (_, i) => {
        const turn = arc * (i / (count - 1) - 0.5) + c.normal(2 * DEG)
        const up = apply(transpose(compose(rotation(axis, sense * turn), way)), [0, 0, 1]) as Vec3 as Vec3<'Phone'>
        return { turn, reading: readingOf(phone, up, c) }
      }),
    )
    const s = swingAxis(
      taken.map(list1 => list1.map(t => ({ turn: t.turn, up: t.reading.up }))),
      sense,
      { ...spreadOfReadings(taken.flat().map(t => t.reading)), bias: BIAS },
    )
    if (s.kind === 'swung') list.push({ off: s.elevation - el, sigma: Math.max(s.sigma, LEAST_REDUCED) })
    else refused++
  }
  return coverageOf(list, refused)
}
