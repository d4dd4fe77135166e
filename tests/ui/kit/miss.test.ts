import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { solve } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import type { Solution } from '../../../src/core/records/solution.ts'
import { judgedSightings, residualsOf } from '../../../src/ui/correct/drawings.ts'
import { residualShapes } from '../../../src/ui/correct/residuals-geometry.ts'
import { missArrow, missOf, missParts, missWords } from '../../../src/ui/kit/miss.ts'
import { residualSentence } from '../../../src/ui/kit/sighting/words.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { solved } from '../../helpers/solved.ts'

const AFTER = '2026-05-01T13:00:00Z'

/** Azimuth and elevation in degrees, aimed at a landmark due south at 30°. */
const mast = (lower: number, upper: number): StationRecord =>
  ({
    id: 's',
    name: 'Quarry',
    site: { latDeg: 47, lonDeg: 9, heightM: 500 },
    dish: { diameterM: 3, focalRatio: 0.4 },
    feeds: [{ id: 'a', name: 'ring', frequencyMHz: 1296 }],
    mount: {
      kind: 'el-over-az',
      headingDeg: 0,
      lower: { readout: { type: 'degrees' }, minReading: 0, maxReading: 360 },
      upper: { readout: { type: 'degrees' }, minReading: 0, maxReading: 90 },
    },
    // Known well: the mount is as on paper, so what is left is what was read.
    priors: [
      'lowerZero',
      'upperZero',
      'collimation',
      'squareness',
      'tubeRight',
      'tubeUp',
      'sag',
      'leanNorth',
      'leanEast',
    ].map(id => ({
      id,
      value: 0,
      sigma: 1e-6,
      measured: true,
    })),
    sightings: [
      {
        id: 'x',
        utc: '2026-05-01T12:00:00Z',
        target: { type: 'landmark', azDeg: 180, elDeg: 30 },
        lower,
        upper,
        method: 'optical',
        use: 'never',
      },
    ],
  }) as never

function missAt(
  lower: number,
  upper: number,
): { miss: ReturnType<typeof missOf>; solution: Solution; station: StationRecord } {
  const station = mast(lower, upper)
  const answer = answered(
    solve({ format: 'moonplumb-fieldbook', version: 1, exportedUtc: AFTER, stations: [station] }, { now: AFTER }),
  )
  return { miss: missOf(answer.sightings[0]!), solution: answer, station }
}

describe('the sign of a miss', () => {
  it('is of the target against the beam that was dialled by the book: found 1° of azimuth further on, it stood to the right', () => {
    // On target with the counter at 181°. Dialled to the 180° of the book the beam would have stood 1° short of it; cos 30° on
    // the sky.
    const { miss } = missAt(181, 30)
    expect(miss.rightDeg).toBeCloseTo(Math.cos(Math.PI / 6), 2)
    expect(miss.upDeg).toBeCloseTo(0, 1)
    expect(missAt(180, 31).miss.upDeg).toBeCloseTo(1, 2)
    expect(missAt(180, 29).miss.upDeg).toBeCloseTo(-1, 2)
  })
})

describe('one convention', () => {
  const { miss, solution, station } = missAt(175, 31)
  const words = plain(missWords(miss, solution.sightings[0]!.sigmaDeg))
  const shapes = residualShapes(residualsOf(judgedSightings(station, solution), 9, 40))

  it('the plot says what page and list say, and draws it there', () => {
    expect(words).toMatch(/^4\.\d+° left, 0\.\d+° high$/)
    expect(plain(shapes.marks[0]!.says)).toContain(words)
    expect(shapes.marks[0]!.x).toBeLessThan(shapes.centre)
    expect(shapes.marks[0]!.y).toBeLessThan(shapes.centre)
    expect(plain(residualSentence({ type: 'sun' }, solution.sightings[0]!))).toContain(words)
  })

  it('the arrow of the list points where the words say', () => {
    const { turnDeg } = missArrow(miss, 0.1)
    // Clockwise from high: left and high lies between -90 and 0.
    expect(turnDeg).toBeGreaterThan(-90)
    expect(turnDeg).toBeLessThan(0)
    expect(missParts(miss, 1).map(p => p.word)).toEqual(['left', 'high'])
    expect(missArrow({ rightDeg: 0.001, upDeg: 0 }, 0.3).turnDeg).toBeNull()
  })

  it('no screen reads the right and up of a solved sighting but by way of it', () => {
    const ui = new URL('../../../src/ui/', import.meta.url)
    const files = readdirSync(ui, { recursive: true, encoding: 'utf8' }).filter(name => /\.tsx?$/.test(name))
    const own = files.filter(name => {
      const text = readFileSync(new URL(name, ui), 'utf8')
      return /(solved|judged|[^a-z]s)\.(rightDeg|upDeg)/.test(text) && name !== 'kit/miss.ts'
    })
    // The size alone has no sign.
    expect(own.sort()).toEqual(['correct/drawings.ts'])
    expect(readFileSync(new URL('correct/drawings.ts', ui), 'utf8')).toMatch(/Math\.hypot\(solved\.rightDeg/)
  })
})

it('turns the residual of the solution about', () => {
  expect(missOf(solved(-0.4, 0.1))).toEqual({ rightDeg: 0.4, upDeg: -0.1 })
  expect(Object.is(missOf(solved(0, 0)).rightDeg, 0)).toBe(true)
})
