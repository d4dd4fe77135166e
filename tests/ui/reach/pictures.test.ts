import { describe, expect, it } from 'vitest'
import type { Hindrance } from '../../../src/core/plan/hindrance.ts'
import { willReach } from '../../../src/core/questions.ts'
import { hindranceShort } from '../../../src/ui/kit/hindrancewords.ts'
import { emptyReachForm, withKind } from '../../../src/ui/reach/form.ts'
import { monthsShapes } from '../../../src/ui/reach/months-geometry.ts'
import { hatchOf, skyShapes } from '../../../src/ui/reach/sky-geometry.ts'
import {
  differenceDigits,
  differenceWords,
  lossHead,
  lostSkyWords,
  monthsWords,
  shareWords,
  skylineWords,
  variantWords,
  whereLost,
} from '../../../src/ui/reach/words.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { someOf } from '../../helpers/some.ts'
import { weir } from '../../helpers/stations.ts'

const of = (latDeg: number) => {
  const { site, mount } = weir('az-over-el', latDeg)
  return answered(willReach({ site, mount, year: 2026, minElevationDeg: 10 }))
}

describe('skyShapes', () => {
  const strokes = (d: string) => d.match(/M/g)?.length ?? 0

  it('hatches every cell that is lost, by what takes it, and none that is reached', () => {
    const value = of(50)
    const s = skyShapes(value, 50, h => hindranceShort({ kind: 'az-over-el' }, h))
    const cells = new Map<string, number>()
    for (const h of value.sky.flat()) if (h !== null) cells.set(hatchOf(h), (cells.get(hatchOf(h)) ?? 0) + 1)
    for (const { hatch, d } of someOf(s.hatches))
      expect([hatch, strokes(d)]).toEqual([hatch, cells.get(hatch)! * (hatch === 'level' ? 2 : 1)])
    expect(s.hatches.length).toBe(cells.size)
    expect(cells.size).toBeGreaterThanOrEqual(3)
    expect(s.labels.map(l => l.word)).toEqual(
      expect.arrayContaining(['minimum elevation', 'swing low end', 'swing high end']),
    )
  })

  it('keeps words inside, off each other, and puts the side of the equator in the middle', () => {
    for (const latDeg of [50, -34]) {
      const s = skyShapes(of(latDeg), latDeg, h => hindranceShort({ kind: 'az-over-el' }, h))
      for (const [k, l] of someOf(s.labels.entries())) {
        expect(l.x - 4 * l.word.length).toBeGreaterThanOrEqual(s.frame.x - 0.1)
        expect(l.x + 4 * l.word.length).toBeLessThanOrEqual(s.frame.x + s.frame.width + 0.1)
        for (const other of s.labels.slice(k + 1))
          expect(
            Math.abs(l.y - other.y) >= 17 || Math.abs(l.x - other.x) >= 4 * (l.word.length + other.word.length),
          ).toBe(true)
      }
      expect(s.winds.map(w => w.word).join('')).toBe(latDeg < 0 ? 'SWNE' : 'NESW')
      // At the Moon's farthest it culminates at 90° - |latitude| ± 28.7°.
      const tops = s.paths.map(d => Math.min(...[...d.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map(m => Number(m[1]))))
      const els = tops.map(y => (90 * (s.frame.y + s.frame.height - y)) / s.frame.height).sort((a, b) => a - b)
      const equator = 90 - Math.abs(latDeg)
      expect(Math.abs(els[0]! - (equator - 28.7))).toBeLessThan(0.5)
      expect(Math.abs(els[1]! - (equator + 28.7))).toBeLessThan(0.5)
    }
  })

  it('has a hatch for each thing that hinders', () => {
    const all: Hindrance[] = [
      'floor',
      'mask',
      'no-pose',
      'lower-min',
      'lower-max',
      'lower-triangle',
      'upper-min',
      'upper-max',
    ]
    expect(all.map(hatchOf)).toEqual(['level', 'level', 'dots', 'rising', 'rising', 'dots', 'falling', 'falling'])
  })
})

describe('monthsShapes', () => {
  it('draws bars in proportion, of both mounts against the longest', () => {
    const a = Array.from({ length: 12 }, (_, k) => 10 * (k + 1))
    const s = monthsShapes(
      a,
      a.map(h => h / 2),
    )
    const [first, last] = [s.rows[0]!, s.rows[11]!]
    expect(last.bars[0]!.width / first.bars[0]!.width).toBeCloseTo(12, 0)
    expect(last.bars[0]!.width / last.bars[1]!.width).toBeCloseTo(2, 1)
    expect(last.hours).toBe('120 | 60')
    expect(monthsShapes(a, null).rows.every(row => row.bars.length === 1)).toBe(true)
    expect(
      monthsShapes(
        a.map(() => 0),
        null,
      ).rows[0]!.bars[0]!.width,
    ).toBe(0)
  })
})

describe('the words', () => {
  it('say the difference with its sign and in a sentence', () => {
    expect([differenceDigits(198), differenceDigits(-12), differenceDigits(0.2)]).toEqual(['+198', '−12', '0'])
    expect(plain(differenceWords(1800, 1998))).toBe('B gets 198 h more, 11 %.')
    expect(plain(differenceWords(1800, 900))).toBe('B gets 900 h less, 50 %.')
    expect(differenceWords(1800.2, 1800.4)).toBe('Both get the same hours.')
    expect(plain(differenceWords(0, 10))).toBe('B gets 10 h more.')
    expect([shareWords(0.001), shareWords(0.184)].map(plain)).toEqual(['under 1 %', '18 %'])
  })

  it('say what is lost, where, and to what', () => {
    const loss = (sectors: { fromDeg: number; toDeg: number }[]) => ({
      to: 'upper-max' as const,
      hours: 100,
      share: 0.1,
      sectors,
      elDeg: { min: 9.6, max: 45.2 },
    })
    expect(whereLost(loss([{ fromDeg: 230, toDeg: 300 }]))).toBe('azimuth 230 to 300°; elevation 10 to 45°')
    expect(whereLost(loss([{ fromDeg: 340, toDeg: 380 }]))).toBe('azimuth 340 to 20°; elevation 10 to 45°')
    expect(whereLost(loss([{ fromDeg: 330, toDeg: 360 }]))).toBe('azimuth 330 to 360°; elevation 10 to 45°')
    expect(whereLost(loss([{ fromDeg: 0, toDeg: 360 }]))).toBe('all round; elevation 10 to 45°')
    expect(lossHead('az-over-el', loss([]))).toBe('The highest reading of the swing')
    expect(lostSkyWords('az-over-el', { ...of(50), losses: [] })).toEqual(['Nothing: the mount reaches all of it.'])
    expect(monthsWords(of(50), null)).toHaveLength(12)
  })

  it('say what was typed', () => {
    expect(variantWords(emptyReachForm().a)).toBe('not yet')
    expect(variantWords({ ...withKind(emptyReachForm().a, 'az-over-el', 50), offset: '2' })).toBe(
      'Tilt, then swing: tilt 0 to 80°, swing −60 to 60°, heading 180°, offset 2°',
    )
    expect(skylineWords(emptyReachForm())).toBe('from 8° up, clear')
    expect(skylineWords({ ...emptyReachForm(), minEl: '5', skyline: ['', '', '12', '', '', '', '', ''] })).toBe(
      'from 5° up; east 12°',
    )
  })
})
