/** Pairs for a calibration from a swing: angles between positions, with the errors that they share. */
import type { Swung } from '../level/swing.ts'
import type { Rad } from '../units.ts'
import type { CalibrationGiven, CalibrationPair } from './calibrate.ts'

/**
 * Every clamping has a constant of its own of which nothing is known, two errors from what is left open of its axis, and
 * the sensor's bias on three axes is common to all.
 *
 * @param readings    by clamping, as the positions were handed to the swing
 * @param sensorBias  1 σ on each axis of the sensor
 * @returns           null for a near-vertical axis, which gives no angles
 */
export function pairsFromSwing(
  swung: Swung,
  readings: readonly (readonly number[])[],
  sensorBias: Rad,
): { pairs: CalibrationPair[]; given: CalibrationGiven } | null {
  const n = swung.clampings.length
  const pairs: CalibrationPair[] = []
  for (const [group, c] of swung.clampings.entries()) {
    if (c.turned === null) return null
    for (const [k, angle] of c.turned.entries()) {
      const open: number[] = new Array(2 * n).fill(0)
      open[2 * group] = c.perAxis[k]![0]
      open[2 * group + 1] = c.perAxis[k]![1]
      const shared = [...c.perBias[k]!, ...open]
      pairs.push({ reading: readings[group]![k]!, angle, sigma: c.turnedSigma, group, shared })
    }
  }
  return {
    pairs,
    given: {
      constants: swung.clampings.map(() => null),
      shared: [sensorBias, sensorBias, sensorBias, ...swung.clampings.flatMap(c => [c.axisSigma, c.axisSigma])],
    },
  }
}
