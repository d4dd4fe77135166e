import { describe, expect, it } from 'vitest'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import { dialDrawing } from '../../../src/ui/kit/dialdrawing-geometry.ts'

const ends = (d: string) => [...d.matchAll(/[ML]([-\d.]+) ([-\d.]+)/g)].map(m => [Number(m[1]), Number(m[2])] as const)
const tip = (kind: MountKind, lowerDeg: number, upperDeg: number) =>
  ends(dialDrawing({ kind, latDeg: 47, headingDeg: 180, lowerDeg, upperDeg }).beam).at(-1)!

describe('dialDrawing', () => {
  it.each(MOUNT_KINDS)('%s: both words lie inside the picture, and nothing is NaN, north and south', kind => {
    for (const latDeg of [47, -34, 90]) {
      const s = dialDrawing({ kind, latDeg })
      expect(JSON.stringify(s)).not.toMatch(/NaN|null/)
      for (const axis of [s.lower, s.upper]) {
        expect(axis.x).toBeGreaterThan(0)
        expect(axis.x).toBeLessThan(s.width)
        expect(axis.y).toBeLessThan(s.height)
      }
    }
  })
  it('the lower axis of el-over-az stands upright, its upper axis lies nearly level', () => {
    const s = dialDrawing({ kind: 'el-over-az', latDeg: 47 })
    const [a, b] = ends(s.lower.line)
    expect(a![0]).toBeCloseTo(b![0], 1)
    const [c, d] = ends(s.upper.line)
    expect(Math.abs(c![1] - d![1])).toBeLessThan(0.35 * Math.abs(c![0] - d![0]))
  })
  it('the beam rises with elevation and with tilt', () => {
    expect(tip('el-over-az', 180, 60)[1]).toBeLessThan(tip('el-over-az', 180, 20)[1])
    expect(tip('az-over-el', 60, 0)[1]).toBeLessThan(tip('az-over-el', 20, 0)[1])
  })
  it('swing to the right and X to the right go right in the picture, seen from behind', () => {
    expect(tip('az-over-el', 20, 30)[0]).toBeGreaterThan(tip('az-over-el', 20, -30)[0])
    expect(tip('x-y', 40, 0)[0]).toBeGreaterThan(tip('x-y', -40, 0)[0])
  })
  it('says which axis carries which, and which way each counts', () => {
    expect(dialDrawing({ kind: 'x-y', latDeg: 47 }).words[0]).toBe(
      'The lower axis, a solid line, is fixed to the ground and reads X, counting as the dish tips to the right.',
    )
  })
})
