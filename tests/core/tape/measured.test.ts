import { describe, expect, it } from 'vitest'
import { parametersOf } from '../../../src/core/fit/parameters.ts'
import { dish, solve } from '../../../src/core/questions.ts'
import type { DishMeasuresRecord } from '../../../src/core/records/dishmeasure.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { dishAnswer, measuresOf, withDishMeasures } from '../../../src/core/tape/measured.ts'
import { answered } from '../../helpers/answered.ts'
import { bareStation, smallBook } from '../../helpers/smallbook.ts'

const bare = (): StationRecord => ({ ...bareStation('st'), dish: { diameterM: 2.4, focalRatio: 0.42 } })
/** Feed 12 mm left and 5 mm too far out of a 2.4 m dish, 375 mm deep: distances by Pythagoras. */
const distances = [12, 3, 6, 9].map(clock => {
  const turn = (clock * Math.PI) / 6
  return { clock, mm: Math.hypot(1200 * Math.sin(turn) + 12, 1200 * Math.cos(turn), 965 - 375) }
})
const measures: DishMeasuresRecord = {
  utc: '2026-05-01T10:00:00Z',
  diameterMm: 2400,
  depthMm: 375,
  rims: [{ utc: '2026-05-01T10:20:00Z', feed: 'a', seenFrom: 'behind', distances }],
}

describe('dishAnswer', () => {
  it('reads 2.4 m and 375 mm as f/D 0.400, 960 mm, 128.02° and 1335 mm, f to ± 5.4 mm for a tape good to 2 mm', () => {
    const answer = dishAnswer(bare(), measures)
    expect(answer).toMatchObject({ diameterM: 2.4, focalRatio: 0.4, focalLengthMm: 960, rimToFocusMm: 1335 })
    expect(Math.abs(answer.subtendedDeg - 128.02)).toBeLessThan(0.01)
    expect(Math.abs(answer.sigmaFocalMm! - 960 * Math.hypot(2 / 375, 4 / 2400))).toBeLessThan(1e-9)
  })

  it('puts the feed 12 mm left and 5 mm too far out, and the beam 0.586° to the right of it', () => {
    // BDF 0.8202 · atan(12/960), by hand.
    const { place } = dishAnswer(bare(), measures).feeds[0]!
    if (place?.kind !== 'place') throw new Error('a place')
    expect(place.rightMm).toBeCloseTo(-12, 6)
    expect(place.upMm).toBeCloseTo(0, 6)
    expect(place.outMm).toBeCloseTo(5, 6)
    expect(Math.abs(place.beamRightDeg - 0.5874)).toBeLessThan(2e-4)
    // 12 mm off at 960 mm and 5760 MHz, summed over the aperture in coma.ts: small, and not nothing.
    expect(place.comaLossDb).toBeGreaterThan(0)
    expect(place.comaLossDb).toBeLessThan(0.1)
    expect(place.sigmaRightMm).toBeGreaterThan(1.4)
    expect(place.sigmaRightMm).toBeLessThan(2.2)
  })

  it('turns the same numbers about when they were read from in front', () => {
    const front = { ...measures, rims: [{ ...measures.rims![0]!, seenFrom: 'front' as const }] }
    const { place } = dishAnswer(bare(), front).feeds[0]!
    expect(place).toMatchObject({ kind: 'place' })
    if (place?.kind === 'place') expect(place.rightMm).toBeCloseTo(12, 6)
  })

  it('falls back on the station where nothing was taped, by the one door too', () => {
    const answer = answered(dish({ ...smallBook(), stations: [bare()] }, {}))
    expect(answer).toMatchObject({ diameterM: 2.4, sigmaFocalMm: null, warp: null, surfaceRmsMm: null })
    expect(answer.focalRatio).toBeCloseTo(0.42, 12)
    expect(answer.feeds[0]!.place).toBeNull()
    expect(answer.feeds[0]!.toleranceDeg).toBeCloseTo(0.144 * answer.feeds[0]!.beamwidthDeg, 3)
  })

  it('adds the strings to the surface: a saddle of 3 mm is 1.22 mm rms, mirrored for a diagonal seen from in front', () => {
    const strings = (pair: 'upright' | 'diagonal', seenFrom: 'behind' | 'front') =>
      dishAnswer(bare(), {
        ...measures,
        strings: [{ utc: measures.utc, pair, seenFrom, firstInFrontMm: 6, firstBehindMm: 0 }],
      })
    const upright = strings('upright', 'front')
    expect(upright.warp).toMatchObject({ amplitudeMm: 3, highClock: 0 })
    expect(upright.surfaceRmsMm).toBeCloseTo(3 / Math.sqrt(6), 12)
    expect(strings('diagonal', 'behind').warp!.highClock).toBeCloseTo(1.5, 12)
    expect(strings('diagonal', 'front').warp!.highClock).toBeCloseTo(4.5, 12)
  })
})

describe('withDishMeasures', () => {
  it('makes them the station’s focal ratio and the feed’s measured prior, in a legal book', () => {
    const next = withDishMeasures(bare(), measures)
    expect(next.dish).toMatchObject({ diameterM: 2.4, focalRatio: 0.4, measured: measures })
    expect(next.priors).toMatchObject([
      { id: 'feedRight', feed: 'a', value: -12, measured: true },
      { id: 'feedUp', feed: 'a', measured: true },
    ])
    expect(checkFieldBook({ ...smallBook(), stations: [next] })).toEqual([])
    const parameters = parametersOf(stationFromRecord(next)).list
    expect(parameters.find(p => p.id === 'feedRight')?.prior).toMatchObject({ value: -12, measured: true })
  })

  it('takes the place of an earlier taping, leaves other feeds and other priors alone, and says the same twice', () => {
    const station = {
      ...bare(),
      priors: [
        { id: 'feedRight:a', value: 3, sigma: 9 },
        { id: 'sag', value: 0, sigma: 1 },
      ],
    }
    const next = withDishMeasures(station, measures)
    expect(next.priors?.map(p => p.id)).toEqual(['sag', 'feedRight', 'feedUp'])
    expect(withDishMeasures(next, measures)).toEqual(next)
  })

  it('counts from the last change of that feed before the taping, and not for one after it', () => {
    const change = (id: string, utc: string, what: string[]) => ({ id, utc, what })
    const station = {
      ...bare(),
      changes: [
        change('new feed', '2026-04-01T00:00:00Z', ['feed:a']),
        change('lower', '2026-04-20T00:00:00Z', ['lower-axis']),
        change('storm', '2026-06-01T00:00:00Z', ['all']),
      ],
    }
    const next = withDishMeasures(station, measures)
    expect(next.priors).toBeUndefined()
    expect(next.changes?.map(c => c.expect?.length ?? 0)).toEqual([2, 0, 0])
    const right = parametersOf(stationFromRecord(next)).list.filter(p => p.id === 'feedRight')
    expect(right.map(p => p.prior.measured)).toEqual([false, true, false])
  })

  it('is what the solution goes by while nothing else speaks of the feed, and is its prior', () => {
    const book = { ...smallBook(), stations: [withDishMeasures(bare(), measures)] }
    const solved = answered(solve(book, { now: '2026-05-02T00:00:00Z' }))
    expect(solved.parameters.find(p => p.id === 'feedRight')).toMatchObject({ value: -12, prior: { value: -12 } })
  })

  it('takes over the places of the feeds that are named, and no other', () => {
    expect(withDishMeasures(bare(), measures, []).priors).toBeUndefined()
    expect(withDishMeasures(bare(), measures, ['a']).priors).toHaveLength(2)
  })

  it('gives way to a diameter or ratio that was written in the station since', () => {
    const next = withDishMeasures(bare(), measures)
    expect(measuresOf(next)).toEqual(measures)
    const edited = { ...next, dish: { ...next.dish, focalRatio: 0.45 } }
    expect(measuresOf(edited)).toEqual({ utc: measures.utc, rims: measures.rims })
    expect(dishAnswer(edited).focalRatio).toBeCloseTo(0.45, 12)
  })

  it('leaves the station’s ratio alone when only rim distances were taped', () => {
    const { depthMm: _, diameterMm: __, ...only } = measures
    expect(withDishMeasures(bare(), only).dish).toMatchObject({ diameterM: 2.4, focalRatio: 0.42 })
  })
})
