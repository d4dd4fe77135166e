import { describe, expect, it } from 'vitest'
import { armCurve, type DrawnLevel, type ScanDrawing, scanShapes } from '../../../src/ui/scan/scan-geometry.ts'
import { someOf } from '../../helpers/some.ts'

const T = Date.UTC(2026, 4, 1, 10, 0, 0)
const level = (x: number, l: number, state: DrawnLevel['state'] = 'kept'): DrawnLevel => ({
  id: String(x),
  x,
  level: l,
  state,
})
const drawing = (more: Partial<ScanDrawing> = {}): ScanDrawing => ({
  along: { kind: 'time', startMs: T },
  scale: 'dB',
  levels: [level(0, 0), level(600, 5), level(1200, 0.2)],
  curve: [],
  gaps: [],
  peak: null,
  expected: null,
  ...more,
})

describe('scanShapes', () => {
  it('puts time from left to right and louder up, and says the same in words', () => {
    const { marks, feet, words, frame } = scanShapes(drawing())
    expect(marks[1]!.x).toBeCloseTo(frame.x + frame.width / 2, 0)
    expect(marks[1]!.y).toBeLessThan(marks[0]!.y)
    expect(feet.map(f => f.label)).toEqual(['10:00:00', '10:20:00'])
    expect(words[0]).toMatch(/^3\sreadings from 10:00:00 to 10:20:00: lowest 0\sdB, highest 5\sdB at 10:10:00\.$/)
  })

  it('shows left out and set aside by shape and word; what is left out does not stretch the scale', () => {
    const { marks, words, lines } = scanShapes(
      drawing({ levels: [level(0, 0), level(300, 900, 'out'), level(600, 5), level(900, 4, 'aside')] }),
    )
    expect(marks.map(m => m.shape)).toEqual(['used', 'excluded', 'used', 'outlier'])
    expect(marks[1]!.says).toMatch(/^10:05:00: .*, left out\.$/)
    expect(words.join(' ')).toMatch(/1\sreading not counted\. 1\sreading left out by hand\./)
    expect(Number(lines.at(-1)!.label)).toBeLessThan(10)
  })

  it('draws gap, peak and expected peak inside the frame, their words too', () => {
    const s = scanShapes(drawing({ gaps: [{ from: 700, to: 900 }], peak: { x: 630, sigma: 20 }, expected: 1500 }))
    const right = s.frame.x + s.frame.width
    expect(s.gaps[0]!.x + s.gaps[0]!.width).toBeLessThan(right)
    expect(s.peak!.from).toBeLessThan(s.peak!.x)
    expect(s.expected!.x).toBeGreaterThan(right - 10)
    expect(s.expected!.label).toBeLessThan(right - 30)
    expect(s.words.join(' ')).toMatch(/peak is at 10:10:30\. 1\sgap without readings\./)
  })

  it('thins a long log, but never what is not counted', () => {
    const levels = Array.from({ length: 3000 }, (_, k) => level(k, Math.sin(k), k === 7 ? 'aside' : 'kept'))
    const { marks } = scanShapes(drawing({ levels }))
    expect(marks.length).toBeLessThan(160)
    expect(marks.filter(m => m.shape === 'outlier').length).toBe(1)
  })

  it('stands one level, equal levels, and none', () => {
    expect(scanShapes(drawing({ levels: [] })).words).toEqual(['There is no reading to draw yet.'])
    for (const levels of [[level(3, 2)], [level(3, 2), level(4, 2)]])
      for (const m of someOf(scanShapes(drawing({ levels, scale: 'linear' })).marks)) {
        expect(Number.isFinite(m.x)).toBe(true)
        expect(Number.isFinite(m.y)).toBe(true)
      }
  })
})

describe('armCurve', () => {
  it('runs through levels of a Gaussian on a base of its own, in dB and linear alike', () => {
    const power = (x: number) => 2.2 * 2 ** (-4 * (x / 5.4) ** 2) + 1.3
    for (const scale of ['dB', 'linear'] as const) {
      const shown = (p: number) => (scale === 'dB' ? 10 * Math.log10(p) : p)
      const samples = [-5, -2.5, 0.3, 2.6, 5].map(x => ({ placeDeg: x, level: shown(power(x)), isKept: true }))
      const curve = armCurve([...samples, { placeDeg: 1, level: shown(99), isKept: false }], 5.4, scale)
      for (const c of someOf(curve)) expect(c.level).toBeCloseTo(shown(power(c.x)), 9)
    }
  })
  it('is left out where three levels are not there', () => {
    expect(armCurve([{ placeDeg: 0, level: 1, isKept: true }], 5, 'dB')).toEqual([])
  })
})
