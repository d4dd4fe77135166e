import { describe, expect, it } from 'vitest'
import { compassOf, headingFromAngles } from '../../src/device/compass.ts'

const event = (type: string, fields: object): Event => ({ type, ...fields }) as unknown as Event

describe('headingFromAngles', () => {
  it('flat, top pointing west: alpha 90 is a heading of 270 (W3C Device Orientation, example)', () => {
    expect(headingFromAngles(90, 0)).toBe(270)
    expect(headingFromAngles(0, 0)).toBe(0)
  })
  it('says nothing of a phone that stands on its edge, and turns round one held overhead', () => {
    expect(headingFromAngles(10, 85)).toBeNull()
    expect(headingFromAngles(0, 175)).toBe(180)
  })
})

describe('compassOf', () => {
  it('takes a heading of 0 for a heading, and a negative accuracy for none', () => {
    expect(compassOf(event('deviceorientation', { webkitCompassHeading: 0, webkitCompassAccuracy: 15 }))).toEqual({
      headingDeg: 0,
      accuracyDeg: 15,
    })
    expect(compassOf(event('deviceorientation', { webkitCompassHeading: 0, webkitCompassAccuracy: -1 }))).toBeNull()
  })
  it('never takes alpha of a relative event: its zero is arbitrary', () => {
    expect(compassOf(event('deviceorientation', { alpha: 90, beta: 0, absolute: false }))).toBeNull()
    expect(compassOf(event('deviceorientation', { alpha: 90, beta: 0 }))).toBeNull()
    expect(compassOf(event('deviceorientationabsolute', { alpha: 90, beta: 0 }))?.headingDeg).toBe(270)
    expect(compassOf(event('deviceorientationabsolute', { alpha: null, beta: null }))).toBeNull()
  })
})
