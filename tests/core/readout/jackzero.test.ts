/** The zero of a jack's axis from a known pose. */
import { describe, expect, it } from 'vitest'
import { phiAtZeroFromPose } from '../../../src/core/readout/jackzero.ts'
import { angleFromReading } from '../../../src/core/readout/readout.ts'
import { DEG } from '../../helpers/degrees.ts'

const jack = { baseArm: 620, rodArm: 410, lengthAtReadingZero: 560, countsPerMm: 1.9, direction: 1 as const }

describe('phiAtZeroFromPose', () => {
  it('makes the readout show the known angle at the known reading, either direction', () => {
    for (const direction of [1, -1] as const) {
      const phi = phiAtZeroFromPose({ ...jack, direction }, 400, 12 * DEG)!
      const read = angleFromReading({ type: 'jack', ...jack, direction, phiAtAngleZero: phi }, 400)
      expect(read.kind === 'angle' && read.angle / DEG).toBeCloseTo(12, 9)
    }
  })
  it('is no answer where the triangle does not close', () => {
    expect(phiAtZeroFromPose(jack, 5000, 0)).toBeNull()
  })
})
