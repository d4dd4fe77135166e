/**
 * What a dish can bear of each step, against an independent mount: one that is out by the limit and is given the entered mount's readings
 * loses what the step may use, no more. Its own equations (truemount.ts); the sky is the core's.
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { insideOf, settlingSigma } from '../../../src/core/alignment/budget.ts'
import { aim, midRange } from '../../../src/core/mount/aim.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { aligned, bare, NOW_MS } from '../../helpers/aligned.ts'
import { stepOf, told } from '../../helpers/aligntold.ts'
import { chance } from '../../helpers/random.ts'
import { shareOf } from '../../helpers/share.ts'
import { checkSky, KINDS } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

/** 95 % of the Moon's month stay below, of a mount as it truly is and driven as entered. Degrees. */
function p95Deg(kind: MountKind, truth: Truth): number {
  const { guesses: _, ...record } = bare(kind)
  const station = stationFromRecord(record)
  const mount = trueMount(record, truth)
  const paper = onPaper()
  const misses = checkSky({ record, chance: chance(1), truths: [{ fromMs: -Infinity, truth: {} }] }, NOW_MS, 4)
    .flatMap(p => {
      const at = aim(station.model, paper, 'beam', p.direction, midRange(station.model, paper))
      return at === null ? [] : [apartDeg(mount.pose(at.lower, at.upper, 'beam', 'a').b, p.direction)]
    })
    .sort((a, b) => a - b)
  return misses[Math.ceil(0.95 * misses.length) - 1]!
}

const limitsAt = (kind: MountKind) => {
  const a = told(bare(kind))
  return {
    share: a.shareDeg,
    tolerance: a.toleranceDeg,
    of: (step: Parameters<typeof stepOf>[1], of: string, more: object = {}) =>
      stepOf(a, step).limits.find(
        l => l.of === of && Object.entries(more).every(([k, v]) => (l as unknown as Record<string, unknown>)[k] === v),
      )!.limit,
  }
}

describe('what this dish needs', () => {
  it('is an eighth of the loss for one step, from the beam and the loss allowed: 0.144 HPBW over √8', () => {
    const { share, tolerance } = limitsAt('ha-dec')
    // 70 λ/D: 5.397° at 3 m and 1296 MHz (table of the trade: 5.397).
    expect(tolerance).toBeCloseTo(5.397 * Math.sqrt(0.5 / 24.08), 3)
    expect(share).toBeCloseTo(tolerance / Math.sqrt(8), 9)
    const [wide, narrow] = [bare('ha-dec'), bare('ha-dec')]
    wide.tolerance = { echoLossDb: 2 }
    narrow.feeds[0]!.frequencyMHz = 10368
    expect(told(wide).shareDeg).toBeCloseTo(2 * share, 6)
    expect(told(narrow).shareDeg).toBeCloseTo(share / 8, 6)
  })

  it.each([
    ['el-over-az', 'mast', 'lean', {}, (x: number) => ({ leanNorth: x })],
    ['az-over-el', 'axes', 'level', { level: 'lower-axis-elevation' }, (x: number) => ({ level: x })],
    ['x-y', 'axes', 'level', { level: 'lower-axis-elevation' }, (x: number) => ({ level: x })],
    ['ha-dec', 'axes', 'level', { level: 'lower-axis-elevation' }, (x: number) => ({ poleUp: x })],
    ['ha-dec', 'readouts', 'readout', { axis: 'lower', unit: 'deg' }, (x: number) => ({ lowerZero: x })],
    ['az-over-el', 'readouts', 'readout', { axis: 'upper', unit: 'deg' }, (x: number) => ({ upperZero: x })],
  ] as const)('%s, %s: a mount out by the limit loses its share', (kind, step, of, more, truthOf) => {
    const { share, of: limit } = limitsAt(kind)
    const found = p95Deg(kind, truthOf(limit(step, of, more)))
    expect(found / share).toBeGreaterThan(0.9)
    expect(found / share).toBeLessThan(1.05)
  })

  it('in counts is the same angle: 40 counts to the degree', () => {
    const { of } = limitsAt('az-over-el')
    const deg = of('readouts', 'readout', { axis: 'upper', unit: 'deg' })
    expect(of('readouts', 'readout', { axis: 'upper', unit: 'reading' })).toBeCloseTo(40 * deg, 3)
    expect(of('references', 'mark', { axis: 'upper' })).toBeCloseTo(40 * deg, 3)
  })

  it('of the clock: a second is 15.041″ (mean sidereal rate)', () => {
    const { share, of } = limitsAt('x-y')
    expect(of('site-clock', 'clock')).toBeCloseTo((share * 3600) / 15.041, 2)
    expect(of('site-clock', 'site')).toBeCloseTo(share, 9)
  })

  it('of the feed: beam and shadow part by 1 + BDF times its angle (BDF 0.8202 at f/D 0.4, table of the trade)', () => {
    const { share, of } = limitsAt('el-over-az')
    expect(of('feed', 'feed')).toBeCloseTo((1200 * ((share * Math.PI) / 180)) / 1.8202, 2)
  })

  it('stands whether or not anything was measured', () => {
    for (const kind of shareOf(KINDS, 2)) {
      const [before, after] = [told(bare(kind)), told(aligned(kind))]
      for (const s of someOf(before.steps))
        for (const [k, l] of s.limits.entries()) {
          const other = stepOf(after, s.id).limits[k]!
          expect({ ...other, limit: 0 }).toEqual({ ...l, limit: 0 })
          // Where a sighting is rounded to counts, and in another month of the Moon, a little else.
          expect(other.limit / l.limit).toBeGreaterThan(0.8)
          expect(other.limit / l.limit).toBeLessThan(1.25)
        }
    }
  })
})

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true })

describe('inside, outside, or not to be told', () => {
  it('never both, and never told where two σ reach across the limit', () => {
    fc.assert(
      fc.property(num(-5, 5), num(1e-4, 3), num(0.01, 4), (value, sigma, limit) => {
        const said = insideOf(value, sigma, limit)
        const [least, most] = [Math.abs(value) - 1.96 * sigma, Math.abs(value) + 1.96 * sigma]
        expect(said).toBe(most <= limit ? 'inside' : least > limit ? 'outside' : 'cannot-tell')
        expect(insideOf(-value, sigma, limit)).toBe(said)
      }),
    )
    expect(insideOf(0, null, 1)).toBe('cannot-tell')
  })

  it('with the σ that would settle it, it is settled', () => {
    fc.assert(
      fc.property(num(0, 5), num(0.01, 4), (value, limit) => {
        const sigma = settlingSigma(value, limit)
        fc.pre(sigma !== null)
        expect(insideOf(value, 0.999 * sigma!, limit)).not.toBe('cannot-tell')
      }),
    )
  })

  it('nothing settles what lies within a twentieth of its limit, on either side of it', () => {
    fc.assert(
      fc.property(num(-0.0499, 0.0499), num(0.01, 4), (off, limit) => {
        expect(settlingSigma(limit * (1 + off), limit)).toBeNull()
        expect(settlingSigma(-limit * (1 + off), limit)).toBeNull()
      }),
    )
    expect([0.94, 1.06].map(value => settlingSigma(value, 1) !== null)).toEqual([true, true])
  })
})
