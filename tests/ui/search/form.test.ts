/** Where a search stands: which steps count, what is long, seconds as typed. */
import { describe, expect, it } from 'vitest'
import { firstSearch } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { emptySearch, isLong, presentStep, secondsOf, stepsInside } from '../../../src/ui/search/form.ts'
import { answered } from '../../helpers/answered.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const NOW = '2026-06-10T11:00:00Z'
const planOf = (record: StationRecord) => {
  return answered(firstSearch(bookOf(record), { now: NOW }))
}
const known = (sigma: number) =>
  gravelPit({
    priors: ['lowerZero', 'upperZero', 'leanNorth', 'leanEast', 'squareness', 'collimation'].map(id => ({
      id,
      value: 0,
      sigma,
    })) as never,
  })

describe('a search', () => {
  it('walks the steps within the limits, and is done after the last', () => {
    const plan = { ...planOf(known(3)) }
    plan.steps = plan.steps.map((s, k) => ({ ...s, inside: k % 2 === 0 }))
    const steps = stepsInside(plan)
    expect(steps.slice(0, 3)).toEqual([0, 2, 4])
    expect(presentStep({ ...emptySearch(), at: 1 }, steps)).toBe(2)
    expect(presentStep({ ...emptySearch(), at: steps.length }, steps)).toBeNull()
  })

  it('is long where nobody knows which way it faces, and not where little is open', () => {
    expect(isLong(planOf(gravelPit()))).toBe(true)
    expect(isLong(planOf(known(2)))).toBe(false)
  })

  it('takes the usual seconds where none or no number is typed', () => {
    expect(secondsOf(emptySearch())).toBe(20)
    expect(secondsOf({ ...emptySearch(), seconds: '45' })).toBe(45)
    expect(secondsOf({ ...emptySearch(), seconds: 'soon' })).toBe(20)
  })
})
