/** Many invented phones on many invented axes: how far the found elevation is off, and what was stated. */
import { swingAxis } from '../../src/core/level/swing.ts'
import { apply, compose, rotation, transpose } from '../../src/core/rotations.ts'
import type { Vec3 } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import { chance } from './random.ts'
import { type Delivery, randomRotation, STEP, shownUp } from './swingphone.ts'

export const TREMOR = 0.05 * DEG
export const BIAS = 0.02

export interface Coverage {
  trials: number
  /** Answers that were too loose to be given. */
  refused: number
  covered: number
  rmsDeg: number
  medianSigmaDeg: number
  medianSigmaOverRms: number
}

export function coverageOf(list: readonly { off: number; sigma: number }[], refused = 0): Coverage {
  const rms = Math.sqrt(list.reduce((s, x) => s + x.off ** 2, 0) / list.length)
  const sigmas = list.map(x => x.sigma).sort((a, b) => a - b)
  const median = sigmas[Math.floor(sigmas.length / 2)]!
  return {
    trials: list.length,
    refused,
    covered: list.filter(x => Math.abs(x.off) <= 2 * x.sigma).length / list.length,
    rmsDeg: rms / DEG,
    medianSigmaDeg: median / DEG,
    medianSigmaOverRms: median / rms,
  }
}

/** Axes from level to 70° up, swung over 60 to 170° in 4 to 8 positions. */
export function swingTrials(n: number, o: { delivery: Delivery; clampings: 1 | 2 }, seed: number): Coverage {
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
    const bias: Vec3 = [c.normal(BIAS), c.normal(BIAS), c.normal(BIAS)]
    const fastened = randomRotation(c)
    // Turned about by eye: within 5° of half a turn about something square to the axis.
    const square: Vec3 = [Math.cos(az), -Math.sin(az), 0]
    const ways = [fastened, compose(rotation(square, Math.PI + c.normal(5 * DEG)), fastened)].slice(0, o.clampings)
    const clampings = ways.map(way =>
      Array.from({ length: count }, (_, i) => {
        const turn = arc * (i / (count - 1) - 0.5) + c.normal(2 * DEG)
        const up = apply(transpose(compose(rotation(axis, sense * turn), way)), [0, 0, 1])
        return { turn, up: shownUp(up, bias, o.delivery, TREMOR, c) }
      }),
    )
    const s = swingAxis(clampings, sense, { noise: TREMOR, step: STEP[o.delivery], bias: BIAS })
    if (s.kind === 'swung') list.push({ off: s.elevation - el, sigma: s.sigma })
    else refused++
  }
  return coverageOf(list, refused)
}
