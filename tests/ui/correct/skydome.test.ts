import { describe, expect, it } from 'vitest'
import { domePoint, shareOfSky, skyDome } from '../../../src/ui/correct/skydome-geometry.ts'
import { nearestMark } from '../../../src/ui/kit/marks.ts'
import { someOf } from '../../helpers/some.ts'

const bare = { paths: [], sightings: [] }

describe('domePoint', () => {
  it('puts the zenith in the middle, north up, east to the right, as on a map', () => {
    expect(domePoint({ azDeg: 123, elDeg: 90 }, 100, 80)).toEqual([100, 100])
    const at = (azDeg: number) => domePoint({ azDeg, elDeg: 0 }, 100, 80).map(v => Math.round(v))
    expect([at(0), at(90), at(180), at(270)]).toEqual([
      [100, 20],
      [180, 100],
      [100, 180],
      [20, 100],
    ])
  })
  it('puts 45° half way out', () => expect(domePoint({ azDeg: 0, elDeg: 45 }, 100, 80)[1]).toBe(60))
})

describe('skyDome', () => {
  it('cuts a path at the horizon, between its points and through north', () => {
    const s = skyDome({
      ...bare,
      size: 248,
      paths: [
        {
          body: 'moon',
          label: 'Moon',
          points: [
            { azDeg: 350, elDeg: -10 },
            { azDeg: 10, elDeg: 10 },
            { azDeg: 30, elDeg: -10 },
          ],
        },
      ],
    })
    // Radius 100 about (124, 124): it rises due north and sets at azimuth 20°.
    expect(s.paths[0]!.d.startsWith('M124 24L')).toBe(true)
    expect(
      s.paths[0]!.d.endsWith(
        `L${Math.round(10 * (124 + 100 * Math.sin(Math.PI / 9))) / 10} ${Math.round(10 * (124 - 100 * Math.cos(Math.PI / 9))) / 10}`,
      ),
    ).toBe(true)
    expect(s.words).toContain('Moon: from the north to the north, highest 10° in the north.')
  })
  it('says so when a body stays below the horizon, and draws nothing', () => {
    const s = skyDome({ ...bare, paths: [{ body: 'sun', label: 'Sun', points: [{ azDeg: 0, elDeg: -5 }] }] })
    expect(s.paths[0]!.d).toBe('')
    expect(s.words).toContain('Sun: stays below the horizon.')
  })
  it('draws no edge where everything or nothing is within reach', () => {
    for (const can of [true, false]) {
      const rows = Array.from({ length: 9 }, () => Array.from({ length: 36 }, () => can))
      const s = skyDome({ ...bare, reach: { azStepDeg: 10, elStepDeg: 10, rows } })
      expect(s.edge).toBe('')
      expect(s.stipple === '').toBe(can)
    }
  })
  it('draws an edge where part of the sky is within reach', () => {
    const rows = Array.from({ length: 9 }, (_, j) => Array.from({ length: 36 }, () => j > 3))
    expect(skyDome({ ...bare, reach: { azStepDeg: 10, elStepDeg: 10, rows } }).edge.match(/M/g)).toHaveLength(36)
  })
  it('tells each sighting by shape and words, and counts them', () => {
    const s = skyDome({
      ...bare,
      sightings: (['used', 'outlier', 'excluded'] as const).map((status, i) => ({
        id: status,
        status,
        azDeg: 90 * i,
        elDeg: 30,
        label: `No ${i}`,
      })),
      next: { azDeg: 200, elDeg: 20, label: 'Sun by shadow' },
    })
    expect(s.marks.map(m => m.shape)).toEqual(['used', 'outlier', 'excluded', 'next'])
    expect(s.marks[1]!.says).toBe('No 1: azimuth 90°, elevation 30°, set aside as an outlier.')
    expect(s.words).toContain('Sightings: 1 used, 1 set aside, 1 left out.')
  })
  it('leaves out a body that is below the horizon, and says it', () => {
    const s = skyDome({ ...bare, now: [{ body: 'moon', label: 'Moon', azDeg: 10, elDeg: -1 }] })
    expect(s.marks).toEqual([])
    expect(s.words).toContain('Moon now: below the horizon.')
  })
})

describe('shareOfSky', () => {
  it('goes by solid angle: the half above 30° is half the sky', () => {
    const rows = Array.from({ length: 9 }, (_, j) => [j >= 3])
    expect(shareOfSky({ azStepDeg: 360, elStepDeg: 10, rows })).toBeCloseTo(0.5, 12)
  })
})

describe('nearestMark', () => {
  const marks = [
    { id: 'a', shape: 'used', x: 0, y: 0, says: '' },
    { id: 'b', shape: 'used', x: 10, y: 0, says: '' },
  ] as const
  it('finds the nearest within reach, and nothing beyond it', () => {
    expect(nearestMark(marks, 6, 0, 28)?.id).toBe('b')
    expect(nearestMark(marks, 4, 3, 28)?.id).toBe('a')
    expect(nearestMark(marks, 50, 0, 28)).toBeNull()
  })
})

describe('the names of the paths', () => {
  const arc = (elDeg: number) =>
    Array.from({ length: 37 }, (_, i) => ({ azDeg: 90 + 5 * i, elDeg: elDeg * Math.sin((Math.PI * i) / 36) }))

  it('stand inside the circle and on no mark, wherever sightings lie on the line', () => {
    for (let shift = 0; shift < 8; shift++) {
      const sun = arc(30)
      const sightings = sun
        .filter((_, i) => (i + shift) % 8 < 3)
        .map((p, i) => ({ ...p, id: `s${i}`, status: 'used' as const, label: 'Sun' }))
      const s = skyDome({
        sightings,
        paths: [
          { body: 'moon', label: 'Moon', points: arc(60) },
          { body: 'sun', label: 'Sun', points: sun },
        ],
      })
      for (const { labelX, labelY } of someOf(s.paths)) {
        expect(Math.hypot(labelX - s.centre, labelY - s.centre)).toBeLessThan(s.radius)
        // A mark is 5 units round, the word 40 × 14.
        for (const m of someOf(s.marks))
          expect(Math.abs(m.x - labelX) > 20 || Math.abs(m.y - labelY) > 9, `${m.id} at shift ${shift}`).toBe(true)
      }
      const [a, b] = s.paths
      expect(Math.abs(a!.labelX - b!.labelX) > 36 || Math.abs(a!.labelY - b!.labelY) > 14).toBe(true)
    }
  })
})
