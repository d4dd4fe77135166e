/**
 * Two real solar mirrors, each moved by two linear actuators, with the joint angle proved by Sun and light spot.
 * Source: PAINT open data, doi:10.1038/s41560-026-02070-1 (tests/authorities/readout/heliostats.json).
 */
import { describe, expect, it } from 'vitest'
import { includedAngle, type Jack } from '../../../src/core/readout/jack.ts'
import { angleFromReading, readingFromAngle } from '../../../src/core/readout/readout.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'
import { residualsOfPolynomial, rms } from './polynomial.ts'

const { mirrors } = authority('readout/heliostats.json') as {
  mirrors: Record<string, { actuators: number[][]; rows: number[][] }>
}

/**
 * Their geometry as our jack. Theirs: joint angle = initial ± (included(0) - included(counts)), + where clockwise. Ours:
 * angle = direction (φ - φ at angle zero): direction is -1 where clockwise, and φ at angle zero = included(0) ± initial.
 */
function jackOf([incrementPerM, strokeM, offsetM, pivotM, initial, clockwise]: number[]): Jack {
  const sign = clockwise === 1 ? 1 : -1
  const lengthAtReadingZero = 1000 * strokeM!
  const [baseArm, rodArm] = [1000 * offsetM!, 1000 * pivotM!]
  return {
    type: 'jack',
    baseArm,
    rodArm,
    lengthAtReadingZero,
    countsPerMm: incrementPerM! / 1000,
    phiAtAngleZero: includedAngle(lengthAtReadingZero, baseArm, rodArm)!.phi + sign * initial!,
    direction: sign === 1 ? -1 : 1,
  }
}

describe('jacks of two solar mirrors', () => {
  for (const [name, { actuators, rows }] of someOf(Object.entries(mirrors))) {
    for (const axis of [0, 1] as const) {
      const jack = jackOf(actuators[axis]!)
      const counts = rows.map(r => r[3 * axis]!)
      const measured = rows.map(r => r[3 * axis + 1]!)
      const nominal = rows.map(r => r[3 * axis + 2]!)
      const angles = counts.map(c => {
        const at = angleFromReading(jack, c)
        return at.kind === 'angle' ? at.angle / DEG : Number.NaN
      })

      it(`${name} axis ${axis + 1}: counts become the angle of the published geometry, to 0.001°, and back`, () => {
        angles.forEach((a, i) => {
          expect(Math.abs(a - nominal[i]!)).toBeLessThan(1e-3)
          const back = readingFromAngle(jack, a * DEG)
          expect(back.kind === 'reading' && Math.abs(back.reading - counts[i]!)).toBeLessThan(1e-6)
        })
      })

      it(`${name} axis ${axis + 1}: after one free zero the triangle leaves below ${axis ? 0.2 : 0.5}° rms of what Sun and spot measured`, () => {
        const left = rms(
          residualsOfPolynomial(
            angles,
            measured.map((m, i) => m - angles[i]!),
            0,
          ),
        )
        const line = rms(residualsOfPolynomial(counts, measured, 1))
        console.info(
          `${name} axis ${axis + 1}: ${rows.length} poses, triangle ${left.toFixed(3)}° rms, straight line ${line.toFixed(2)}°`,
        )
        // Axis 1 carries the mount's own tilt as well: 0.5°.
        expect(left).toBeLessThan(axis ? 0.2 : 0.5)
        if (axis === 1) {
          // What a slope and a zero alone would cost: about 1° over 60° of travel.
          expect(line).toBeGreaterThan(0.9)
          expect(line).toBeLessThan(1.3)
        }
      })
    }
  }
})
