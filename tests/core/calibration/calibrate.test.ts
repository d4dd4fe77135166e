import { describe, expect, it } from 'vitest'
import {
  type Calibrated,
  type Calibration,
  type CalibrationPair,
  calibrate,
  perReadingAlong,
  resolution,
} from '../../../src/core/calibration/calibrate.ts'
import { calibratedPriors, withCalibration } from '../../../src/core/calibration/calibrated.ts'
import type { Jack } from '../../../src/core/readout/jack.ts'
import { angleFromReading, type Readout } from '../../../src/core/readout/readout.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { readoutFromRecord, recordFromReadout } from '../../../src/core/records/readouts.ts'
import { authority } from '../../helpers/authorities.ts'
import { jackTrials, swungCountTrials } from '../../helpers/calibrationtrials.ts'
import { DEG } from '../../helpers/degrees.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

const JACK: Jack = {
  type: 'jack',
  baseArm: 620,
  rodArm: 410,
  lengthAtReadingZero: 560,
  countsPerMm: 1.9,
  phiAtAngleZero: 62.3 * DEG,
  direction: 1,
}
const done = (c: Calibration): Calibrated => {
  if (c.kind !== 'calibrated') throw new Error(`expected calibrated, got ${JSON.stringify(c)}`)
  return c
}
const angleOf = (r: Readout, reading: number): number => {
  const at = angleFromReading(r, reading)
  if (at.kind !== 'angle') throw new Error('outside')
  return at.angle
}
const exactly = (r: Readout, readings: readonly number[], more: Partial<CalibrationPair> = {}): CalibrationPair[] =>
  readings.map(reading => ({ reading, angle: angleOf(r, reading), sigma: 1e-6, ...more }))

describe('calibrate', () => {
  it('finds slope and zero of counts exactly, however wrong they were', () => {
    const truth: Readout = { type: 'linear-counts', zeroCounts: 140, countsPerRad: 12 / DEG }
    const c = done(
      calibrate({ type: 'linear-counts', zeroCounts: 0, countsPerRad: 3 / DEG }, exactly(truth, [0, 300, 900])),
    )
    expect(recordFromReadout(c.readout)).toEqual({ type: 'linear-counts', zeroCounts: 140, countsPerDeg: 12 })
    expect(c.rms).toBeLessThan(1e-9)
  })

  it('of counts that fall keeps the sign of the readout, and says when the angles run the other way', () => {
    const truth: Readout = { type: 'linear-counts', zeroCounts: 50, countsPerRad: -8 / DEG }
    const c = done(calibrate({ ...truth, countsPerRad: -9 / DEG }, exactly(truth, [0, 100, 400])))
    expect(recordFromReadout(c.readout)).toEqual({ type: 'linear-counts', zeroCounts: 50, countsPerDeg: -8 })
    expect(calibrate({ ...truth, countsPerRad: 8 / DEG }, exactly(truth, [0, 100, 400]))).toEqual({ kind: 'backward' })
  })

  it('of degrees finds a scale and a zero, the readout staying what it is', () => {
    const pairs = [10, 30, 70].map(deg => ({ reading: deg, angle: (deg * 1.01 - 2) * DEG, sigma: 1e-4 * DEG }))
    const c = done(calibrate({ type: 'degrees' }, pairs))
    expect(c.readout).toEqual({ type: 'degrees' })
    expect(c.scale!.value).toBeCloseTo(0.01, 6)
    expect(c.zero!.value / DEG).toBeCloseTo(-2, 4)
    expect(calibratedPriors('upper', c).map(p => [p.id, p.value, p.measured])).toEqual([
      ['upperZero', -2, true],
      ['upperScale', 0.01, true],
    ])
  })

  it('keeps as priors what is not in the readout, whatever its kind: nothing is found and then forgotten', () => {
    const truth: Readout = { type: 'linear-counts', zeroCounts: 140, countsPerRad: 12 / DEG }
    const entered: Readout = { ...truth, countsPerRad: 10 / DEG }
    const c = done(calibrate(entered, exactly(truth, [0, 300, 900])))
    const valuesOf = (of: Calibrated) => calibratedPriors('upper', of).map(p => [p.id, p.value])
    expect([c.isInReadout, valuesOf(c)]).toEqual([
      true,
      [
        ['upperZero', 0],
        ['upperScale', 0],
      ],
    ])
    const [, [, scale]] = valuesOf({ ...c, readout: entered, isInReadout: false }) as [unknown, [string, number]]
    expect(scale).toBeCloseTo(10 / 12 - 1, 6)
    const degrees = [10, 30].map(deg => ({ reading: deg, angle: deg * 1.01 * DEG, sigma: 1e-4 * DEG }))
    expect(done(calibrate({ type: 'degrees' }, degrees)).isInReadout).toBe(false)
  })

  it('finds the arms of a jack from exact angles, when the lengths that were taped are right but for one arm', () => {
    const truth: Jack = { ...JACK, rodArm: 414 }
    const c = done(calibrate(JACK, exactly(truth, [0, 150, 300, 450, 600, 750]), { tape: 50 }))
    expect(c.readout.type === 'jack' && c.readout.rodArm).toBeCloseTo(414, 1)
    for (const reading of [0, 200, 800]) expect(angleOf(c.readout, reading)).toBeCloseTo(angleOf(truth, reading), 6)
  })

  it('with a constant of which nothing is known finds the shape and leaves the angle in the middle alone', () => {
    const truth: Jack = { ...JACK, rodArm: 414 }
    const readings = [0, 150, 300, 450, 600, 750]
    const pairs = exactly(truth, readings, { group: 0 }).map(p => ({ ...p, angle: p.angle + 1.3 }))
    const c = done(calibrate(JACK, pairs, { tape: 50, constants: [null] }))
    expect(c.zero).toBeNull()
    expect(angleOf(c.readout, 375)).toBeCloseTo(angleOf(JACK, 375), 9)
    const span = (r: Readout) => angleOf(r, 750) - angleOf(r, 0)
    expect(span(c.readout)).toBeCloseTo(span(truth), 6)
    expect(calibratedPriors('upper', c).map(p => p.id)).toEqual(['upperBaseArm', 'upperRodArm'])
  })

  it('finds lost motion where pairs arrived from both sides, and says nothing of it where they did not', () => {
    const truth: Readout = { type: 'linear-counts', zeroCounts: 0, countsPerRad: 10 / DEG }
    const pairs = [0, 200, 400, 600].flatMap(reading =>
      ([1, -1] as const).map(side => ({
        reading,
        side,
        angle: angleOf(truth, reading) + (side * 0.4 * DEG) / 2,
        sigma: 0.01 * DEG,
      })),
    )
    const c = done(calibrate(truth, pairs))
    expect(c.play!.value / DEG).toBeCloseTo(0.4, 2)
    expect(
      done(
        calibrate(
          truth,
          pairs.filter(p => p.side === 1),
        ),
      ).play,
    ).toBeNull()
    expect(calibratedPriors('upper', c).find(p => p.id === 'upperPlay')!.value).toBeCloseTo(0.4, 2)
  })

  it('says when the pairs disagree, and is then less sure', () => {
    const truth: Readout = { type: 'linear-counts', zeroCounts: 0, countsPerRad: 10 / DEG }
    const wild = [0, 100, 200, 300, 400].map((reading, k) => ({
      reading,
      angle: angleOf(truth, reading) + (k % 2 ? 1 : -1) * 2 * DEG,
      sigma: 0.1 * DEG,
    }))
    const c = done(calibrate(truth, wild))
    expect(c.misfits).toBe(true)
    expect(c.zero!.sigma).toBeGreaterThan(0.5 * DEG)
    expect(c.left.every(r => Math.abs(r) > 0.5 * DEG)).toBe(true)
  })

  it('asks for enough different readings, and says where no triangle closes', () => {
    expect(calibrate(JACK, exactly(JACK, [0, 0, 300]))).toEqual({ kind: 'too-few', have: 2, need: 3 })
    const outside = calibrate(JACK, [...exactly(JACK, [0, 300]), { reading: 5000, angle: 1, sigma: 0.1 }])
    expect(outside).toMatchObject({ kind: 'outside', pair: 2 })
  })

  it('tells degrees per count over the stroke: a generic jack of 700 and 450 mm has arms of 410.9 to 271.8 mm', () => {
    // trade figures worked from the law of cosines: moment arm at 30, 60, 90, 120° of included angle.
    const jack: Jack = {
      ...JACK,
      baseArm: 700,
      rodArm: 450,
      lengthAtReadingZero: 383.281,
      countsPerMm: 1,
      phiAtAngleZero: 0,
    }
    const arms = [383.281, 614.41, 832.166, 1003.743].map(
      length => 1 / perReadingAlong(jack, [length - 383.281, length - 383.281 + 1], 1)[0]!.perReading,
    )
    for (const [k, arm] of [410.926, 444.0, 378.53, 271.781].entries()) expect(arms[k]).toBeCloseTo(arm, 2)
    expect(resolution(jack, [0, 620])! / DEG).toBeCloseTo(57.2958 / 271.8, 2)
    expect(resolution({ type: 'degrees' }, [0, 90])).toBeNull()
  })

  it('brings two solar mirrors back from lengths 5 mm wrong: PAINT open data, doi:10.1038/s41560-026-02070-1', () => {
    const { mirrors } = authority('readout/heliostats.json') as {
      mirrors: Record<string, { actuators: number[][]; rows: number[][] }>
    }
    for (const [name, { actuators, rows }] of someOf(Object.entries(mirrors))) {
      const [incrementPerM, strokeM, offsetM, pivotM, , clockwise] = actuators[1]!
      const published: Jack = {
        type: 'jack',
        baseArm: 1000 * offsetM!,
        rodArm: 1000 * pivotM!,
        lengthAtReadingZero: 1000 * strokeM!,
        countsPerMm: incrementPerM! / 1000,
        phiAtAngleZero: 1,
        direction: clockwise === 1 ? -1 : 1,
      }
      const taped: Jack = { ...published, baseArm: published.baseArm + 5, rodArm: published.rodArm - 5 }
      const readings = rows.map(r => r[3]!)
      // Against their own model: exact. Against Sun and spot: what a triangle leaves, 0.2°.
      for (const [column, bar] of [
        [5, 0.002],
        [4, 0.2],
      ] as const) {
        const pairs = rows.map((r, k) => ({
          reading: readings[k]!,
          angle: r[column]! * DEG,
          sigma: column === 5 ? 1e-4 * DEG : 0.15 * DEG,
        }))
        const c = done(calibrate(taped, pairs))
        console.info(
          `${name}: ${column === 5 ? 'published model' : 'Sun and spot'}, ${(c.rms / DEG).toFixed(4)}° rms left`,
        )
        expect(c.rms / DEG).toBeLessThan(bar)
      }
    }
  })

  it('writes what it found into a station that stays legal, other priors and fields untouched', () => {
    const book = smallBook()
    const station = book.stations[0]!
    station.mount.upper = { readout: recordFromReadout(JACK), minReading: 0, maxReading: 800 }
    station.sightings = []
    station.priors = [
      { id: 'sag', value: 0, sigma: 0.2 },
      { id: 'upperRodArm', value: 9, sigma: 1 },
    ]
    const c = done(calibrate(JACK, exactly({ ...JACK, rodArm: 414 }, [0, 200, 400, 700])))
    const kept = {
      utc: '2026-05-01T10:00:00Z',
      pairs: [{ reading: 0, angleDeg: 1, sigmaDeg: 0.1, from: '+' as const }],
    }
    const next = withCalibration(station, 'upper', c, kept)
    expect(checkFieldBook({ ...book, stations: [next] })).toEqual([])
    expect(next.priors!.filter(p => p.id === 'upperRodArm')).toHaveLength(1)
    expect(next.priors!.find(p => p.id === 'sag')).toEqual({ id: 'sag', value: 0, sigma: 0.2 })
    expect(next.mount.upper).toMatchObject({ maxReading: 800, calibration: kept })
    const back = readoutFromRecord(next.mount.upper.readout)
    for (const reading of [0, 400, 700]) expect(angleOf(back, reading)).toBeCloseTo(angleOf(c.readout, reading), 5)
  })
})

describe('invented calibrations (the long run is tests/studies/calibration.study.ts)', () => {
  it('jack arms: 2 σ covers, and σ is not padded', () => {
    const t = jackTrials(250, 500)
    for (const what of [t.base, t.rod, t.middle]) {
      // 250 trials: 95.4 % ± 1.3 %.
      expect(what.covered).toBeGreaterThan(0.905)
      expect(what.covered).toBeLessThan(0.995)
      expect(what.medianSigmaOverRms).toBeLessThan(1.4)
    }
  })
  it('counts by swinging, one clamping and two', () => {
    for (const clampings of [1, 2] as const) {
      const t = swungCountTrials(250, clampings, 900)
      expect(t.covered).toBeGreaterThan(0.905)
      expect(t.covered).toBeLessThan(0.995)
      expect(t.medianSigmaOverRms).toBeLessThan(1.4)
    }
  })
})
