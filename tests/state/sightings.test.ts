import { describe, expect, it } from 'vitest'
import type { SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import type { Solution } from '../../src/core/records/solution.ts'
import {
  faultsOfSighting,
  guessMethod,
  halfFromStamp,
  methodSigmaDeg,
  shadowMeaning,
  sightingRows,
} from '../../src/state/sightings.ts'
import { smallBook } from '../helpers/smallbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const sighting = (more: Partial<SightingRecord> = {}): SightingRecord => ({
  id: 'new',
  utc: '2026-05-02T10:00:00Z',
  target: { type: 'sun' },
  lower: 300,
  upper: 210,
  method: 'signal-peak',
  feed: 'a',
  ...more,
})

describe('faultsOfSighting', () => {
  it('has nothing against a legal one', () => {
    expect(faultsOfSighting(station(), sighting())).toEqual([])
  })

  it("names the field alone, with the jack's allowed range for a reading outside its triangle", () => {
    const [fault, ...more] = faultsOfSighting(station(), sighting({ upper: 2000 }))
    expect(more).toEqual([])
    expect(fault).toMatchObject({ path: 'upper', rule: expect.stringContaining('allowed are readings between') })
  })

  it('refuses a shadow of the Moon and a shadow without its place', () => {
    const paths = faultsOfSighting(station(), sighting({ method: 'shadow', target: { type: 'moon' } })).map(f => f.path)
    expect(paths.sort()).toEqual(['shadow', 'target'])
  })

  it('is silent about other records that broke a rule before', () => {
    const odd = { ...station(), levels: [{ id: 'x' }] } as unknown as StationRecord
    expect(faultsOfSighting(odd, sighting())).toEqual([])
  })
})

describe('shadowMeaning', () => {
  it('puts the Sun 1.05° right and 0.53° low for a shadow 22 mm left and 11 mm above at f = 1.2 m, ± 0.38°', () => {
    // By hand: atan(22/1200) = 1.050°, atan(11/1200) = 0.525°; 8/1200 rad = 0.382°. The bowl's depth (0.13 mm) is nothing.
    const m = shadowMeaning(station(), { rightMm: -22, upMm: 11 })
    expect(m.rightDeg).toBeCloseTo(1.05, 2)
    expect(m.upDeg).toBeCloseTo(-0.525, 2)
    expect(m.sigmaDeg).toBeCloseTo(0.382, 3)
  })

  it('keeps the σ that the person states', () => {
    expect(shadowMeaning(station(), { rightMm: 0, upMm: 0 }, 0.2)).toEqual({ rightDeg: 0, upDeg: 0, sigmaDeg: 0.2 })
  })
})

describe('methodSigmaDeg', () => {
  it("is a tenth of the mounted feed's beamwidth for a signal, 0.1° for the tube", () => {
    expect(methodSigmaDeg(station(), 'signal-peak', 'a')).toBeCloseTo(0.52, 6) // beamwidth 5.2° measured
    expect(methodSigmaDeg(station(), 'optical', undefined)).toBeCloseTo(0.1, 9)
  })
})

describe('guessMethod', () => {
  it('is the one used last for such a target, and none where the person has not said yet', () => {
    expect(guessMethod(station(), { type: 'sun' })).toBe('shadow')
    expect(guessMethod({ ...station(), sightings: [] }, { type: 'sun' })).toBeNull()
    expect(guessMethod({ ...station(), sightings: [] }, { type: 'geostationary', lonDeg: 5 })).toBe('signal-peak')
  })
})

describe('halfFromStamp', () => {
  const stamp = { utcMs: Date.parse('2026-05-02T10:00:00.123Z'), monotonicMs: 4567.8 }

  it('keeps the raw time to the millisecond and what was to be dialled beside, not as readings', () => {
    const half = halfFromStamp(station(), stamp, { type: 'sun' }, { lower: 31.24, upper: 410.2 }, null)
    expect(half).toMatchObject({
      utc: '2026-05-02T10:00:00.123Z',
      time: 'stamped',
      monotonicMs: 4568,
      dialled: { lower: 31.24, upper: 410.2 },
    })
    expect(half).not.toHaveProperty('lower')
    expect(half).not.toHaveProperty('clockStepS')
  })

  it('says by how many seconds the clock was set, and has no suggestion where there was none', () => {
    const half = halfFromStamp(station(), stamp, { type: 'sun' }, { lower: null, upper: null }, -3200)
    expect(half.clockStepS).toBe(-3.2)
    expect(half).not.toHaveProperty('dialled')
  })
})

describe('sightingRows', () => {
  it('lists the newest first, each with what the solution says of it', () => {
    const solution = { sightings: [{ id: 'si-1', rightDeg: 1, upDeg: 2, sigmaDeg: 0.3, status: 'used' }] }
    const rows = sightingRows(station(), solution as unknown as Solution)
    expect(rows.map(r => r.record.id)).toEqual(['si-5', 'si-4', 'si-3', 'si-2', 'si-1'])
    expect(rows.map(r => r.solved?.status)).toEqual([undefined, undefined, undefined, undefined, 'used'])
  })
})
