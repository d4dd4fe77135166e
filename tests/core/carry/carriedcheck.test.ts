import { describe, expect, it } from 'vitest'
import { checkCarried, chiSquareLimit, type ShownOutput } from '../../../src/core/carry/carriedcheck.ts'
import { checkTargetsOf } from '../../../src/core/carry/checktargets.ts'
import { type Carried, carriedOf, digitSlips } from '../../../src/core/carry/mistakes.ts'
import type { CarryWish } from '../../../src/core/carry/numbers.ts'
import { aimPointAt, outputsBy } from '../../../src/core/carry/shown.ts'
import { angleBetween } from '../../../src/core/vectors.ts'
import { CAUSES, checkTally } from '../../helpers/carrychecktrials.ts'
import { carryScene, pageFor } from '../../helpers/carrytrials.ts'
import { isWhole } from '../../helpers/share.ts'
import { START_MS, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const scene = carryScene(12, { kind: 'az-over-el', lower: 'degrees', upper: 'jack', frequencyMHz: 1296 })
const { answered } = scene
const { station } = answered.solved
const LINE: CarryWish = { aiming: 'paper', law: 'line', unit: 'degrees', way: 'command', step: 2 }
const page = pageFor(scene, LINE)
const own = carriedOf(page)
const targets = checkTargetsOf(answered, page, START_MS, 'any')

/** What a program with these numbers shows, typed to `decimals`. */
function shown(carried: Carried, decimals = 2, of = targets): ShownOutput[] {
  const outputs = outputsBy(station, carried)
  return of.map(({ target }) => {
    const out = outputs(aimPointAt(station, target, START_MS))!
    return {
      utc: utcOf(START_MS),
      target,
      lower: Number(out.lower.toFixed(decimals)),
      upper: Number(out.upper.toFixed(decimals)),
      decimals: { lower: decimals, upper: decimals },
    }
  })
}
const withNumbers = (numbers: Record<string, number>): Carried => ({ ...own, numbers: { ...own.numbers, ...numbers } })
const checked = (carried: Carried, decimals?: number) => checkCarried(answered, page, shown(carried, decimals))

describe('check points', () => {
  it('are three, far apart, within reach', () => {
    expect(targets).toHaveLength(3)
    const looks = targets.map(t => aimPointAt(station, t.target, START_MS).direction)
    for (const [i, a] of someOf(looks.entries()))
      for (const b of looks.slice(i + 1)) expect(angleBetween(a, b)).toBeGreaterThan((25 * Math.PI) / 180)
    for (const { elDeg } of targets) expect(elDeg).toBeGreaterThan(4)
  })

  it('a page typed right agrees, and every slip that costs something would have shown', () => {
    const told = checked(own)
    expect(told).toMatchObject({ verdict: 'agrees', fits: [], unseen: [] })
    expect(Math.max(...told.offSigma.map(x => x!))).toBeLessThan(3)
  })

  it('with whole degrees typed it agrees too, but says which slips would not have shown', () => {
    const told = checked(own, 0)
    expect(told.verdict).toBe('agrees')
    expect(told.unseen.map(u => u.cause)).toContain('digit')
  })

  it('a turned sign is named with its number', () => {
    const id = 'lower.0'
    const told = checked(withNumbers({ [id]: -own.numbers[id]! }))
    expect(told.verdict).toBe('mistake')
    expect(told.fits[0]).toMatchObject({ cause: 'sign', id, axis: 'lower' })
  })

  it('a correction subtracted where it must be added is the convention, not four wrong numbers', () => {
    const turned = Object.fromEntries(page.numbers.map(n => [n.id, n.id.endsWith('.1') ? 2 - n.value : -n.value]))
    expect(checked(withNumbers(turned)).fits[0]).toMatchObject({ cause: 'convention', axis: null })
  })

  it('exchanged axes are named as that', () => {
    const crossed = Object.fromEntries(
      page.numbers.map(n => [n.id, own.numbers[n.id.replace(n.axis!, n.axis === 'lower' ? 'upper' : 'lower')]!]),
    )
    expect(checked(withNumbers(crossed)).fits[0]).toMatchObject({ cause: 'axes' })
  })

  it('a number that is no slip of a key is named with about what stands there', () => {
    const told = checked(withNumbers({ 'upper.0': own.numbers['upper.0']! + 3.337 }))
    expect(told.fits[0]).toMatchObject({ cause: 'value', id: 'upper.0' })
    expect(Number(told.fits[0]!.text)).toBeCloseTo(own.numbers['upper.0']! + 3.337, 1)
  })

  it('two slips at once are no single one', () => {
    const told = checked(
      withNumbers({ 'upper.0': own.numbers['upper.0']! + 3.3, 'lower.0': own.numbers['lower.0']! - 7.1 }),
    )
    expect(told.verdict).toBe('none')
  })

  it('refuses to judge nothing', () => {
    expect(() => checkCarried(answered, page, [])).toThrow(RangeError)
  })
})

describe('a check with every cause drawn', () => {
  // 100 of each: `npm run studies` (carrycheck).
  it('names or lists what was done, never a wrong slip alone, and passes nothing that costs without a word', () => {
    const tally = checkTally(isWhole ? 2 : 1, 4)
    for (const cause of CAUSES) {
      expect(tally[cause].missed ?? 0, cause).toBe(0)
      expect(tally[cause].other ?? 0, cause).toBe(0)
    }
    expect(tally.right.alarm ?? 0).toBe(0)
  })
})

describe('digitSlips', () => {
  it('changes, exchanges, drops and doubles digits, and never gives back the number itself', () => {
    const slips = digitSlips('-1.26')
    for (const slip of ['-1.36', '-1.62', '-1.2', '-1.226', '-7.26']) expect(slips).toContain(slip)
    expect(slips.map(Number)).not.toContain(-1.26)
    expect(digitSlips('2.1e-5').every(s => s.endsWith('e-5'))).toBe(true)
  })
})

describe('chiSquareLimit', () => {
  it('is the point that chance passes once in a thousand', () => {
    // Tables of χ²: 13.816, 18.467, 22.458 at 0.001 for 2, 4, 6 (common practice; values from memory).
    for (const [n, x] of [
      [2, 13.816],
      [4, 18.467],
      [6, 22.458],
    ] as const)
      expect(chiSquareLimit(n)).toBeCloseTo(x, 0)
  })
})
