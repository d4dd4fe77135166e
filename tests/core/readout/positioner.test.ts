/**
 * Eleven counts of a real polar dish positioner (tests/authorities/readout/dish-positioner.json: a forum question and the
 * fits that were answered there). The mount's geometry is unknown; the triangle is fitted here, with our jack's slopes.
 */
import { describe, expect, it } from 'vitest'
import { solvePositive, square } from '../../../src/core/matrices.ts'
import type { Jack } from '../../../src/core/readout/jack.ts'
import { angleFromReading, readingFromAngle } from '../../../src/core/readout/readout.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { residualsOfPolynomial, rms } from './polynomial.ts'

const { rows } = authority('readout/dish-positioner.json') as { rows: [number, number][] }
const angles = rows.map(r => r[0])
const counts = rows.map(r => r[1])

/** In lengths of one count: arms, length and corner; the sizes of things only set the scale. */
function missOf(p: readonly number[]): { miss: number[]; partials: number[][] } | null {
  const jack = jackOf(p)
  const miss: number[] = []
  const partials: number[][] = []
  for (const [deg, count] of rows) {
    const at = angleFromReading(jack, count)
    if (at.kind !== 'angle') return null
    miss.push(at.angle - deg * DEG)
    // A longer jack at reading zero is a later count: the same slope, countsPerMm being 1.
    partials.push([at.perBase, at.perRod, at.perReading, 1])
  }
  return { miss, partials }
}

/** Counts fall as the dish goes east: the jack pushes it west, direction -1, so φ grows by as much as the angle falls. */
const jackOf = ([a, b, length, zero]: readonly number[]): Jack => ({
  type: 'jack',
  baseArm: a!,
  rodArm: b!,
  lengthAtReadingZero: length!,
  countsPerMm: 1,
  phiAtAngleZero: zero!,
  direction: -1,
})

/** Levenberg-Marquardt on (a, b, L0, φ0), the angles' squares. */
function fitTriangle(): { p: number[]; rms: number } {
  let p = [9000, 8100, 3000, 70 * DEG]
  let lambda = 1e-3
  let at = missOf(p)!
  for (let i = 0; i < 400; i++) {
    const H = square(4)
    const g = new Float64Array(4)
    at.partials.forEach((row, k) => {
      for (let m = 0; m < 4; m++) {
        g[m]! += row[m]! * at.miss[k]!
        for (let n = 0; n < 4; n++) H.a[4 * m + n]! += row[m]! * row[n]!
      }
    })
    for (let m = 0; m < 4; m++) H.a[5 * m]! *= 1 + lambda
    const step = solvePositive(H, g)
    const next = step === null ? null : p.map((x, k) => x - step[k]!)
    const there = next === null ? null : missOf(next)
    if (next !== null && there !== null && rms(there.miss) <= rms(at.miss)) {
      p = next
      at = there
      lambda /= 5
    } else lambda *= 4
  }
  return { p, rms: rms(at.miss) / DEG }
}

describe('the counts of a polar dish positioner', () => {
  it('fit the law of cosines within 1.0° rms over 94° of travel, where a straight line leaves over 2°', () => {
    const fit = fitTriangle()
    const line = rms(residualsOfPolynomial(counts, angles, 1))
    console.info(
      `positioner: triangle ${fit.rms.toFixed(2)}° rms (arms ${fit.p[0]!.toFixed(0)}, ${fit.p[1]!.toFixed(0)} counts), line ${line.toFixed(2)}°`,
    )
    expect(fit.rms).toBeLessThan(1)
    expect(line).toBeGreaterThan(2)
    // The same triangle the other way, in counts: no worse than a hundredth of the travel.
    const jack = jackOf(fit.p)
    const back = rows.map(([deg, count]) => {
      const at = readingFromAngle(jack, deg * DEG)
      return at.kind === 'reading' ? at.reading - count : Number.NaN
    })
    expect(rms(back)).toBeLessThan(108)
  })

  it('leave 306 counts rms of a line and 36 of a cubic, as those who answered found', () => {
    // Polynomials as published there; their coefficients are rounded, so within 1 count.
    expect(Math.abs(rms(residualsOfPolynomial(angles, counts, 1)) - 306)).toBeLessThan(1)
    expect(Math.abs(rms(residualsOfPolynomial(angles, counts, 3)) - 36)).toBeLessThan(1)
    const line = rows.map(([x, y]) => y - (5177.17 - 120.992 * x))
    expect(Math.abs(rms(line) - 306)).toBeLessThan(1)
  })
})
