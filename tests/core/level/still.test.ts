import { describe, expect, it } from 'vitest'
import {
  type HeldStill,
  HOLD_MS,
  heldBefore,
  heldMean,
  rateOf,
  seenStep,
  stillness,
} from '../../../src/core/level/still.ts'
import { angleApart, upFromAngles } from '../../../src/core/level/upvector.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { chance } from '../../helpers/random.ts'
import { samplesOf } from '../../helpers/simphone.ts'

const STEP = radFromDeg(0.1)
const up = (betaDeg: number, gammaDeg = 0) => upFromAngles(radFromDeg(betaDeg), radFromDeg(gammaDeg))
/** One sample every 50 ms. @param betaOf  by milliseconds */
const held = (ms: number, betaOf: (ms: number) => number): HeldStill[] =>
  Array.from({ length: ms / 50 + 1 }, (_, k) => ({ atMs: 50 * k, up: up(betaOf(50 * k)) }))
const topDeg = (u: { up: readonly number[] }): number => degFromRad(Math.asin(u.up[1]!))

describe('heldBefore', () => {
  const at = (own: readonly HeldStill[]) => topDeg(heldMean(own, STEP))
  it('takes what stood before the tap, and not the tap', () => {
    const own = heldBefore(
      held(2000, ms => (ms > 1750 ? 7 : 5)),
      1700,
      STEP,
    )
    expect(at(own)).toBeCloseTo(5, 9)
    expect(own).toHaveLength(35)
  })
  it('takes nothing of where the phone lay before, even if nothing else stood before the tap', () => {
    for (const movedAtMs of [600, 1000, 1600, 1900]) {
      const own = heldBefore(
        held(2000, ms => (ms > movedAtMs ? 40 : 5)),
        1700,
        STEP,
      )
      expect(at(own)).toBeCloseTo(40, 9)
    }
  })
  it('is empty where nothing was held', () => {
    expect(heldBefore([], 0, STEP)).toEqual([])
  })
})

describe('heldMean', () => {
  it('counts each value for the time that it stood, not for its events', () => {
    // 10.0° for 2.7 s, and 10.1° for 0.3 s of many samples: by time 10.01°, by count 10.08°.
    const few: HeldStill[] = [0, 900, 1800].map(atMs => ({ atMs, up: up(10) }))
    const many: HeldStill[] = Array.from({ length: 16 }, (_, k) => ({ atMs: 2700 + 20 * k, up: up(10.1) }))
    const mean = heldMean([...few, ...many], STEP)
    expect(topDeg(mean)).toBeCloseTo((2700 * 10 + 320 * 10.1) / 3020, 3)
    expect(mean.ms).toBe(3000)
  })
  it('bears a tap of 2° for a fifth of a second', () => {
    const tapped = held(3000, ms => (ms >= 1000 && ms < 1200 ? 14 : 12) + 0.01 * Math.sin(ms))
    expect(topDeg(heldMean(tapped, STEP))).toBeCloseTo(12, 2)
    expect(degFromRad(heldMean(tapped, STEP).spread)).toBeLessThan(0.02)
  })
  it('is right on the back, on the face, on an edge and upright', () => {
    for (const [b, g] of [
      [0, 0],
      [180, 0],
      [0, 90],
      [90, 0],
      [-90, 30],
    ] as const) {
      const mean = heldMean(
        held(1000, () => 0).map(s => ({ ...s, up: up(b, g) })),
        STEP,
      )
      expect(angleApart(mean.up, up(b, g))).toBeLessThan(1e-9)
      expect(mean.noise).toBeLessThan(1e-12)
    }
  })
  it('states a noise of the mean that is right within a quarter for a trembling hand', () => {
    const luck = chance(5)
    const phone = { source: 'orientation', bias: [0, 0, 0], tremorDeg: 0.15 } as const
    let square = 0
    let stated = 0
    const trials = 600
    for (let k = 0; k < trials; k++) {
      const truth = up(luck.between(-60, 60), luck.between(-60, 60))
      const mean = heldMean(samplesOf(phone, truth, luck), STEP)
      square += angleApart(mean.up, truth) ** 2 / 2
      stated += mean.noise ** 2
    }
    const ratio = Math.sqrt(stated / square)
    expect(ratio).toBeGreaterThan(0.75)
    expect(ratio).toBeLessThan(1.25)
  })
  it('needs a sample', () => {
    expect(() => heldMean([], STEP)).toThrow(RangeError)
  })
})

describe('stillness', () => {
  it('gathers first, then counts up to three seconds', () => {
    const all = held(5000, () => 7)
    expect(stillness([], STEP)).toEqual({ kind: 'gathering' })
    expect(stillness(all.slice(0, 4), STEP)).toEqual({ kind: 'gathering' })
    expect(stillness(all.slice(0, 12), STEP)).toMatchObject({ kind: 'still', forMs: 500 })
    expect(stillness(all.slice(0, 45), STEP)).toMatchObject({ kind: 'still', forMs: 2000 })
    expect(stillness(all, STEP)).toMatchObject({ kind: 'still', forMs: HOLD_MS })
  })
  it('is not still while it is being laid on, nor while it creeps a degree in two seconds', () => {
    expect(
      stillness(
        held(3000, ms => ms / 100),
        STEP,
      ),
    ).toEqual({ kind: 'moving' })
    expect(
      stillness(
        held(3000, ms => ms / 2000),
        STEP,
      ),
    ).not.toMatchObject({ forMs: HOLD_MS })
  })
  it('starts to count anew after a move, and gives the mean of what came after it', () => {
    const moved = held(4000, ms => (ms < 2000 ? 0 : 9))
    const now = stillness(moved, STEP)
    expect(now).toMatchObject({ kind: 'still' })
    if (now.kind !== 'still') throw new Error(now.kind)
    expect(now.forMs).toBeLessThanOrEqual(2000)
    expect(topDeg(now.mean)).toBeCloseTo(9, 6)
  })
  it('bears a tap and a rounding that flips between two steps of 0.58°', () => {
    expect(
      stillness(
        held(3000, ms => (ms >= 1500 && ms < 1700 ? 2 : 0)),
        STEP,
      ),
    ).toMatchObject({ forMs: HOLD_MS })
    const coarse = radFromDeg(0.58)
    expect(
      stillness(
        held(3000, ms => (ms % 350 < 150 ? 0 : 0.58)),
        coarse,
      ),
    ).toMatchObject({ forMs: HOLD_MS })
  })
  it('forgets what lay before the page slept', () => {
    const slept = held(4000, () => 3).map(s => (s.atMs > 3000 ? { ...s, atMs: s.atMs + 20_000 } : s))
    expect(stillness(slept, STEP)).toMatchObject({ kind: 'still', forMs: 1000 })
  })
})

describe('seenStep', () => {
  const rounded = (q: number, seed: number, n = 40) => {
    const luck = chance(seed)
    return Array.from({ length: n }, () => Math.round(luck.between(-50, 50) / q) * q)
  }
  it('finds 0.1 in what is rounded to 0.1, and 0.01 in what is rounded to 0.01', () => {
    expect(seenStep(rounded(0.1, 1))).toBe(0.1)
    expect(seenStep(rounded(0.01, 2))).toBe(0.01)
  })
  it('finds next to nothing in numbers that are not rounded', () => {
    const luck = chance(3)
    expect(seenStep(Array.from({ length: 40 }, () => luck.between(-50, 50)))).toBeLessThan(0.2)
    expect(seenStep(Array.from({ length: 40 }, () => 12.3 + luck.normal(0.001)))).toBeLessThan(0.001)
  })
  it('says nothing from three different values', () => {
    expect(seenStep([0.1, 0.1, 0.2, 0.3])).toBeNull()
  })
})

describe('rateOf', () => {
  it('counts 60 a second, and nothing from two events', () => {
    expect(rateOf(Array.from({ length: 61 }, (_, k) => (1000 * k) / 60))).toBeCloseTo(60, 9)
    expect(rateOf([0, 10])).toBeNull()
    expect(rateOf([5, 5, 5])).toBeNull()
  })
})
