import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { closingReadings, includedAngle, type Jack, lengthFromIncludedAngle } from '../../../src/core/readout/jack.ts'
import { angleFromReading, readingFromAngle } from '../../../src/core/readout/readout.ts'
import { DEG } from '../../helpers/degrees.ts'

const INCH = 25.4
const seeded = { seed: 20260501, numRuns: 1000 }
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })

describe('the struts of two published earth stations', () => {
  // Inches, L = √(squares - twice cos(corner + angle)). 5.6 m antenna: f.unpad.ac.id/orari … andrew/IQMaster/html/
  // 237029-8.html; 9.3 m: marine.manualsonline.com, 93meter_esa, p. 65. Pivot distances are not printed there: that the
  // constants give round ones, 69.000 and 36.375 in, and 77.2741 and 40.000 in, is worked out, and a check of its own.
  const STRUTS = {
    'elevation, 5.6 m': { squares: 15449.8552, twice: 7926.1941, corner: 43.4283 },
    'azimuth, 5.6 m': { squares: 6084.1406, twice: 5019.75, corner: 105 },
    'elevation, 9.3 m': { squares: 26259.774, twice: 14970.1377, corner: 27.0362 },
    'azimuth, 9.3 m': { squares: 7571.2865, twice: 6181.928, corner: 105 },
  }
  const pivots = ({ squares, twice }: { squares: number; twice: number }): [number, number] => {
    const sum = Math.sqrt(squares + twice)
    const difference = Math.sqrt(squares - twice)
    return [(sum + difference) / 2, (sum - difference) / 2]
  }
  const jackOf = (s: { squares: number; twice: number; corner: number }): Jack => {
    const [a, b] = pivots(s)
    return {
      type: 'jack',
      baseArm: a * INCH,
      rodArm: b * INCH,
      lengthAtReadingZero: 60 * INCH,
      countsPerMm: 1 / INCH, // a reading is an inch beyond 60 in
      phiAtAngleZero: s.corner * DEG,
      direction: 1,
    }
  }
  const lengthAt = (jack: Jack, deg: number): number => {
    const at = readingFromAngle(jack, deg * DEG)
    return at.kind === 'reading' ? 60 + at.reading : Number.NaN
  }

  it('have their pivots 69.000 and 36.375 in (5.6 m) and 77.2741 and 40.000 in (9.3 m) apart', () => {
    const [a, b] = pivots(STRUTS['azimuth, 5.6 m'])
    // The constants are printed to 1e-4 in²: 1e-6 in of arm.
    expect(Math.abs(a - 69)).toBeLessThan(1e-5)
    expect(Math.abs(b - 36.375)).toBeLessThan(1e-5)
    const [c, d] = pivots(STRUTS['azimuth, 9.3 m'])
    expect(Math.abs(c - 77.2741)).toBeLessThan(5e-5)
    expect(Math.abs(d - 40)).toBeLessThan(5e-5)
  })

  it('are 103.5722, 114.8442, 123.4198, 131.4935, 140.7705 in long at elevation 10, 30, 45, 60, 80°, to 0.001 in', () => {
    const jack = jackOf(STRUTS['elevation, 5.6 m'])
    for (const [el, inches] of [
      [10, 103.5722],
      [30, 114.8442],
      [45, 123.4198],
      [60, 131.4935],
      [80, 140.7705],
    ] as const)
      expect(Math.abs(lengthAt(jack, el) - inches)).toBeLessThan(1e-3)
  })

  it('grow by 0.5363, 0.5773, 0.5602, 0.5116, 0.4101 in a degree there: the slope changes by 1.4 over the travel', () => {
    const jack = jackOf(STRUTS['elevation, 5.6 m'])
    for (const [el, slope] of [
      [10, 0.5363],
      [30, 0.5773],
      [45, 0.5602],
      [60, 0.5116],
      [80, 0.4101],
    ] as const) {
      const at = angleFromReading(jack, lengthAt(jack, el) - 60)
      if (at.kind !== 'angle') throw new Error('no triangle')
      expect(Math.abs(DEG / at.perReading - slope)).toBeLessThan(6e-5)
    }
  })

  for (const [name, strut] of Object.entries(STRUTS)) {
    it(`follow the printed formula and come back from length to angle, ${name}`, () => {
      const jack = jackOf(strut)
      for (let angle = name.startsWith('el') ? 5 : -60; angle <= (name.startsWith('el') ? 85 : 60); angle += 5) {
        const printed = Math.sqrt(strut.squares - strut.twice * Math.cos((strut.corner + angle) * DEG))
        expect(Math.abs(lengthAt(jack, angle) - printed)).toBeLessThan(1e-9)
        const back = angleFromReading(jack, printed - 60)
        expect(back.kind === 'angle' && back.angle / DEG).toBeCloseTo(angle, 9)
      }
    })
  }
})

describe('includedAngle and lengthFromIncludedAngle', () => {
  it('agree with arms of 700 and 450 mm: 383.281, 614.410, 832.166, 1003.743 mm at 30, 60, 90, 120°', () => {
    // The law of cosines by hand, not published, with the moment arm a b sin φ / L.
    for (const [deg, length, arm] of [
      [30, 383.281, 410.926],
      [60, 614.41, 444.0],
      [90, 832.166, 378.53],
      [120, 1003.743, 271.781],
    ] as const) {
      const L = lengthFromIncludedAngle(deg * DEG, 700, 450)
      expect(Math.abs(L - length)).toBeLessThan(1e-3)
      const corner = includedAngle(L, 700, 450)!
      expect(corner.phi / DEG).toBeCloseTo(deg, 9)
      expect(Math.abs(1 / corner.perLength - arm)).toBeLessThan(1e-3)
    }
    expect(includedAngle(850, 700, 450)!.phi / DEG).toBeCloseTo(92.7294, 4)
  })

  it('change with arms and length as central differences say, to 1e-8 rad per mm', () => {
    fc.assert(
      fc.property(real(200, 1500), real(200, 1500), real(0.1, 3), (a, b, phi) => {
        const L = lengthFromIncludedAngle(phi, a, b)
        const corner = includedAngle(L, a, b)!
        const h = 1e-3
        const slope = (f: (x: number) => number) => (f(h) - f(-h)) / (2 * h)
        const near = (got: number, want: number) => expect(Math.abs(got - want)).toBeLessThan(1e-8)
        near(
          corner.perLength,
          slope(x => includedAngle(L + x, a, b)?.phi ?? Number.NaN),
        )
        near(
          corner.perBase,
          slope(x => includedAngle(L, a + x, b)?.phi ?? Number.NaN),
        )
        near(
          corner.perRod,
          slope(x => includedAngle(L, a, b + x)?.phi ?? Number.NaN),
        )
      }),
      seeded,
    )
  })

  it('is null where no triangle closes, and at the dead centres themselves, where a jack has no lever', () => {
    for (const length of [0, -5, 249, 250, 1150, 1151, Number.NaN]) expect(includedAngle(length, 700, 450)).toBeNull()
    expect(includedAngle(250.001, 700, 450)).not.toBeNull()
    expect(includedAngle(1149.999, 700, 450)).not.toBeNull()
    expect(includedAngle(500, 0, 450)).toBeNull()
  })
})

describe('closingReadings', () => {
  it('are |a - b| and a + b in counts: 250 and 1150 mm of a 700 and 450 mm jack', () => {
    const jack: Jack = {
      type: 'jack',
      baseArm: 700,
      rodArm: 450,
      lengthAtReadingZero: 420,
      countsPerMm: 2,
      phiAtAngleZero: 1,
      direction: 1,
    }
    expect(closingReadings(jack)).toEqual([-340, 1460])
    expect(closingReadings(jack, 10, -10)).toEqual([-300, 1460])
  })
})
