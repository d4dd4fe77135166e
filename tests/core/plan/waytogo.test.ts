import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AxisDrive, type WayToGo, type WayWish, wayToGo } from '../../../src/core/plan/waytogo.ts'
import { someOf } from '../../helpers/some.ts'

const wish = (more: Partial<WayWish>): WayWish => ({
  present: 500,
  target: 459,
  targetPerS: 0,
  drive: null,
  runUp: 10,
  min: 0,
  max: 820,
  within: 0.5,
  ...more,
})
const drive = (more: Partial<AxisDrive> = {}): AxisDrive => ({ readingsPerS: 2, overrun: 0, arriveFrom: null, ...more })

/** A jack that obeys: runs at its speed while held, then comes to rest evenly over its overrun. Second by small second. */
function obeyed(
  { present, drive }: WayWish,
  way: WayToGo,
): { at: number; seconds: number; least: number; most: number } {
  const { readingsPerS: speed, overrun } = drive!
  let at = present
  let seconds = 0
  let [least, most] = [present, present]
  const see = () => {
    least = Math.min(least, at)
    most = Math.max(most, at)
  }
  for (const pull of way.pulls) {
    const sign = pull.side === '+' ? 1 : -1
    at += sign * speed * pull.holdS!
    seconds += pull.holdS!
    see()
    // From full speed to none at an even rate: the mean is half of it.
    const rest = overrun === 0 ? 0 : overrun / (speed / 2)
    at += sign * (speed / 2) * rest
    seconds += rest
    see()
  }
  return { at, seconds, least, most }
}

/** Every part of the range as often: fc.double prefers the smallest numbers. */
const even = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map(n => min + ((max - min) * n) / 1_000_000)

describe('wayToGo', () => {
  it('is the difference alone where no speed is known', () => {
    expect(wayToGo(wish({}))).toEqual({
      pulls: [{ side: '-', amount: 41, to: 459, letGoAt: 459, holdS: null }],
      seconds: null,
      stopped: null,
    })
  })

  it('says 41 down in 20.5 s at 2 a second', () => {
    const way = wayToGo(wish({ drive: drive() }))
    expect(way.seconds).toBe(20.5)
    expect(way.pulls).toMatchObject([{ side: '-', amount: 41, holdS: 20.5 }])
  })

  it('lets go before the target by what it runs on', () => {
    const way = wayToGo(wish({ drive: drive({ overrun: 6 }) }))
    expect(way.pulls).toMatchObject([{ to: 459, letGoAt: 465, holdS: 17.5 }])
    // 17.5 s held, 6 s to rest.
    expect(way.seconds).toBe(23.5)
  })

  it('goes past it and comes back where it must arrive from the other side', () => {
    const way = wayToGo(wish({ drive: drive({ arriveFrom: '+' }) }))
    expect(way.pulls).toMatchObject([
      { side: '-', amount: 51, to: 449 },
      { side: '+', amount: 10, to: 459 },
    ])
    expect(way.seconds).toBe(30.5)
  })

  it('is there within half a count', () => {
    expect(wayToGo(wish({ present: 459.4, drive: drive() }))).toEqual({ pulls: [], seconds: 0, stopped: null })
  })

  it('ends at the limit that the target is beyond', () => {
    const way = wayToGo(wish({ target: 900, drive: drive({ arriveFrom: '-' }) }))
    expect(way.stopped).toEqual({ kind: 'limit', end: 'max', at: 820 })
    expect(way.pulls).toMatchObject([{ side: '+', to: 820 }])
  })

  it('arrives from the wrong side, and says so, where there is no room behind the target', () => {
    const way = wayToGo(wish({ target: 0.2, drive: drive({ arriveFrom: '+', overrun: 3 }) }))
    expect(way.stopped).toEqual({ kind: 'wrong-side', end: 'min', at: 0 })
    expect(way.pulls).toMatchObject([{ side: '-' }])
    expect(way.pulls[0]!.to).toBeCloseTo(0.2, 9)
    // With a little room it goes to the limit itself.
    const tight = wayToGo(wish({ target: 5, drive: drive({ arriveFrom: '+', overrun: 3 }) }))
    expect(tight.stopped).toBeNull()
    expect(tight.pulls[0]!.to).toBeCloseTo(0, 6)
    expect(tight.pulls[1]!.to).toBeCloseTo(5, 6)
  })

  it('does not catch a target that is faster than the axis', () => {
    const way = wayToGo(wish({ targetPerS: -3, drive: drive() }))
    expect(way).toEqual({ pulls: [], seconds: null, stopped: { kind: 'too-slow' } })
  })

  it('driven as told at that speed ends on the target, at the time told, from the side wanted, within the limits', () => {
    let arrived = 0
    let turned = 0
    fc.assert(
      fc.property(
        fc.record({
          present: even(0, 820),
          target: even(0, 820),
          targetPerS: even(-0.4, 0.4),
          speed: even(0.5, 20),
          overrun: even(0, 15),
          runUp: even(1, 30),
          arriveFrom: fc.constantFrom('+' as const, '-' as const, null),
        }),
        ({ present, target, targetPerS, speed, overrun, runUp, arriveFrom }) => {
          const asked = wish({
            ...{ present, target, targetPerS, runUp },
            drive: { readingsPerS: speed, overrun, arriveFrom },
          })
          const way = wayToGo(asked)
          if (way.pulls.length === 0) {
            expect(way.stopped !== null || Math.abs(target - present) <= 0.5).toBe(true)
            return
          }
          const { at, seconds, least, most } = obeyed(asked, way)
          expect(seconds).toBeCloseTo(way.seconds!, 6)
          if (way.stopped?.kind === 'limit') {
            expect(at).toBeCloseTo(way.stopped.at, 6)
            return
          }
          arrived += 1
          turned += way.pulls.length - 1
          expect(Math.abs(at - (target + targetPerS * seconds))).toBeLessThan(1e-6)
          expect(least).toBeGreaterThan(-1e-6)
          expect(most).toBeLessThan(820 + 1e-6)
          const last = way.pulls.at(-1)!
          if (arriveFrom !== null && way.stopped === null) expect(last.side).toBe(arriveFrom)
          for (const pull of someOf(way.pulls)) expect(pull.amount).toBeGreaterThanOrEqual(overrun - 1e-6)
        },
      ),
      { seed: 20_261_129, numRuns: 5000 },
    )
    expect(arrived).toBeGreaterThan(4000)
    expect(turned).toBeGreaterThan(1000)
  })

  it('refuses what is no speed', () => {
    expect(() => wayToGo(wish({ drive: drive({ readingsPerS: 0 }) }))).toThrow(RangeError)
    expect(() => wayToGo(wish({ runUp: 0 }))).toThrow(RangeError)
    expect(() => wayToGo(wish({ present: Number.NaN }))).toThrow(RangeError)
  })
})
