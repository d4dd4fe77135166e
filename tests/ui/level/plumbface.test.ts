import { describe, expect, it } from 'vitest'
import { upFromAngles } from '../../../src/core/level/upvector.ts'
import { radFromDeg } from '../../../src/core/units.ts'
import { plumbFace } from '../../../src/ui/level/plumbface-geometry.ts'
import { chance } from '../../helpers/random.ts'

const face = (beta: number, gamma: number) => plumbFace(upFromAngles(radFromDeg(beta), radFromDeg(gamma)))

describe('plumbFace', () => {
  it('hangs in the middle when all is level, in each of the six ways to lie', () => {
    for (const [beta, gamma, lies] of [
      [0, 0, 'on its back'],
      [180, 0, 'on its face'],
      [90, 0, 'upright'],
      [-90, 0, 'upside down'],
      [0, 90, 'on its right edge'],
      [0, -90, 'on its left edge'],
    ] as const) {
      const s = face(beta, gamma)
      expect(s.lies).toBe(lies)
      expect([s.bob.x, s.bob.y]).toEqual([s.centre, s.centre])
      expect(s.words[1]).toBe('Level both ways.')
    }
  })
  it('hangs toward the bottom when the top is raised, to the right when the right edge is low', () => {
    const top = face(3, 0)
    expect(top.bob.x).toBe(top.centre)
    expect(top.bob.y).toBeGreaterThan(top.centre)
    expect(top.words[1]).toBe('bottom low by 3.0°.')
    const right = face(0, 3)
    expect(right.bob.x).toBeGreaterThan(right.centre)
    expect(right.words[1]).toBe('right edge low by 3.0°.')
  })
  it('names the sides of the phone as they lie in the drawing, opposite to each other', () => {
    expect(face(0, 0).sides).toEqual({ left: 'left edge', right: 'right edge', above: 'top', below: 'bottom' })
    expect(face(180, 0).sides).toEqual({ left: 'right edge', right: 'left edge', above: 'top', below: 'bottom' })
    expect(face(90, 0).sides).toEqual({ left: 'left edge', right: 'right edge', above: 'back', below: 'screen' })
    expect(face(0, 90).sides).toEqual({ left: 'bottom', right: 'top', above: 'back', below: 'screen' })
  })
  it('shows a tenth of a degree 10 % of the way out, and stops at the rim with an arrowhead beyond 10°', () => {
    const s = face(0.1, 0)
    expect((s.bob.y - s.centre) / s.rimR).toBeCloseTo(0.1, 2)
    const far = face(30, 0)
    expect(far.bob).toMatchObject({ over: true, x: far.centre, y: far.centre + far.rimR, turnDeg: 180 })
    expect(face(9.9, 0).bob.over).toBe(false)
  })
  it('keeps the bob inside the rim and its words whole, whatever the attitude', () => {
    const luck = chance(6)
    for (let k = 0; k < 2000; k++) {
      const s = face(luck.between(-180, 180), luck.between(-90, 90))
      expect(Math.hypot(s.bob.x - s.centre, s.bob.y - s.centre)).toBeLessThanOrEqual(s.rimR + 0.1)
      expect(s.words.join(' ')).not.toMatch(/NaN|undefined|–/)
    }
  })
})
