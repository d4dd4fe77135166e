/** Many invented jacks and counters, taped and levelled as people do: how far the calibration is off, and what it states. */
import { type CalibrationPair, calibrate } from '../../src/core/calibration/calibrate.ts'
import { pairsFromSwing } from '../../src/core/calibration/swungpairs.ts'
import { swingAxis } from '../../src/core/level/swing.ts'
import type { Jack } from '../../src/core/readout/jack.ts'
import { angleFromReading } from '../../src/core/readout/readout.ts'
import { apply, compose, rotation, transpose } from '../../src/core/rotations.ts'
import type { Vec3 } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import { chance } from './random.ts'
import { randomRotation, STEP, shownUp } from './swingphone.ts'
import { BIAS, type Coverage, coverageOf, TREMOR } from './swingtrials.ts'

const angleAt = (jack: Jack, reading: number): number => {
  const at = angleFromReading(jack, reading)
  return at.kind === 'angle' ? at.angle : Number.NaN
}

/** σ of an inclinometer that shows 0.1° steps, put down with 0.05° of scatter. */
export const LEVEL_SIGMA = Math.hypot(0.05 * DEG, (0.1 * DEG) / Math.sqrt(12))

/**
 * Jacks with all three lengths taped within 5 mm (1 σ), 5 to 12 angles over the stroke, in one clamping whose constant is
 * unknown. `middle`: the angle halfway between the middle and an end of the stroke, counted from the middle.
 */
export function jackTrials(n: number, seed: number): { base: Coverage; rod: Coverage; middle: Coverage } {
  const lists = { base: [], rod: [], middle: [] } as Record<'base' | 'rod' | 'middle', { off: number; sigma: number }[]>
  for (let k = 0; k < n; k++) {
    const c = chance(seed + k)
    const truth: Jack = {
      type: 'jack',
      baseArm: c.between(500, 900),
      rodArm: c.between(350, 600),
      lengthAtReadingZero: 0,
      countsPerMm: c.between(0.9, 4),
      phiAtAngleZero: c.between(20, 90) * DEG,
      direction: c.sign(),
    }
    const from = c.between(30, 50) * DEG
    truth.lengthAtReadingZero = Math.sqrt(
      truth.baseArm ** 2 + truth.rodArm ** 2 - 2 * truth.baseArm * truth.rodArm * Math.cos(from),
    )
    const stroke = c.between(300, Math.min(600, 0.9 * (truth.baseArm + truth.rodArm - truth.lengthAtReadingZero)))
    const top = Math.floor(stroke * truth.countsPerMm)
    const taped: Jack = {
      ...truth,
      baseArm: truth.baseArm + c.normal(5),
      rodArm: truth.rodArm + c.normal(5),
      lengthAtReadingZero: truth.lengthAtReadingZero + c.normal(5),
    }
    const count = c.whole(5, 12)
    const constant = c.normal(20 * DEG)
    const pairs = Array.from({ length: count }, (_, i): CalibrationPair => {
      const reading = Math.round((top * i) / (count - 1))
      const shown = angleAt(truth, reading) + constant + c.normal(0.05 * DEG)
      return { reading, group: 0, sigma: LEVEL_SIGMA, angle: Math.round(shown / (0.1 * DEG)) * 0.1 * DEG }
    })
    const got = calibrate(taped, pairs, { constants: [null] })
    if (got.kind !== 'calibrated' || got.readout.type !== 'jack') throw new Error(`trial ${k}: ${got.kind}`)
    lists.base.push({ off: got.readout.baseArm - truth.baseArm, sigma: got.lengths!.base.sigma })
    lists.rod.push({ off: got.readout.rodArm - truth.rodArm, sigma: got.lengths!.rod.sigma })
    const middle = pairs.reduce((s, p) => s + p.reading, 0) / count
    const aside = 0.75 * top
    const turn = (jack: Jack) => angleAt(jack, aside) - angleAt(jack, middle)
    lists.middle.push({ off: turn(got.readout) - turn(truth), sigma: got.shapeSigma(aside) })
  }
  return { base: coverageOf(lists.base), rod: coverageOf(lists.rod), middle: coverageOf(lists.middle) }
}

/** Counts per degree of an axis that is swung with a phone on it; the errors are relative. */
export function swungCountTrials(n: number, clampings: 1 | 2, seed: number): Coverage {
  const list: { off: number; sigma: number }[] = []
  for (let k = 0; k < n; k++) {
    const c = chance(seed + k)
    const el = c.between(-5, 65) * DEG
    const axis: Vec3 = [Math.cos(el), 0, Math.sin(el)]
    const arc = c.between(70, 150) * DEG
    const countsPerRad = c.between(5, 20) / DEG
    const bias: Vec3 = [c.normal(BIAS), c.normal(BIAS), c.normal(BIAS)]
    const fastened = randomRotation(c)
    const ways = [fastened, compose(rotation([0, 1, 0], Math.PI + c.normal(5 * DEG)), fastened)].slice(0, clampings)
    const count = c.whole(4, 7)
    const positions = ways.map(way =>
      Array.from({ length: count }, (_, i) => {
        const reading = Math.round(arc * (i / (count - 1)) * countsPerRad)
        const turn = reading / countsPerRad
        const up = apply(transpose(compose(rotation(axis, turn), way)), [0, 0, 1])
        return { reading, turn, up: shownUp(up, bias, 'angles', TREMOR, c) }
      }),
    )
    const spread = { noise: TREMOR, step: STEP.angles, bias: BIAS }
    const s = swingAxis(positions, 1, spread)
    if (s.kind !== 'swung') continue
    const made = pairsFromSwing(
      s,
      positions.map(p => p.map(q => q.reading)),
      BIAS,
    )!
    const guess = { type: 'linear-counts' as const, zeroCounts: 0, countsPerRad: countsPerRad * c.between(0.7, 1.4) }
    const got = calibrate(guess, made.pairs, made.given)
    if (got.kind !== 'calibrated' || got.readout.type !== 'linear-counts') throw new Error(`trial ${k}: ${got.kind}`)
    const size = 1 + got.scale!.value
    list.push({ off: countsPerRad / got.readout.countsPerRad - 1, sigma: got.scale!.sigma / size })
  }
  return coverageOf(list)
}
