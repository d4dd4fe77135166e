import { describe, expect, it } from 'vitest'
import { faceReach, fieldsOfSpot, isExpected, tapped } from '../../../../src/ui/kit/shadow/form.ts'
import { emptySightForm, type SightForm, shadowOf } from '../../../../src/ui/kit/sighting/form.ts'
import { gravelPit } from '../../../helpers/stations.ts'

const { dish } = gravelPit({ dish: { diameterM: 3, focalRatio: 0.4, feedDiameterMm: 180 } })
const NOW = Date.parse('2026-06-10T10:00:30Z')
const form = (more: Partial<SightForm> = {}): SightForm => ({ ...emptySightForm('mm'), target: 'sun', ...more })

describe('isExpected', () => {
  it('where the shadow should fall is said to within a quarter of the dish', () => {
    expect(isExpected({ sigmaRightMm: 750, sigmaUpMm: 4 }, dish)).toBe(true)
    expect(isExpected({ sigmaRightMm: 4, sigmaUpMm: 751 }, dish)).toBe(false)
  })
})

describe('faceReach', () => {
  it('holds six degrees and the feed, never more than the dish', () => {
    expect(faceReach(dish, false)).toBeCloseTo(1200 * Math.tan(Math.PI / 30) + 90, 9)
    expect(faceReach(dish, true)).toBe(1500)
    expect(faceReach({ diameterM: 0.3, focalRatio: 2, feedDiameterMm: 200 }, false)).toBe(150)
  })
})

describe('a tap on the face', () => {
  it('writes what is seen from there; read again, it is the same place of the dish, in both units and from both sides', () => {
    for (const unit of ['mm', 'in'] as const)
      for (const view of ['behind', 'front'] as const)
        for (const spot of [
          { rightMm: -22, upMm: 11 },
          { rightMm: 31, upMm: -4 },
          { rightMm: 0, upMm: 0 },
        ]) {
          const read = shadowOf({ ...form(), unit, view, ...fieldsOfSpot(spot, view, unit) })!
          expect(read.rightMm).toBeCloseTo(spot.rightMm, unit === 'mm' ? 9 : 0)
          expect(read.upMm).toBeCloseTo(spot.upMm, unit === 'mm' ? 9 : 0)
        }
  })
  it('is mirrored in words alone: left from behind is right from in front', () => {
    const spot = { rightMm: -22, upMm: 11 }
    expect(fieldsOfSpot(spot, 'behind', 'mm')).toMatchObject({ shadowSide: 'left', shadowAcross: '22' })
    expect(fieldsOfSpot(spot, 'front', 'mm')).toMatchObject({ shadowSide: 'right', shadowHeight: 'above' })
  })
  it('takes the time each time anew, but never over a time typed by hand', () => {
    const first = tapped(form({ view: 'behind' }), { rightMm: 1, upMm: 2 }, NOW, null)
    expect(first.change.utc).toBe('2026-06-10 10:00:30')
    const second = tapped(form({ view: 'behind', ...first.change }), { rightMm: 3, upMm: 2 }, NOW + 60_000, first.taken)
    expect(second.change.utc).toBe('2026-06-10 10:01:30')
    const typed = tapped(
      form({ view: 'behind', utc: '2026-06-10 09:59:00' }),
      { rightMm: 3, upMm: 2 },
      NOW,
      first.taken,
    )
    expect(typed.change.utc).toBeUndefined()
    expect(typed.change.shadowAcross).toBe('3')
  })
  it('does nothing before it is said where one stands', () => {
    expect(tapped(form(), { rightMm: 1, upMm: 2 }, NOW, null).change).toEqual({})
  })
})
