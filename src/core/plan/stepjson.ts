/** One thing to measure, as JSON: degrees, readings, UTC text. */
import type { Axis, LevelRecord } from '../records/fieldbook.ts'
import { utcFromMs } from '../records/instant.ts'
import type { SightingToMakeJson } from '../records/solution.ts'
import { degFromRad } from '../units.ts'
import type { MeasurementStep } from './measurements.ts'

export type StepJson = { sigmaDeg: number } & (
  | ({ kind: 'sighting' } & SightingToMakeJson)
  | { kind: 'level'; what: LevelRecord['what']; lower: number; upper: number }
  | { kind: 'mark'; axis: Axis; mark: string; reading: number }
)

export function stepJson(s: MeasurementStep): StepJson {
  const sigmaDeg = degFromRad(s.sigma)
  if (s.kind === 'level') return { kind: s.kind, what: s.what, lower: s.lower, upper: s.upper, sigmaDeg }
  if (s.kind === 'mark') return { kind: s.kind, axis: s.axis, mark: s.mark, reading: s.reading, sigmaDeg }
  const { kind, target, method, lower, upper } = s
  const [azDeg, elDeg] = [degFromRad(s.az), degFromRad(s.el)]
  return { kind, target, method, utc: utcFromMs(s.utcMs), azDeg, elDeg, lower, upper, sigmaDeg }
}
