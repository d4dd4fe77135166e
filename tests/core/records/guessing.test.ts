/** Limits that nobody knows: wide enough to stop nothing, in the readings of whatever the axis shows. */
import { describe, expect, it } from 'vitest'
import { angleFromReading, READOUTS } from '../../../src/core/readout/readout.ts'
import type { ReadoutRecord } from '../../../src/core/records/fieldbook.ts'
import { limitsGuess } from '../../../src/core/records/guessing.ts'
import { readoutFromRecord } from '../../../src/core/records/readouts.ts'

const ARMS = { baseArmMm: 600, rodArmMm: 420, lengthAtReadingZeroMm: 500, countsPerMm: 2, phiAtAngleZeroDeg: 70 }
const RECORDS: Record<ReadoutRecord['type'], ReadoutRecord> = {
  degrees: { type: 'degrees' },
  'linear-counts': { type: 'linear-counts', zeroCounts: 500, countsPerDeg: -12 },
  jack: { type: 'jack', ...ARMS, direction: 1 },
}
const angleDeg = (record: ReadoutRecord, reading: number): number => {
  const at = angleFromReading(readoutFromRecord(record), reading)
  return at.kind === 'angle' ? (at.angle * 180) / Math.PI : Number.NaN
}

describe('limitsGuess', () => {
  it('spans the axis’s travel in the readings of each kind, also where they fall', () => {
    const elevation = (type: ReadoutRecord['type']) => limitsGuess('el-over-az', 'upper', RECORDS[type], {})
    expect(elevation('degrees')).toEqual({ minReading: -20, maxReading: 100 })
    // 500 counts at 0°, 12 fewer a degree.
    expect(elevation('linear-counts')).toEqual({ minReading: -700, maxReading: 740 })
  })

  it.each(Object.keys(READOUTS) as ReadoutRecord['type'][])('of %s are readings that stand for angles', type => {
    const { minReading, maxReading } = limitsGuess('az-over-el', 'upper', RECORDS[type], {})
    const [from, to] = [minReading, maxReading].map(reading => angleDeg(RECORDS[type], reading))
    expect(Math.abs(to! - from!)).toBeGreaterThan(80)
  })

  it('leave a known one as it is, and the other as far from it', () => {
    expect(limitsGuess('x-y', 'lower', RECORDS.degrees, { minReading: 5 })).toEqual({ minReading: 5, maxReading: 205 })
    expect(limitsGuess('x-y', 'lower', RECORDS.degrees, { maxReading: 40 })).toEqual({
      minReading: -160,
      maxReading: 40,
    })
  })
})
