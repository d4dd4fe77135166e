/**
 * The mount as it really is, for tests: the rehearsal's (`core/rehearse/mount.ts`), which shares nothing with the solver's
 * chain and is held to the books from outside the project in `tests/core/rehearse/mount.test.ts`.
 */
export { trueReadings } from '../../src/core/rehearse/aimed.ts'
export {
  type LineName,
  offsetDeg,
  readoutAngleDeg,
  type Sides,
  type TrueMount,
  type TruePose,
  type Truth,
  trueMount,
} from '../../src/core/rehearse/mount.ts'
export { apartDeg, type V3 } from '../../src/core/rehearse/turning.ts'
