/** The face in the dish at hand: what is drawn lies where the shadow lies. */
import { describe, expect, it } from 'vitest'
import { aimed } from '../../../src/core/rehearse/aimed.ts'
import { still } from '../../../src/core/rehearse/drives.ts'
import { worldOf } from '../../../src/core/rehearse/world.ts'
import { FACE_SIZE, reachOf, shadowFace } from '../../../src/ui/rehearse/shadowface-geometry.ts'
import { someOf } from '../../helpers/some.ts'

const world = worldOf({ seed: 3, difficulty: 'beginner', kind: 'az-over-el', startUtc: '2026-05-01T10:00:00Z' })
const noon = Date.UTC(2026, 4, 1, 11)
const at = aimed(world.mountAt(noon), 'shadow', 'a', world.bodyAt('sun', noon, 'optical'))!
const shadow = world.shadow({ lower: still(at.lower), upper: still(at.upper) }, noon)!

describe('the drawn shadow', () => {
  it('lies about the vertex when the Sun stands on the shadow line', () => {
    const { soft } = shadowFace(shadow, 3000)
    const numbers = [...soft.matchAll(/[\d.]+/g)].map(m => Number(m[0]))
    const xs = numbers.filter((_, k) => k % 2 === 0)
    const ys = numbers.filter((_, k) => k % 2 === 1)
    const middle = (list: number[]) => (Math.min(...list) + Math.max(...list)) / 2
    expect(middle(xs)).toBeCloseTo(FACE_SIZE / 2, 0)
    expect(middle(ys)).toBeCloseTo(FACE_SIZE / 2, 0)
  })

  it('has its lines every 50 mm about the vertex, and all of the shadow within them', () => {
    const { lines, scale } = shadowFace(shadow, 3000)
    expect(lines.find(l => l.mm === 0)!.at).toBe(FACE_SIZE / 2)
    expect(lines[1]!.at - lines[0]!.at).toBeCloseTo(50 * scale, 9)
    const reach = reachOf(shadow, 3000)
    for (const [x, y] of someOf(shadow.penumbra)) expect(Math.max(Math.abs(x), Math.abs(y))).toBeLessThan(reach)
  })
})
