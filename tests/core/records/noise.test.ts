import { describe, expect, it } from 'vitest'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { type NoiseRecord, noiseOf, noiseRowsOf, ratioOf } from '../../../src/core/records/noise.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const sun: NoiseRecord = {
  id: 'no-1',
  utc: '2026-05-01T10:00:00Z',
  feed: 'a',
  of: 'sun',
  yDb: 9.1,
  fluxAt: [
    { frequencyMHz: 610, sfu: 44 },
    { frequencyMHz: 1415, sfu: 71 },
  ],
  air: { zenithDb: 0.04, elDeg: 51 },
}
const faultsOf = (...noise: unknown[]) => {
  const book = smallBook()
  return checkFieldBook({ ...book, stations: [{ ...book.stations[0], noise }] })
}
const at = 'stations[0].noise[0]'

describe('noise in a field book', () => {
  it('is of Sun, Moon, ground or load, or anything else that some program wrote', () => {
    expect(faultsOf(sun, { ...sun, id: 'no-2', of: 'ground', fluxAt: undefined, hotK: 285, coldK: 20 })).toEqual([])
    expect(faultsOf({ id: 'no-3', of: 'venus', yDb: 'loud' }, { yFactor: 3 }, 7, null)).toEqual([])
  })
  it('is refused by path where a known one breaks a rule', () => {
    for (const [record, path] of [
      [{ ...sun, feed: 'z' }, 'feed'],
      [{ ...sun, utc: 'noon' }, 'utc'],
      [{ ...sun, yDb: undefined }, 'yDb'],
      [{ ...sun, levels: { hot: 1, cold: 2, unit: 'dB' } }, 'yDb'],
      [{ ...sun, yDb: undefined, levels: { hot: 1, cold: 2, unit: 'volts' } }, 'levels.unit'],
      [{ ...sun, yDb: undefined, levels: { hot: 1, cold: 0, unit: 'power' } }, 'levels'],
      [{ ...sun, fluxSfu: 55 }, 'fluxSfu'],
      [{ ...sun, fluxAt: [{ frequencyMHz: 610, sfu: -1 }] }, 'fluxAt[0].sfu'],
      [{ ...sun, sigmaDb: 0 }, 'sigmaDb'],
      [{ ...sun, air: { zenithDb: 0.1 } }, 'air.elDeg'],
    ] as const)
      expect(faultsOf(record)).toMatchObject([{ path: `${at}.${path}` }])
  })
  it('of the Sun may lack its flux: it is asked for later', () => {
    expect(faultsOf({ ...sun, fluxAt: undefined })).toEqual([])
  })
  it('may be a row against a setting of the feed, held to its shape by path', () => {
    const row = {
      id: 'row-1',
      utc: '2026-05-01T10:00:00Z',
      feed: 'a',
      of: 'sun-row',
      setting: 'axial',
      readings: [0, 10, 20, 30].map(at => ({ at, yDb: 8 - 0.001 * (at - 12) ** 2 })),
    }
    expect(faultsOf(row, sun)).toEqual([])
    expect(noiseRowsOf([sun, row, { of: 'venus' }])).toEqual([row])
    expect(noiseOf([sun, row])).toEqual([sun])
    for (const [record, path] of [
      [{ ...row, feed: 'z' }, 'feed'],
      [{ ...row, setting: 'colour' }, 'setting'],
      [{ ...row, readings: [{ at: 'in', yDb: 8 }] }, 'readings[0].at'],
      [{ ...row, readings: [{ at: 1 }] }, 'readings[0].yDb'],
      [{ ...row, sigmaDb: 0 }, 'sigmaDb'],
    ] as const)
      expect(faultsOf(record)).toMatchObject([{ path: `${at}.${path}` }])
  })
  it('has ids that are unique in the file', () => {
    expect(faultsOf(sun, sun)).toMatchObject([{ path: 'stations[0].noise[1].id' }])
  })
})

describe('noiseOf and ratioOf', () => {
  it('take what can be read and leave the rest', () => {
    expect(noiseOf([7, null, sun, { of: 'sun' }, { of: 'venus' }])).toEqual([sun])
    expect(noiseOf(undefined)).toEqual([])
  })
  it('give the same Y for 10 dB, two levels 10 dB apart, and ten times the power', () => {
    const { yDb: _, ...bare } = sun
    expect(ratioOf({ ...bare, yDb: 10 })).toBeCloseTo(10, 12)
    expect(ratioOf({ ...bare, levels: { hot: -61.5, cold: -71.5, unit: 'dB' } })).toBeCloseTo(10, 12)
    expect(ratioOf({ ...bare, levels: { hot: 4.2, cold: 0.42, unit: 'power' } })).toBeCloseTo(10, 12)
  })
})
