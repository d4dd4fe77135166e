/**
 * Marks that contradict one another: a reading at an end stop or a scribed line proves a counter, or shows what it lost.
 * Radians inside; readings as the counter shows them.
 */
import { AXIS_NAMES } from '../../mount/names.ts'
import { AXIS_SLOTS, trueAngle } from '../../mount/readings.ts'
import { countsSteps } from '../../readout/readout.ts'
import type { Axis } from '../../records/fieldbook.ts'
import type { Suspect } from '../../records/solution.ts'
import type { Station } from '../../records/station.ts'
import { degFromRad, type Rad } from '../../units.ts'
import type { Problem } from '../map.ts'
import type { Reference } from '../observations.ts'
import { builtAt } from '../residuals.ts'

/** References of one mark that disagree by more than this (χ², 1 in 10 000) show a step. */
const REFERENCE_EVIDENCE = 15.1

export const shortUtc = (ms: number): string => `${new Date(ms).toISOString().slice(0, 16).replace('T', ' ')} UTC`

/** In the words of a counter: how far off, which way. A true angle larger than read means that counts went missing. */
export function stepText(
  station: Station,
  axis: Axis,
  jump: Rad,
  sigma: Rad,
  perReading: number,
  from: number,
  to: number,
): { text: string; counts?: number } {
  const where = `between ${shortUtc(from)} and ${shortUtc(to)}`
  const name = AXIS_NAMES[station.model.kind][axis]
  if (!countsSteps(station.model[axis].readout)) {
    const size = `${Math.abs(degFromRad(jump)).toFixed(2)} ± ${degFromRad(sigma).toFixed(2)}°`
    return {
      text: `The ${name} axis reads ${size} ${jump > 0 ? 'less' : 'more'} than before; it changed ${where}.`,
    }
  }
  const counts = jump / perReading
  const size = `${Math.abs(counts).toFixed(0)} ± ${Math.abs(sigma / perReading).toFixed(0)} counts`
  return { text: `The ${name} counter ${counts > 0 ? 'lost' : 'gained'} about ${size}, ${where}.`, counts }
}

export const markText = (before: Reference, after: Reference): string =>
  `The mark "${before.record.mark}" read ${before.record.reading}, then ${after.record.reading}.`

export const STEP_SETTLE =
  'Drive to the end stop or scribed line and read it; if it reads differently from before, record a change of that zero.'

/** What two marks show that do not go together. */
export interface MarkStep extends Omit<Suspect, 'rivals'> {
  before: Reference
  after: Reference
}

/**
 * References of one mark within one value of the zero must agree; those that do not show a step, and are kept out of the
 * fit (they would bend the scale). @returns the consistent ones, and what the others show
 */
export function consistentReferences(
  station: Station,
  problem: Pick<Problem, 'references' | 'priorValue' | 'priorSigma'>,
): { agreed: Reference[]; steps: MarkStep[] } {
  const groups = new Map<string, Reference[]>()
  for (const ref of problem.references) {
    const slots = AXIS_SLOTS[ref.record.axis]
    const key = `${ref.slots[slots.zero]} ${ref.slots[slots.shift]} ${ref.mark}`
    groups.set(key, [...(groups.get(key) ?? []), ref])
  }
  const agreed: Reference[] = []
  const steps: MarkStep[] = []
  for (const group of groups.values()) {
    const sorted = [...group].sort((a, b) => a.utcMs - b.utcMs)
    const angles = sorted.map(r => {
      const at = trueAngle(station.model, builtAt(problem.priorValue, r.slots), r.record.axis, r.record.reading)
      return at.kind === 'angle' ? at : null
    })
    let isBroken = false
    for (let k = 1; k < sorted.length; k++) {
      const a = angles[k - 1]
      const b = angles[k]
      if (!a || !b) continue
      const before = sorted[k - 1]!
      const after = sorted[k]!
      const { axis } = before.record
      const sigma = Math.hypot(before.sigma, after.sigma)
      // The mark stayed, the reading moved: what the zero must have jumped by.
      const jump = a.angle - b.angle
      const chi2 = (jump / sigma) ** 2
      if (chi2 < REFERENCE_EVIDENCE) continue
      isBroken = true
      const said = stepText(station, axis, jump, sigma, b.perReading, before.utcMs, after.utcMs)
      steps.push({
        kind: 'counter-step',
        text: `${said.text} ${markText(before, after)}`,
        deltaChi2: chi2,
        settle:
          'Record a change of that zero at the moment when it slipped, if it is known, else at the later reading of the mark.',
        axis,
        between: [before.record.id, after.record.id],
        betweenUtc: [before.record.utc, after.record.utc],
        ...(said.counts === undefined ? {} : { counts: said.counts }),
        angleDeg: degFromRad(jump),
        sigmaDeg: degFromRad(sigma),
        before,
        after,
      })
    }
    if (!isBroken) agreed.push(...group)
  }
  return { agreed, steps }
}
