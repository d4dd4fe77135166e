/**
 * A list of faults that a hostile file cannot grow without end, and that a person can read: a rule broken the same way by
 * record after record is reported a few times, with how many more there are. The first hundred are kept, some more are
 * counted, and the checking may stop.
 */
import type { Fault } from './answer.ts'

const KEPT = 100
const COUNTED = 1000
/** Faults of one kind that are reported one by one; of more, the first ones. */
const EACH = 3

export interface FaultCollector {
  add(path: string, rule: string): void
  /** True when enough is known: what is still unread need not be checked. */
  isFull(): boolean
  /** How many so far. */
  count(): number
  /** The faults kept, and a last line that says how many more there are. */
  all(): Fault[]
}

/** The same for two faults that differ only in which record it is and what stands there. */
const kindOf = (path: string, rule: string): string =>
  `${path.replace(/\[\d+\]/g, '[]')} ${rule.replace(/\[\d+\]|"(?:[^"\\]|\\.)*"|-?\d[\d.e+-]*/g, '#')}`

export function faultList(): FaultCollector {
  const kept: { fault: Fault; kind: string }[] = []
  const kinds = new Map<string, number>()
  let count = 0
  return {
    add(path, rule) {
      count += 1
      const kind = kindOf(path, rule)
      const before = kinds.get(kind) ?? 0
      kinds.set(kind, before + 1)
      if (before < EACH) kept.push({ fault: { path, rule }, kind })
    },
    isFull: () => count >= COUNTED,
    count: () => count,
    all() {
      const atLeast = count >= COUNTED ? 'at least ' : ''
      const told: Fault[] = []
      const said = new Set<string>()
      let left = count
      for (const { fault, kind } of kept) {
        const n = kinds.get(kind)!
        if (said.has(kind)) continue
        if (told.length === KEPT) break
        left -= n > EACH ? n : 1
        if (n <= EACH) {
          told.push(fault)
          continue
        }
        said.add(kind)
        told.push({ path: fault.path, rule: `${fault.rule} (and ${atLeast}${n - 1} more like it)` })
      }
      return left === 0 ? told : [...told, { path: '', rule: `and ${atLeast}${left} more broken rules, not listed` }]
    },
  }
}
