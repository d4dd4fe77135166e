import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { closingReadings, type Jack } from '../../../src/core/readout/jack.ts'
import { angleFromReading, countsSteps, type Readout, readingFromAngle } from '../../../src/core/readout/readout.ts'
import { DEG } from '../../helpers/degrees.ts'

const seeded = { seed: 20260501, numRuns: 1000 }
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })

const angle = (readout: Readout, reading: number): number => {
  const at = angleFromReading(readout, reading)
  return at.kind === 'angle' ? at.angle : Number.NaN
}
/** Any jack whose triangle is not flat: arms 200 to 1500 mm, either sense, with arms changed by up to 20 mm. */
const jacks = fc.record({
  baseArm: real(200, 1500),
  rodArm: real(200, 1500),
  lengthAtReadingZero: real(100, 1500),
  countsPerMm: real(0.4, 200),
  phiAtAngleZero: real(0, Math.PI),
  direction: fc.constantFrom<1 | -1>(1, -1),
})

describe('degrees', () => {
  it('are the angle itself: 33° is 33°', () => {
    expect(angle({ type: 'degrees' }, 33) / DEG).toBeCloseTo(33, 13)
    expect(readingFromAngle({ type: 'degrees' }, 33 * DEG)).toEqual({ kind: 'reading', reading: 33 })
  })
})

describe('linear-counts', () => {
  it('count either way: 100 counts a degree from 4000 upward, or downward', () => {
    const up: Readout = { type: 'linear-counts', zeroCounts: 4000, countsPerRad: 100 / DEG }
    const down: Readout = { type: 'linear-counts', zeroCounts: 4000, countsPerRad: -100 / DEG }
    expect(angle(up, 4250) / DEG).toBeCloseTo(2.5, 12)
    expect(angle(down, 4250) / DEG).toBeCloseTo(-2.5, 12)
  })

  it('go round trip in either sense, with the slope of a count', () => {
    fc.assert(
      fc.property(
        real(-1e5, 1e5),
        real(50, 1e5),
        fc.constantFrom(1, -1),
        real(-1e5, 1e5),
        (zeroCounts, per, sense, counts) => {
          const readout: Readout = { type: 'linear-counts', zeroCounts, countsPerRad: sense * per }
          const at = angleFromReading(readout, counts)
          if (at.kind !== 'angle') throw new Error('linear counts always have an angle')
          expect(at.perReading).toBeCloseTo(sense / per, 15)
          const back = readingFromAngle(readout, at.angle)
          expect(back.kind === 'reading' && Math.abs(back.reading - counts)).toBeLessThan(1e-9)
          expect(Math.sign(angle(readout, counts + 1) - at.angle)).toBe(sense)
        },
      ),
      seeded,
    )
  })
})

describe('jack', () => {
  it('goes round trip from reading to angle to reading, in either direction, with arms added: to 1e-7 of a count', () => {
    let tried = 0
    fc.assert(
      fc.property(jacks, real(-20, 20), real(-20, 20), real(0.001, 0.999), (j, base, rod, share) => {
        const jack: Jack = { type: 'jack', ...j }
        const [min, max] = closingReadings(jack, base, rod)
        const reading = min + (max - min) * share
        const at = angleFromReading(jack, reading, base, rod)
        if (at.kind !== 'angle') throw new Error(`no triangle at ${share} of its range`)
        const back = readingFromAngle(jack, at.angle, base, rod)
        if (back.kind !== 'reading') throw new Error('no way back')
        // 200 counts/mm × 3 m × 1e-16, near a dead centre a few times more.
        expect(Math.abs(back.reading - reading)).toBeLessThan(1e-7)
        tried++
      }),
      seeded,
    )
    expect(tried).toBe(seeded.numRuns)
  })

  it('goes round trip from angle to reading to angle, to 1e-9 rad away from the dead centres', () => {
    fc.assert(
      fc.property(jacks, real(0.01, Math.PI - 0.01), (j, phi) => {
        const jack: Jack = { type: 'jack', ...j }
        const want = jack.direction * (phi - jack.phiAtAngleZero)
        const reading = readingFromAngle(jack, want)
        if (reading.kind !== 'reading') throw new Error('inside the triangle')
        expect(Math.abs(angle(jack, reading.reading) - want)).toBeLessThan(1e-9)
      }),
      seeded,
    )
  })

  it('opens with the length: angle grows with the reading in direction 1 and falls in direction -1', () => {
    fc.assert(
      fc.property(jacks, real(0.05, 0.9), (j, share) => {
        const jack: Jack = { type: 'jack', ...j }
        const [min, max] = closingReadings(jack)
        const at = (s: number) => angle(jack, min + (max - min) * s)
        expect(Math.sign(at(share + 0.01) - at(share))).toBe(jack.direction)
      }),
      seeded,
    )
  })

  it('has the slopes of central differences: per reading, per mm of either arm', () => {
    fc.assert(
      fc.property(jacks, real(0.1, 0.9), (j, share) => {
        const jack: Jack = { type: 'jack', ...j }
        const [min, max] = closingReadings(jack)
        const reading = min + (max - min) * share
        const at = angleFromReading(jack, reading)
        if (at.kind !== 'angle') throw new Error('inside the triangle')
        const value = (r: number, a: number, b: number) => {
          const y = angleFromReading(jack, r, a, b)
          return y.kind === 'angle' ? y.angle : Number.NaN
        }
        const difference = (f: (x: number) => number, h: number) => (f(h) - f(-h)) / (2 * h)
        const h = (max - min) * 1e-6
        const rel = (got: number, want: number) =>
          expect(Math.abs(got - want)).toBeLessThan(1e-6 * Math.max(Math.abs(want), 1e-3))
        rel(
          difference(x => value(reading + x, 0, 0), h),
          at.perReading,
        )
        rel(
          difference(x => value(reading, x, 0), 1e-3),
          at.perBase,
        )
        rel(
          difference(x => value(reading, 0, x), 1e-3),
          at.perRod,
        )
      }),
      seeded,
    )
  })

  it('says outside the triangle, with the allowed range, instead of NaN: 620 and 410 mm from 560 mm at 1.9 a mm', () => {
    // It closes from |620 - 410| to 620 + 410 mm, that is -665 to 893 counts.
    const jack: Jack = {
      type: 'jack',
      baseArm: 620,
      rodArm: 410,
      lengthAtReadingZero: 560,
      countsPerMm: 1.9,
      phiAtAngleZero: 62.3 * DEG,
      direction: 1,
    }
    for (const reading of [-5000, -666, 894, 5000]) {
      const out = angleFromReading(jack, reading)
      if (out.kind !== 'outside-triangle') throw new Error(`a triangle at ${reading}`)
      expect(out.min).toBeCloseTo(-665, 9)
      expect(out.max).toBeCloseTo(893, 9)
    }
    expect(angleFromReading(jack, -664).kind).toBe('angle')
    expect(angleFromReading(jack, 892).kind).toBe('angle')
    const beyond = readingFromAngle(jack, 118 * DEG)
    expect(beyond.kind).toBe('outside-triangle')
    expect(readingFromAngle(jack, 117 * DEG).kind).toBe('reading')
    expect(readingFromAngle(jack, -63 * DEG).kind).toBe('outside-triangle')
  })

  it('never answers NaN, whatever the reading', () => {
    fc.assert(
      fc.property(jacks, real(-1e9, 1e9), (j, reading) => {
        const at = angleFromReading({ type: 'jack', ...j }, reading)
        if (at.kind === 'angle') {
          expect(Number.isFinite(at.angle) && Number.isFinite(at.perReading)).toBe(true)
          return
        }
        expect(at.min).toBeLessThan(at.max)
        expect(reading <= at.min * (1 - 1e-9) + 1e-6 || reading >= at.max * (1 - 1e-9) - 1e-6).toBe(true)
      }),
      seeded,
    )
  })
})

describe('countsSteps', () => {
  it('is true for counters and false for degrees', () => {
    expect(countsSteps({ type: 'degrees' })).toBe(false)
    expect(countsSteps({ type: 'linear-counts', zeroCounts: 0, countsPerRad: 1 })).toBe(true)
  })
})
