/** One thing to measure at the outgo: degrees, readings, UTC text. */
import type { Axis, LevelRecord, Method } from '../records/fieldbook.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import type { Step } from './measurements.ts'

export type StepJson = { sigmaDeg: number } & (
  | {
      kind: 'sighting'
      target: 'sun' | 'moon'
      method: Method
      utc: string
      azDeg: number
      elDeg: number
      lower: number
      upper: number
    }
  | { kind: 'level'; what: LevelRecord['what']; lower: number; upper: number }
  | { kind: 'mark'; axis: Axis; mark: string; reading: number }
)

const utcOf = (ms: UtcMs): string => new Date(Math.round(ms)).toISOString().replace('.000Z', 'Z')

export function stepJson(s: Step): StepJson {
  const sigmaDeg = degFromRad(s.sigma)
  if (s.kind === 'level') return { kind: s.kind, what: s.what, lower: s.lower, upper: s.upper, sigmaDeg }
  if (s.kind === 'mark') return { kind: s.kind, axis: s.axis, mark: s.mark, reading: s.reading, sigmaDeg }
  const { kind, target, method, lower, upper } = s
  const [azDeg, elDeg] = [degFromRad(s.az), degFromRad(s.el)]
  return { kind, target, method, utc: utcOf(s.utcMs), azDeg, elDeg, lower, upper, sigmaDeg }
}
