import { describe, expect, it } from 'vitest'
import { type HorizonMask, maskAt, maskFromPoints } from '../../../src/core/sky/horizonmask.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'

describe('maskAt', () => {
  const at = (mask: HorizonMask, azDeg: number) => degFromRad(maskAt(mask, radFromDeg(azDeg)))
  const mask = maskFromPoints([
    { azDeg: 350, elDeg: 10 },
    { azDeg: 10, elDeg: 20 },
    { azDeg: 180, elDeg: 0 },
  ])
  it('is linear between points, in whatever order they came, through north too', () => {
    expect(at(mask, 0)).toBeCloseTo(15, 12)
    expect(at(mask, 355)).toBeCloseTo(12.5, 12)
    expect(at(mask, 95)).toBeCloseTo(10, 12)
    expect(at(mask, 265)).toBeCloseTo(5, 12)
    expect(at(mask, 370)).toBeCloseTo(20, 12)
  })
  it('is the one point all round, and the nadir without any', () => {
    expect(at(maskFromPoints([{ azDeg: 90, elDeg: 7 }]), 271)).toBeCloseTo(7, 12)
    expect(at([], 12)).toBeCloseTo(-90, 12)
  })
})
