/** A sighting as the solution lists it: used, good to 0.3°, with the model so far right of it and above. */
import type { SolvedSighting } from '../../src/core/records/solution.ts'

export const solved = (rightDeg: number, upDeg: number): SolvedSighting => ({
  id: 'x',
  rightDeg,
  upDeg,
  sigmaDeg: 0.3,
  status: 'used',
})
