import { describe, expect, it } from 'vitest'
import { carryBudget, solve } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { bookOf, countedPit, gravelPit } from '../../helpers/stations.ts'

const NOW = '2026-05-01T00:00:00Z'
const budgetFor = (station: StationRecord) => {
  return answered(carryBudget(bookOf(station), { now: NOW }))
}
const toleranceDeg = (station: StationRecord): number => {
  const answer = solve(bookOf(station), { now: NOW })
  return answer.ok ? answer.value.sky.toleranceDeg : Number.NaN
}
const driven = (overrun: number, readingsPerS = 4): StationRecord => {
  const pit = countedPit()
  return {
    ...pit,
    mount: { ...pit.mount, upper: { ...pit.mount.upper, drive: { readingsPerS, overrun, arriveFrom: '-' } } },
  }
}

describe('the budget of a program', () => {
  it('moves so often that the Moon goes half a tolerance from step to step, and leads by half of it', () => {
    const b = budgetFor(gravelPit())
    // The Moon's own pace across the sky: 14.5° an hour and less (trade handbooks), 14.49 ″/s by the drift scans' source.
    const perS = 14.6 / 3600
    expect(b.everyS * perS).toBeCloseTo(0.5 * toleranceDeg(gravelPit()), 1)
    expect(b.leadS).toBeCloseTo(b.everyS / 2, 9)
    expect(b.halfStepDeg).toBeCloseTo(0.25 * toleranceDeg(gravelPit()), 9)
  })

  it('stops half a degree inside the limits, or twice what the axis runs on by where that is more', () => {
    // Ten counts to the degree, 0 to 900.
    expect(budgetFor(driven(1)).axes.upper.soft).toEqual({ min: 5, max: 895 })
    expect(budgetFor(driven(20)).axes.upper.soft).toEqual({ min: 40, max: 860 })
    expect(budgetFor(gravelPit()).axes.upper.soft.min).toBeCloseTo(0.5, 9)
  })

  it('says that an axis hunts which runs on by more than its share allows', () => {
    const share = (0.25 * toleranceDeg(driven(1)) * 10) / Math.SQRT2
    const calm = budgetFor(driven(1)).axes.upper.deadBand
    expect(calm).toMatchObject({ hunts: false, least: 1 })
    expect(calm.half).toBeCloseTo(share, 6)
    const wild = budgetFor(driven(30)).axes.upper.deadBand
    expect(wild).toMatchObject({ hunts: true, half: 15.5 })
  })

  it('takes side, speed and overrun from the book, and where the book has none the way that the Moon goes', () => {
    const { lower, upper } = budgetFor(driven(1)).axes
    expect(upper).toMatchObject({ arriveFrom: '-', overrun: 1, drivePerMin: 240 })
    // Azimuth grows all day at 47° N.
    expect(lower).toMatchObject({ arriveFrom: null, goes: '+', overrun: null, drivePerMin: null })
    expect(lower.otherWay).toBeLessThan(0.02)
    // Up and down again.
    expect(upper.otherWay).toBeGreaterThan(0.3)
  })

  it('counts the hours of Moon that the soft limits take', () => {
    const low = gravelPit()
    const b = budgetFor({ ...low, mount: { ...low.mount, upper: { ...low.mount.upper, minReading: 20 } } })
    expect(b.cutHours).toBeGreaterThan(0)
    expect(b.cutHours).toBeLessThan(0.05 * b.moonHours)
  })
})
