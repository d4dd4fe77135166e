/** Which pass of a body is drawn: the one that is on, whole, else the next. */
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { passOf } from '../../../src/core/plan/landscape.ts'
import { landscape, solve } from '../../../src/core/questions.ts'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { someOf } from '../../helpers/some.ts'

/** Three days in quarters of an hour, up where the sine of its day is above `floor`. */
const days = (phase: number, floor: number) =>
  Array.from({ length: 289 }, (_, k) => ({
    utcMs: 900_000 * k,
    azDeg: 0,
    elDeg: Math.sin((2 * Math.PI * (k + phase)) / 99) - floor,
  }))
const NOW = 96

describe('passOf', () => {
  it('holds the present where the body is up, begins below the horizon and ends there, and is up all between', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 98 }),
        fc.double({ min: -0.95, max: 0.95, noNaN: true }),
        (phase, floor) => {
          const points = days(phase, floor)
          const pass = passOf(points, NOW)
          expect(pass[0]!.elDeg).toBeLessThan(0)
          expect(pass.at(-1)!.elDeg).toBeLessThan(0)
          expect(pass.length).toBeGreaterThan(2)
          for (const p of someOf(pass.slice(1, -1))) expect(p.elDeg).toBeGreaterThanOrEqual(0)
          if (points[NOW]!.elDeg >= 0) expect(pass).toContain(points[NOW])
          else expect(pass[1]!.utcMs).toBeGreaterThan(points[NOW]!.utcMs)
        },
      ),
    )
  })

  it('of a body that never sets a day about now, of one that never rises what is to come', () => {
    const up = passOf(days(0, -2), NOW)
    expect([up[0]!.utcMs / 900_000, up.at(-1)!.utcMs / 900_000]).toEqual([48, 144])
    expect(passOf(days(0, 2), NOW)[0]!.utcMs / 900_000).toBe(NOW)
  })
})

describe('landscape', () => {
  it('what the rms after correction is made of adds up in squares', () => {
    const demo = JSON.parse(
      readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'),
    ) as FieldBook
    const now = '2026-11-25T12:00:00Z'
    const { made } = answered(landscape(demo, { now }))
    const { sky } = answered(solve(demo, { now }))
    expect(Math.hypot(made.openDeg, made.floorDeg)).toBeCloseTo(sky.after.rmsDeg, 8)
    expect(made.floorDeg).toBeCloseTo(sky.floorDeg, 9)
  })
})
