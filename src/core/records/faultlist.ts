/**
 * A list of faults that a hostile file cannot grow without end: the first hundred are kept, some more are counted,
 * and then the checking may stop.
 */
import type { Fault } from './answer.ts'

const KEPT = 100
const COUNTED = 1000

export interface FaultList {
  add(path: string, rule: string): void
  /** True when enough is known: what is still unread need not be checked. */
  isFull(): boolean
  /** How many so far. */
  count(): number
  /** The faults kept, and a last line that says how many more there are. */
  all(): Fault[]
}

export function faultList(): FaultList {
  const kept: Fault[] = []
  let count = 0
  return {
    add(path, rule) {
      count += 1
      if (count <= KEPT) kept.push({ path, rule })
    },
    isFull: () => count >= COUNTED,
    count: () => count,
    all() {
      if (count <= KEPT) return kept
      const more = `${count >= COUNTED ? 'at least ' : ''}${count - KEPT}`
      return [...kept, { path: '', rule: `and ${more} more broken rules, not listed` }]
    },
  }
}
