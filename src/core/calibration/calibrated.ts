/**
 * What a calibration writes into a station: the axis's readout with the corrections in it, and what is now known of its
 * parameters as measured priors. Radians in, records in degrees out.
 */
import { splitPriorId } from '../fit/parameters.ts'
import { rounded } from '../records/digits.ts'
import type { Axis, PairRecord, ParameterId, PriorRecord, StationRecord } from '../records/fieldbook.ts'
import { type Guess, withoutGuesses } from '../records/guesses.ts'
import { recordFromReadout } from '../records/readouts.ts'
import { degFromRad } from '../units.ts'
import type { Calibrated, Estimate } from './calibrate.ts'

/** What the calibration knows, as measured priors. What is in the readout already is 0 with its σ. */
export function calibratedPriors(axis: Axis, c: Calibrated): PriorRecord[] {
  const name = (what: string): ParameterId => `${axis}${what}` as ParameterId
  const inReadout = c.isInReadout
  const angle = (what: string, e: Estimate, within: boolean): PriorRecord => ({
    id: name(what),
    value: within ? 0 : rounded(degFromRad(e.value), 5),
    sigma: rounded(Math.max(1e-4, degFromRad(e.sigma)), 5),
    measured: true,
  })
  const out: PriorRecord[] = []
  if (c.zero) out.push(angle('Zero', c.zero, inReadout))
  if (c.scale)
    out.push({
      id: name('Scale'),
      value: inReadout ? 0 : rounded(c.scale.value, 6),
      sigma: rounded(Math.max(1e-6, c.scale.sigma), 6),
      measured: true,
    })
  if (c.lengths)
    for (const [what, e] of [
      ['BaseArm', c.lengths.base],
      ['RodArm', c.lengths.rod],
    ] as const)
      out.push({ id: name(what), value: 0, sigma: rounded(Math.max(1e-3, e.sigma), 3), measured: true })
  if (c.play && c.play.value > 0) out.push(angle('Play', c.play, false))
  return out
}

const READOUT_GUESSES = [
  'readout',
  'readout.zeroCounts',
  'readout.baseArmMm',
  'readout.rodArmMm',
  'readout.phiAtAngleZeroDeg',
] as const

/** The station with the calibration in it, its other priors untouched. */
export function withCalibration(
  station: StationRecord,
  axis: Axis,
  c: Calibrated,
  kept: { utc: string; pairs: readonly PairRecord[] },
): StationRecord {
  const fresh = calibratedPriors(axis, c)
  const replaced = new Set<string>(fresh.map(p => p.id))
  const others = (station.priors ?? []).filter(p => !replaced.has(splitPriorId(p).id))
  const { mount } = station
  // What was a guess of this readout has been measured now.
  const measured = READOUT_GUESSES.map((name): Guess => `mount.${axis}.${name}`)
  return {
    ...withoutGuesses(station, measured),
    priors: [...others, ...fresh],
    mount: {
      ...mount,
      [axis]: {
        ...mount[axis],
        readout: recordFromReadout(c.readout),
        calibration: { ...kept, pairs: [...kept.pairs] },
      },
    },
  }
}
