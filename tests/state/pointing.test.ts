import { describe, expect, it } from 'vitest'
import type { TargetDialRow } from '../../src/core/plan/dialtarget.ts'
import { rowAt } from '../../src/state/pointing.ts'
import { bareStation } from '../helpers/smallbook.ts'

const { mount } = bareStation('s')
const row = (s: number, lower: number | null, upper: number | null, more: Partial<TargetDialRow> = {}) => ({
  utcMs: 1000 * s,
  azDeg: 100,
  elDeg: 30,
  lower,
  upper,
  reachable: true,
  distanceKm: null,
  haDeg: 0,
  decDeg: 0,
  enteredLower: lower,
  enteredUpper: upper,
  ...more,
})

describe('rowAt', () => {
  it('runs straight between two rows', () => {
    const rows = [row(0, 10, 20), row(10, 11, 18), row(20, 12, 16)]
    expect(rowAt(rows, mount, 2500)).toMatchObject({ lower: 10.25, upper: 19.5 })
    expect(rowAt(rows, mount, 15_000)).toMatchObject({ lower: 11.5, upper: 17 })
  })

  it('does not sweep through the readings between two poses', () => {
    const rows = [row(0, 359.9, 20), row(10, 0.1, 20)]
    expect(rowAt(rows, mount, 4000)!.lower).toBe(359.9)
    expect(rowAt(rows, mount, 6000)!.lower).toBe(0.1)
  })

  it('carries the azimuth through north', () => {
    const rows = [row(0, 1, 1, { azDeg: 359 }), row(10, 1, 1, { azDeg: 1 })]
    expect(rowAt(rows, mount, 5000)!.azDeg).toBeCloseTo(0, 9)
    expect(rowAt(rows, mount, 2500)!.azDeg).toBeCloseTo(359.5, 9)
  })

  it('says how fast both readings move on, and that a jump is no motion', () => {
    const rows = [row(0, 10, 20), row(10, 11, 18), row(20, 351, 18)]
    expect(rowAt(rows, mount, 2500)!.perS).toEqual({ lower: 0.1, upper: -0.2 })
    expect(rowAt(rows, mount, 12_000)!.perS).toEqual({ lower: 0, upper: 0 })
  })

  it('carries the hour angle through 180°', () => {
    const rows = [row(0, 1, 1, { haDeg: 179 }), row(10, 1, 1, { haDeg: -179 })]
    expect(rowAt(rows, mount, 2500)!.haDeg).toBeCloseTo(179.5, 9)
    expect(rowAt(rows, mount, 7500)!.haDeg).toBeCloseTo(-179.5, 9)
  })

  it('has no reading where one end has none, and nothing far outside the rows', () => {
    const rows = [row(0, null, null), row(10, 1, 2)]
    expect(rowAt(rows, mount, 5000)).toMatchObject({ lower: null, upper: null })
    expect(rowAt(rows, mount, -20_000)).toBeNull()
    expect(rowAt(rows, mount, 60_000)).toBeNull()
    expect(rowAt([], mount, 0)).toBeNull()
  })
})
