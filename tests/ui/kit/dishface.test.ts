import { describe, expect, it } from 'vitest'
import { dishFace, spotAt, spotWords } from '../../../src/ui/kit/dishface-geometry.ts'
import { plain } from '../../helpers/plain.ts'

const face = {
  size: 360,
  view: 'behind' as const,
  diameterMm: 3000,
  feedDiameterMm: 180,
  shadow: { rightMm: -22, upMm: 11 },
}

describe('dishFace', () => {
  it('from behind puts left on the left and up on top; from in front it mirrors left and right alone', () => {
    const behind = dishFace(face)
    const front = dishFace({ ...face, view: 'front' })
    expect(behind.disc!.x).toBeLessThan(behind.centre)
    expect(behind.disc!.y).toBeLessThan(behind.centre)
    expect(front.disc!.x - front.centre).toBeCloseTo(behind.centre - behind.disc!.x, 9)
    expect(front.disc!.y).toBe(behind.disc!.y)
    expect([behind.leftWord, front.leftWord]).toEqual(['left', 'right'])
    expect(front.caption).toContain('swapped')
  })
  it('draws the middle larger by a whole number, and the scale bar to the drawing', () => {
    const s = dishFace(face)
    // 150 units of rim radius for 1500 mm; disc 90 mm and offset 24.6 mm fit 0.55 × 1500 mm 7.2 times.
    expect(s.magnified).toBe(7)
    expect(s.disc!.x).toBeCloseTo(180 - 22 * 0.7, 1)
    expect(s.disc!.r).toBeCloseTo(63, 9)
    expect(s.scaleBar.x2 - s.scaleBar.x1).toBeCloseTo(100 * 0.7, 1)
    expect(plain(s.scaleBar.text)).toBe('100 mm')
  })
  it('never lets the shadow leave the rim', () => {
    const s = dishFace({ ...face, shadow: { rightMm: 4000, upMm: 0 } })
    expect(s.magnified).toBe(1)
    expect(s.disc!.x).toBe(330)
    expect(plain(s.words[1]!)).toContain('4000 mm right of the vertex')
  })
  it('links the shadow to where it should be, unless it is there', () => {
    expect(dishFace(face).link).not.toBeNull()
    expect(dishFace({ ...face, shadow: { rightMm: 0, upMm: 0 } }).link).toBeNull()
    expect(dishFace({ ...face, shadow: null }).disc).toBeNull()
  })
})

describe('a face that a person taps on', () => {
  it('names the sides as they see them', () => {
    const front = dishFace({ ...face, view: 'front', asSeen: true })
    expect([front.leftWord, front.rightWord]).toEqual(['left', 'right'])
    expect(front.caption).toBe('Seen from in front of the dish')
    expect(front.disc).toEqual(dishFace({ ...face, view: 'front' }).disc)
  })
})

describe('the expected edge, the plumb line and taps', () => {
  const wide = { ...face, reachMm: 300, rollDeg: 30 }
  it('a tap says the place that is drawn there, on both sides of the dish', () => {
    for (const view of ['behind', 'front'] as const) {
      const drawn = dishFace({ ...wide, view, shadow: { rightMm: -120, upMm: 75 } }).disc!
      const spot = spotAt({ ...wide, view }, drawn.x, drawn.y)!
      expect(spot.rightMm).toBeCloseTo(-120, -0.5)
      expect(spot.upMm).toBeCloseTo(75, -0.5)
    }
    expect(spotAt(wide, 5, 5)).toBeNull()
    expect(Object.is(spotAt(wide, 180, 180)!.upMm, 0)).toBe(true)
  })
  it('keeps its scale while the shadow is moved about', () => {
    const at = (rightMm: number) => dishFace({ ...wide, shadow: { rightMm, upMm: 0 } }).magnified
    expect([at(0), at(250)]).toEqual([5, 5])
  })
  it('draws straight up where it stands from the UP mark: a mark turned clockwise leaves it to the left, from behind', () => {
    const behind = dishFace(wide).plumb!
    const front = dishFace({ ...wide, view: 'front' }).plumb!
    expect(behind.x2).toBeLessThan(180)
    expect(front.x2 - 180).toBeCloseTo(180 - behind.x2, 9)
    expect(Math.atan2(180 - behind.x2, 180 - behind.y2)).toBeCloseTo(Math.PI / 6, 2)
    expect(dishFace({ ...wide, rollDeg: 0.4 }).plumb).toBeNull()
    expect(dishFace({ ...wide, rollDeg: null }).plumb).toBeNull()
  })
  it('draws the edge to scale with the width of its blur', () => {
    const edge = {
      outline: [
        { rightMm: 90, upMm: 0 },
        { rightMm: 0, upMm: 90 },
      ],
      blurMm: 5,
    }
    // 150 units of radius for 1500 mm, 5 times larger: half a unit a millimetre.
    expect(dishFace({ ...wide, edge }).edge).toEqual({ path: 'M225 180L180 135Z', blur: 5 })
    expect(dishFace({ ...wide, view: 'front', edge }).edge!.path).toBe('M135 180L180 135Z')
  })
})

describe('spotWords', () => {
  it('says both parts, one, or the vertex', () => {
    expect(plain(spotWords({ rightMm: -22, upMm: 11 }, 'mm'))).toBe('22 mm left of and 11 mm above the vertex')
    expect(plain(spotWords({ rightMm: 0.2, upMm: -3 }, 'mm'))).toBe('3 mm below the vertex')
    expect(spotWords({ rightMm: 0.2, upMm: 0.1 }, 'mm')).toBe('on the vertex')
    expect(plain(spotWords({ rightMm: 25.4, upMm: 0 }, 'in'))).toBe('1.00 in right of the vertex')
  })
})
