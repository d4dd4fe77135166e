import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { APART_DEG, ROSE_SIZE, rose } from '../../../src/ui/north/rose-geometry.ts'
import { someOf } from '../../helpers/some.ts'

// Evenly round the ring: doubles drawn by their bits are nearly all close to zero.
const az = fc.integer({ min: 0, max: 3600 }).map(tenths => tenths / 10)

describe('rose', () => {
  it('has north up and east at the right; the shadow lies opposite the Sun', () => {
    const s = rose({ sunAzDeg: 180, shadowAzDeg: 0, headingDeg: 90 })
    const [sun, shadow, mount] = s.lines
    expect(sun!.y2).toBeGreaterThan(ROSE_SIZE / 2)
    expect(shadow!.y2).toBeLessThan(ROSE_SIZE / 2)
    expect(mount!.x2).toBeGreaterThan(ROSE_SIZE / 2)
    expect(s.winds.map(w => w.word)).toEqual(['N', 'E', 'S', 'W'])
    expect(s.winds[1]!.x).toBeGreaterThan(s.winds[3]!.x)
    expect(s.words).toEqual(['The Sun stands at 180°, the shadow falls toward 0°, the mount faces 90°; true azimuths.'])
  })

  it('draws the mount alone when the Sun is down', () => {
    const s = rose({ sunAzDeg: null, shadowAzDeg: null, headingDeg: 175 })
    expect(s.lines.map(l => l.kind)).toEqual(['mount'])
  })

  it('no word lies on another, on a letter or outside, wherever Sun and mount stand', () => {
    fc.assert(
      fc.property(az, az, (sun, heading) => {
        const s = rose({ sunAzDeg: sun, shadowAzDeg: (sun + 180) % 360, headingDeg: heading })
        // Words of at most six letters, 16 units high.
        const boxes = s.labels.map(l => ({ x: l.x, y: l.y, half: 4.6 * l.word.length }))
        for (const [i, a] of someOf(boxes.entries())) {
          expect(a.x - a.half).toBeGreaterThan(0)
          expect(a.x + a.half).toBeLessThan(ROSE_SIZE)
          for (const b of boxes.slice(i + 1))
            expect(Math.abs(a.x - b.x) < a.half + b.half && Math.abs(a.y - b.y) < 16).toBe(false)
          for (const w of someOf(s.winds)) expect(Math.hypot(a.x - w.x, a.y - w.y)).toBeGreaterThan(30)
        }
      }),
      { numRuns: 2000 },
    )
    expect(APART_DEG).toBeGreaterThan(20)
  })
})
