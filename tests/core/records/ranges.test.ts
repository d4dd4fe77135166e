import { describe, expect, it } from 'vitest'
import { RANGES, type Range, TYPED } from '../../../src/core/records/ranges.ts'

/** Of the fields whose range in the file has another name. */
const FILE: Readonly<Record<string, Range>> = {
  ...RANGES,
  swingSpreadDeg: RANGES.takenSpreadDeg,
  clockOffsetS: RANGES.measure,
  shiftMm: RANGES.measure,
  shiftSigmaMm: RANGES.priorSigma,
  turnSigmaDeg: RANGES.priorSigma,
  levelDb: RANGES.measure,
  riseSigmaDb: RANGES.sigmaDb,
  phaseCentreMm: RANGES.measure,
}

describe('TYPED', () => {
  it.each(Object.entries(TYPED))('%s: what a form takes the file takes', (name, [least, most]) => {
    const [lowest, highest] = FILE[name]!
    expect(least).toBeGreaterThanOrEqual(lowest)
    expect(most).toBeLessThanOrEqual(highest)
    expect([least, most]).not.toEqual([lowest, highest])
  })
})

describe('RANGES', () => {
  it('begin below where they end', () => {
    for (const [least, most] of Object.values(RANGES)) expect(least).toBeLessThan(most)
  })
})
