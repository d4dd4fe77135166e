/** Seeded chance for tests: the same seed gives the same numbers on every machine. The rehearsal's own. */
export { type Chance, chance } from '../../src/core/rehearse/seed.ts'
