/** What the steps of the guided alignment are called, by its own screens and by those that lead to it. */
import type { AlignmentStep } from '../../core/records/alignment.ts'

export const STEP_NAMES: Readonly<Record<AlignmentStep, string>> = {
  'site-clock': 'Place and clock',
  mast: 'Mast plumb',
  axes: 'Axes by level',
  references: 'Marks',
  readouts: 'Readouts',
  heading: 'Rough heading',
  feed: 'Feed on the axis',
  search: 'First search',
  sightings: 'First sightings',
  solve: 'Solution',
  bolts: 'Bolts',
  verify: 'Check on another day',
  carry: 'Into the program',
}
