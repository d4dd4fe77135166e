import { describe, expect, it } from 'vitest'
import { offsetFromTaps } from '../../../src/core/clock/pips.ts'
import { chance } from '../../helpers/random.ts'

const START = Date.UTC(2026, 4, 1, 12, 30, 0)
/** Taps of a person on pips at full seconds, on a phone that is ahead. */
const taps = (offsetS: number, lags: readonly number[], everyMs = 1000) =>
  lags.map((lag, k) => START + k * everyMs + 1000 * (offsetS + lag))

describe('offsetFromTaps', () => {
  it('finds what the phone is ahead or behind by, exactly when the taps are', () => {
    for (const offset of [-0.45, -0.2, 0, 0.31, 0.49]) {
      const got = offsetFromTaps(taps(offset, [0, 0, 0, 0]), 'second')
      expect(got.kind === 'offset' && got.offsetS).toBeCloseTo(offset, 6)
    }
  })
  it('takes whole seconds from the person, since pips of seconds do not tell them', () => {
    const got = offsetFromTaps(taps(7.2, [0, 0, 0]), 'second', 7)
    expect(got.kind === 'offset' && got.offsetS).toBeCloseTo(7.2, 6)
  })
  it('on full minutes tells up to half a minute by itself', () => {
    const got = offsetFromTaps(taps(-13.4, [0.02, -0.02, 0], 60_000), 'minute')
    expect(got.kind === 'offset' && got.offsetS).toBeCloseTo(-13.4, 6)
  })
  it('takes whole minutes from the person too: a phone off by minutes taps the same on full minutes as one off by seconds', () => {
    const off = taps(242.6, [0.02, -0.02, 0], 60_000)
    const alone = offsetFromTaps(off, 'minute')
    expect(alone.kind === 'offset' && alone.offsetS).toBeCloseTo(2.6, 6)
    // The nearest that the pips allow: half a minute beside, by eye, does no harm.
    for (const byEye of [215, 242, 270]) {
      const got = offsetFromTaps(off, 'minute', byEye)
      expect(got.kind === 'offset' && got.offsetS).toBeCloseTo(242.6, 6)
    }
    const behind = offsetFromTaps(taps(-220, [0, 0, 0], 60_000), 'minute', -215)
    expect(behind.kind === 'offset' && behind.offsetS).toBeCloseTo(-220, 6)
  })
  it('finds the place across the wrap: some taps just before half a second, some just after', () => {
    const got = offsetFromTaps(taps(0.5, [-0.03, 0.03, -0.02, 0.04, 0.01]), 'second')
    expect(got.kind).toBe('offset')
    if (got.kind !== 'offset') return
    expect(Math.abs(Math.abs(got.offsetS) - 0.5)).toBeLessThan(0.02)
    expect(got.nearHalf).toBe(true)
    expect(got.scatterS).toBeLessThan(0.05)
  })
  it('leaves strays out: two of eight taps half a second beside move nothing', () => {
    const steady = [0.01, -0.02, 0.03, 0, -0.01, 0.02]
    const clean = offsetFromTaps(taps(0.2, steady), 'second')
    const got = offsetFromTaps(taps(0.2, [...steady, 0.45, -0.4]), 'second')
    expect(got).toMatchObject({ kind: 'offset', used: 6, strays: 2 })
    expect(got.kind === 'offset' && clean.kind === 'offset' && got.offsetS - clean.offsetS).toBeCloseTo(0, 9)
  })
  it('says that taps at random say nothing, and that three are needed', () => {
    expect(offsetFromTaps(taps(0, [0, 0.3, -0.35, 0.15, 0.48, -0.15]), 'second').kind).toBe('scattered')
    expect(offsetFromTaps(taps(0, [0, 0]), 'second')).toEqual({ kind: 'too-few', have: 2, need: 3 })
  })
  it('covers: of 1000 invented people with a lag of their own of 0.1 s, 2 σ holds for 93 to 98 in a hundred, and σ is not padded', () => {
    const off: number[] = []
    const sigmas: number[] = []
    let covered = 0
    for (let k = 0; k < 1000; k++) {
      const c = chance(k)
      const lag = c.normal(0.1)
      const truth = c.between(-0.3, 0.3)
      const got = offsetFromTaps(
        taps(
          truth,
          Array.from({ length: c.whole(4, 12) }, () => lag + c.normal(0.05)),
        ),
        'second',
      )
      if (got.kind !== 'offset') throw new Error(`${k}: ${got.kind}`)
      off.push(got.offsetS - truth)
      sigmas.push(got.sigmaS)
      if (Math.abs(got.offsetS - truth) <= 2 * got.sigmaS) covered++
    }
    expect(covered).toBeGreaterThanOrEqual(930)
    expect(covered).toBeLessThanOrEqual(980)
    const rms = Math.sqrt(off.reduce((s, o) => s + o * o, 0) / off.length)
    expect(sigmas.sort((a, b) => a - b)[500]! / rms).toBeLessThan(1.3)
  })
})
