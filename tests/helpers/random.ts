/** Seeded chance for tests: the same seed gives the same numbers on every machine. The rehearsal's own. */
import { chance } from '../../src/core/rehearse/seed.ts'

export { type Chance, chance } from '../../src/core/rehearse/seed.ts'

/** Nothing but numbers in [0, 1). */
export const seeded = (seed: number): (() => number) => chance(seed).next
