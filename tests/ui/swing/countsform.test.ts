import { describe, expect, it } from 'vitest'
import { calibratedPriors } from '../../../src/core/calibration/calibrated.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import {
  type CountsForm,
  countsCalibration,
  emptyCounts,
  finenessOf,
  keptStops,
  perCountOf,
} from '../../../src/ui/swing/countsform.ts'
import { perCountShapes } from '../../../src/ui/swing/percount-geometry.ts'
import { calibrationRows, finenessRows, noCalibration, playOdd, zeroOpen } from '../../../src/ui/swing/words.ts'
import { plain } from '../../helpers/plain.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

const station = (countsPerDeg = 9): StationRecord => {
  const s = smallBook().stations[0] as StationRecord
  s.mount.upper = { readout: { type: 'linear-counts', zeroCounts: 0, countsPerDeg }, minReading: 0, maxReading: 900 }
  return s
}
const form = (rows: [string, string, '' | '+' | '-'][], more: Partial<CountsForm> = {}): CountsForm => ({
  ...emptyCounts('upper'),
  rows: rows.map(([reading, angle, from]) => ({ reading, angle, from })),
  ...more,
})

describe('degrees per count', () => {
  it('from stops typed with comma or dot, half rows left out', () => {
    const f = form([
      ['0', '-10', ''],
      ['300', '20,0', ''],
      ['600', '50.0', ''],
      ['700', '', ''],
    ])
    const c = countsCalibration(f, station())!
    expect(c.kind).toBe('calibrated')
    if (c.kind !== 'calibrated') return
    const rows = calibrationRows(station().mount, 'upper', c).map(r => `${r.label}: ${plain(r.value)}`)
    expect(rows[0]).toMatch(/^Counts per degree: 10\.0\d* ± 0\.0\d+, 9\.0\d* before$/)
    expect(rows[1]).toMatch(/^Reads at zero: 100(\.0)? ± [12](\.\d)? counts, 0(\.0)? before$/)
    expect(keptStops(f, station())).toEqual([
      { reading: 0, angleDeg: -10, sigmaDeg: 0.15 },
      { reading: 300, angleDeg: 20, sigmaDeg: 0.15 },
      { reading: 600, angleDeg: 50, sigmaDeg: 0.15 },
    ])
  })

  it('leaves the zero open where only differences count', () => {
    const c = countsCalibration(
      form(
        [
          ['0', '3', ''],
          ['600', '63', ''],
        ],
        { what: 'beside' },
      ),
      station(),
    )!
    expect(c.kind === 'calibrated' && zeroOpen(c, 'swing')).toBe(
      'The swing zero stays open: only differences were measured.',
    )
  })

  it('tells lost motion in degrees and beamwidths where both sides were driven from', () => {
    const f = form([
      ['0', '0.3', '+'],
      ['0', '-0.3', '-'],
      ['600', '60.3', '+'],
      ['600', '59.7', '-'],
    ])
    const c = countsCalibration(f, station())!
    if (c.kind !== 'calibrated') throw new Error(c.kind)
    const fine = finenessOf(station(), 'upper', c)
    const rows = finenessRows(fine.count, c.play, fine.beam)
    // Of the station's two feeds the narrower beam counts, 2.0° wide.
    expect(plain(rows[0]!.value)).toMatch(/^0\.100°, 0\.05 of the beamwidth$/)
    expect(plain(rows[1]!.value)).toMatch(/^0\.5\d ± 0\.1\d?°, 0\.2\d of the beamwidth$/)
  })

  it('asks whether the sides are exchanged where lost motion would be less than nothing, and puts none in', () => {
    const f = form([
      ['0', '-0.5', '+'],
      ['0', '0.5', '-'],
      ['600', '59.5', '+'],
      ['600', '60.5', '-'],
    ])
    const c = countsCalibration(f, station())!
    if (c.kind !== 'calibrated') throw new Error(c.kind)
    expect(playOdd(c.play)).toContain('are the two sides swapped?')
    expect(calibratedPriors('upper', c).map(p => p.id)).not.toContain('upperPlay')
  })

  it('says that the angles run backward instead of turning the readout round in silence', () => {
    const c = countsCalibration(
      form([
        ['0', '0', ''],
        ['600', '-60', ''],
      ]),
      station(),
    )!
    expect(noCalibration(station().mount, 'upper', c)).toContain('falls where the swing readout says it rises')
  })

  it('says nothing while how sure it is cannot be read', () => {
    expect(
      countsCalibration(
        form(
          [
            ['0', '0', ''],
            ['600', '60', ''],
          ],
          { sigma: 'x' },
        ),
        station(),
      ),
    ).toBeNull()
  })
})

describe('the curve', () => {
  it('has the least and the most at their readings, each stop on it, and says so in words', () => {
    const s = perCountShapes({
      curve: [0, 100, 200, 300, 400].map((reading, k) => ({ reading, degPerCount: [0.2, 0.12, 0.1, 0.15, 0.3][k]! })),
      stops: [
        { id: 'a', reading: 150, leftDeg: -0.07 },
        { id: 'out', reading: 900, leftDeg: 0 },
      ],
    })
    expect(s.words[0]).toBe(
      'One count turns the axis by 0.10° at 200 counts and by 0.30° at 400 counts: 3.0 times as far.',
    )
    expect(s.marks.map(m => m.id)).toEqual(['a'])
    expect(s.marks[0]!.says).toContain('0.07° off the curve')
    const { x, y, width, height } = s.frame
    expect(s.marks[0]!.x).toBeCloseTo(x + (width * 150) / 400, 0)
    for (const line of someOf(s.lines)) {
      expect(line.y).toBeGreaterThanOrEqual(y - 0.1)
      expect(line.y).toBeLessThanOrEqual(y + height + 0.1)
    }
    expect(s.lines[0]!.label).toBe('0.0°')
  })

  it('of counts that are all alike says that they are', () => {
    const f = form([
      ['0', '0', ''],
      ['600', '60', ''],
    ])
    const s = perCountShapes(perCountOf(station(10), f, countsCalibration(f, station(10)))!)
    expect(s.words).toEqual(['One count turns the axis by 0.100° all along the stroke.'])
    expect(s.marks).toHaveLength(2)
  })
})
