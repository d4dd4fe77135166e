import { describe, expect, it } from 'vitest'
import {
  biasSigmaAt,
  clampedBias,
  correctedElevation,
  LEAST_ONE,
  LEAST_REDUCED,
  oneReadingSigma,
  type PhoneReading,
  phoneReversalSigma,
  stepLeft,
  tiltInPlane,
} from '../../../src/core/level/phone.ts'
import { reversalOfUpVectors } from '../../../src/core/level/reversal.ts'
import { REVERSED_BIAS, SENSOR_BIAS } from '../../../src/core/level/sigma.ts'
import { axisVector, lineOfEnd } from '../../../src/core/level/upvector.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { unit } from '../../../src/core/vectors.ts'
import { PHONE_METHODS, phoneResult, phoneTrials, SOURCES } from '../../helpers/phonetrials.ts'
import { chance } from '../../helpers/random.ts'
import { type SimPhone, shown, type Up } from '../../helpers/simphone.ts'

const quiet: PhoneReading = { up: [0, 0, 1], noise: 0, spread: 0, source: 'orientation', step: radFromDeg(0.1) }

describe('a phone with 20 mg on each axis, 200 trials each (1000 in tests/studies/phone.study.ts)', () => {
  for (const source of SOURCES)
    for (const [i, method] of PHONE_METHODS.entries())
      it(`${method}, by ${source}: 2 σ as stated covers what it should, and σ is not padded`, () => {
        const result = phoneResult(phoneTrials(method, source, 200, 100 + i))
        expect(result.refused).toBe(0)
        // 200 trials: ± 0.03 about the 0.93 to 0.98 that a thousand are held to.
        expect(result.coverage).toBeGreaterThan(0.9)
        expect(result.coverage).toBeLessThan(0.995)
        expect(result.ratio).toBeLessThan(1.3)
      })
})

describe('oneReadingSigma', () => {
  it('is 1.15° when nothing is known of the sensor: 20 mg', () => {
    expect(degFromRad(oneReadingSigma(quiet))).toBeCloseTo(1.15, 2)
  })
  it('never falls below 0.1°, whatever is known; a reversal never below 0.05°', () => {
    expect(oneReadingSigma(quiet, 0)).toBeGreaterThanOrEqual(LEAST_ONE)
    expect(phoneReversalSigma(0, quiet, quiet)).toBeGreaterThanOrEqual(LEAST_REDUCED)
    expect(degFromRad(LEAST_ONE)).toBeCloseTo(0.1, 12)
    expect(degFromRad(LEAST_REDUCED)).toBeCloseTo(0.05, 12)
  })
  it('grows with what trembled', () => {
    const shaky = { ...quiet, noise: radFromDeg(0.4) }
    expect(oneReadingSigma(shaky, REVERSED_BIAS)).toBeGreaterThan(2 * oneReadingSigma(quiet, REVERSED_BIAS))
  })
})

describe('stepLeft', () => {
  const q = 0.58
  it('leaves all of a rounding that nothing trembled across', () => {
    expect(stepLeft(q, 0)).toBe(q)
    expect(stepLeft(q, q / Math.sqrt(12))).toBeCloseTo(q, 12)
    expect(stepLeft(0, 0.1)).toBe(0)
  })
  it('is within a tenth of a step of what means of rounded values are really off by', () => {
    const luck = chance(8)
    for (const sigma of [0.1, 0.3, 0.5, 0.7]) {
      let square = 0
      const trials = 300
      for (let k = 0; k < trials; k++) {
        const truth = luck.between(0, 10)
        let sum = 0
        for (let i = 0; i < 400; i++) sum += Math.round(truth + luck.normal(sigma))
        square += (sum / 400 - truth) ** 2
      }
      const spread = Math.sqrt(sigma * sigma + 1 / 12)
      const really = Math.sqrt(Math.max(0, square / trials - (sigma * sigma) / 400))
      expect(Math.abs(stepLeft(1, spread) / Math.sqrt(12) - really)).toBeLessThan(0.1)
    }
  })
})

describe('correctedElevation', () => {
  it('takes a 20 mg phone’s error off at the tilt where a reversal found it: either end, on its back or its face', () => {
    const luck = chance(21)
    for (let k = 0; k < 300; k++) {
      const phone: SimPhone = { source: 'orientation', bias: [0, luck.normal(0.02), luck.normal(0.02)], tremorDeg: 0 }
      const e = luck.between(-1, 1)
      const onBack: Up = [0, Math.sin(e), Math.cos(e)]
      const [first, second] = [shown(phone, onBack), shown(phone, [0, -onBack[1], -onBack[2]])]
      for (const end of ['top', 'bottom'] as const) {
        const r = reversalOfUpVectors(first, second, lineOfEnd(end), axisVector('x'))
        if (r.kind !== 'reversed') throw new Error(r.kind)
        // The same phone again, there and a little further; rounding twice, and the second order of a few 20 mg.
        const again: Up = [0, Math.sin(e + 0.02), Math.cos(e + 0.02)]
        const top = correctedElevation('top', 'x', shown(phone, again), r.bias)
        const bottom = correctedElevation('bottom', 'x', shown(phone, again), r.bias)
        expect(Math.abs(degFromRad(top) - degFromRad(e + 0.02))).toBeLessThan(0.3)
        expect(bottom).toBeCloseTo(-top, 9)
      }
    }
  })
  it('is the plain elevation without an error, leaning sideways too', () => {
    const up: Up = unit([0.5, 0.25, 0.8])
    expect(correctedElevation('top', 'x', up, 0)).toBeCloseTo(Math.asin(up[1]), 12)
    expect(correctedElevation('left', 'y', up, 0)).toBeCloseTo(-Math.asin(up[0]), 12)
    expect(correctedElevation('back', 'x', up, 0)).toBeCloseTo(-Math.asin(up[2]), 12)
    expect(tiltInPlane('bottom', 'x', up)).toBe(tiltInPlane('top', 'x', up))
  })
})

describe('biasSigmaAt', () => {
  it('adds nothing where the error was found, and 20 mg · 2 sin 30° = 1.15° sixty degrees away', () => {
    expect(biasSigmaAt(0.001, 0.3, 0.3)).toBe(0.001)
    expect(degFromRad(biasSigmaAt(0, 0, radFromDeg(60)))).toBeCloseTo(degFromRad(SENSOR_BIAS), 9)
  })
  it('holds for 2000 phones: the error in the plane moves by so much, rms', () => {
    const luck = chance(9)
    let square = 0
    for (let k = 0; k < 2000; k++) {
      const [by, bz] = [luck.normal(0.02), luck.normal(0.02)]
      const error = (e: number) => by * Math.cos(e) - bz * Math.sin(e)
      square += (error(radFromDeg(50)) - error(radFromDeg(10))) ** 2
    }
    const rms = Math.sqrt(square / 2000)
    expect(biasSigmaAt(0, radFromDeg(10), radFromDeg(50)) / rms).toBeCloseTo(1, 1)
  })
  it('is what a clamping leaves: little at its first tilt, more away from it', () => {
    expect(clampedBias(null, 0.4)).toBe(REVERSED_BIAS)
    expect(clampedBias(0.4, 0.4)).toBe(REVERSED_BIAS)
    expect(clampedBias(0, radFromDeg(45))).toBeGreaterThan(5 * REVERSED_BIAS)
  })
})
