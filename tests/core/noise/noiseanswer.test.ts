import { describe, expect, it } from 'vitest'
import { noiseAnswer, noiseResult } from '../../../src/core/noise/noiseanswer.ts'
import { noise } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import type { NoiseRecord } from '../../../src/core/records/noise.ts'
import { answered } from '../../helpers/answered.ts'
import { bareStation, smallBook } from '../../helpers/smallbook.ts'

const stationWith = (frequencyMHz: number, diameterM: number, records: unknown[] = []): StationRecord => ({
  ...bareStation('st'),
  dish: { diameterM, focalRatio: 0.4 },
  feeds: [{ id: 'a', name: 'horn', frequencyMHz }],
  noise: records,
})
const record = (r: Partial<NoiseRecord>): NoiseRecord => ({
  id: 'n',
  utc: '2026-05-01T10:00:00Z',
  feed: 'a',
  of: 'sun',
  ...r,
})
const resultOf = (station: StationRecord, r: NoiseRecord) => {
  const result = noiseResult(station, r, station.feeds[0]!)
  if (result.kind !== 'result') throw new Error(`got ${result.kind}`)
  return result
}

describe('noiseResult', () => {
  it('follows a published record as a person would enter it, to 0.01 dB: 15.555 dB/K, 1.2 m at 10.488 GHz', () => {
    // destevez.net/2021/03/more-10-ghz-sun-observations (tests/authorities/scan/sun-noise.json).
    const station = stationWith(10488, 1.2)
    station.feeds[0]!.beamwidthDeg = 2
    const result = resultOf(
      station,
      record({
        yDb: 5.102948546409607,
        fluxSfu: 303.3,
        gainDbi: 39.5,
        discDeg: 0.5,
        air: { zenithDb: 0.22, elDeg: 34.1 },
        lossDb: 0.1,
      }),
    )
    expect(Math.abs(result.gOverTDb - 15.555)).toBeLessThan(0.01)
    expect(Math.abs(result.areaM2 - 0.5795)).toBeLessThan(1e-4)
    expect(Math.abs(result.systemK / 248.02 - 1)).toBeLessThan(0.003)
    // From the unrounded 303.3 sfu and 0.5° the source has 555.10 K; the exact disc factor gives 0.2 % more.
    expect(Math.abs(result.sourceK! / 555.1 - 1)).toBeLessThan(0.003)
  })

  it('is 15.06 and 14.46 dB/K for the same Suns without air, cover and pointing, to 0.02 dB', () => {
    // The plain formula with the published Y, flux and beam; by hand with 1 + 0.38 (disc/beam)².
    for (const [yDb, fluxSfu, beamwidthDeg, want] of [
      [5.102948546409607, 303.3, 2, 15.06],
      [4.6124690771102905, 297.2, 1.7, 14.46],
    ] as const) {
      const station = stationWith(10488, 1.2)
      station.feeds[0]!.beamwidthDeg = beamwidthDeg
      const result = resultOf(station, record({ yDb, fluxSfu, discDeg: 0.5 }))
      expect(Math.abs(result.gOverTDb - want)).toBeLessThan(0.02)
    }
  })

  it('recovers the 80 K that made the Sun rise 8.208 dB in 2.4 m at 1296 MHz', () => {
    const result = resultOf(stationWith(1296, 2.4), record({ yDb: 8.208, fluxSfu: 50 }))
    expect(Math.abs(result.systemK - 80)).toBeLessThan(0.05)
    expect(result.gainDbi).toBeCloseTo(27.67, 2)
  })

  it('recovers the 100 K behind a Moon of 1.313 dB, and is less sure of it than of a Sun', () => {
    const station = stationWith(10368, 2.4)
    const moon = resultOf(station, record({ of: 'moon', yDb: 1.313, brightnessK: 210 }))
    expect(Math.abs(moon.systemK - 100)).toBeLessThan(0.2)
    const sun = resultOf(station, record({ yDb: 13.48, fluxSfu: 270 }))
    expect(moon.sigmaDb).toBeGreaterThan(sun.sigmaDb)
    expect(sun.sigmaDb).toBeCloseTo(Math.hypot(0.1 / (1 - 10 ** -1.348), 0.2), 9)
  })

  it('takes ground over sky of 7.27 dB as a receiver of 30 K, system 60 K', () => {
    const ground = resultOf(stationWith(1296, 2.4), record({ of: 'ground', yDb: 7.27 }))
    expect(Math.abs(ground.receiverK! - 30)).toBeLessThan(0.1)
    expect(ground.systemK - ground.receiverK!).toBeCloseTo(30, 9)
  })

  it('answers in kind where there is nothing to compute', () => {
    const station = stationWith(1296, 2.4)
    const feed = station.feeds[0]!
    expect(noiseResult(station, record({ yDb: -0.1, fluxSfu: 50 }), feed).kind).toBe('no-rise')
    expect(noiseResult(station, record({ of: 'ground', yDb: 12 }), feed).kind).toBe('too-much-rise')
    expect(noiseResult(station, record({ yDb: 8, fluxAt: [{ frequencyMHz: 2800, sfu: 70 }] }), feed)).toMatchObject({
      kind: 'no-flux',
      why: { kind: 'one-frequency', frequencyMHz: 2800 },
    })
  })
})

describe('noiseAnswer', () => {
  const day = (k: number, yDb: number, id = `n${k}`) =>
    record({ id, utc: `2026-05-${String(k).padStart(2, '0')}T10:00:00Z`, yDb, fluxSfu: 55 })

  it('says since when the dish hears less, through the one door', () => {
    const station = stationWith(1296, 2.4, [day(9, 6.2), day(1, 8.1), day(3, 8.2), day(5, 8.0), day(11, 6.3)])
    const answer = answered(noise({ ...smallBook(), stations: [station] }, {}))
    expect(answer.rows.map(r => r.id)).toEqual(['n1', 'n3', 'n5', 'n9', 'n11'])
    expect(answer.steps).toMatchObject([{ feed: 'a', of: 'sun', id: 'n9', before: 3, after: 2 }])
    expect(answer.steps[0]!.db).toBeLessThan(-1.5)
  })

  it('warns that the Moon is too weak at 1296 MHz in 2.4 m (0.04 dB), and not at 10 368 MHz', () => {
    const low = noiseAnswer(stationWith(1296, 2.4, [day(1, 8.208)])).expected[0]!
    expect(low).toMatchObject({ moonTooWeak: true, systemFrom: 'measured', fluxFrom: 'measured', sfu: 55 })
    expect(low.moonDb).toBeLessThan(0.05)
    const high = noiseAnswer(stationWith(10368, 2.4)).expected[0]!
    expect(high).toMatchObject({ moonTooWeak: false, systemFrom: 'assumed', systemK: 100, fluxFrom: 'quiet' })
    expect(Math.abs(high.sunDb! - 13.51)).toBeLessThan(0.05) // 272.4 sfu quiet, 100 K: beside 13.480 dB for 270
  })

  it('expects the rise that was measured, of the Sun that it was measured by', () => {
    const answer = noiseAnswer(stationWith(1296, 2.4, [day(1, 8.2)]))
    expect(answer.expected[0]!.sunDb).toBeCloseTo(8.2, 9)
  })

  it('keeps silent about records of another program and of feeds that are gone', () => {
    expect(noiseAnswer(stationWith(1296, 2.4, [{ of: 'venus' }, 7, { ...day(1, 8), feed: 'old' }])).rows).toEqual([])
  })
})
