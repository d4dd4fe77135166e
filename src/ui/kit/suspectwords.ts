/** What may be wrong, in a few words each. Small: the first screen has it. */
import type { SuspectKind } from '../../core/records/solution.ts'

export const SUSPECT_WORDS: Readonly<Record<SuspectKind, string>> = {
  'counter-step': 'A counter slipped',
  'clock-or-longitude': 'Clock or longitude',
  'reading-sense': 'A reading counts the other way',
  'east-west-swapped': 'East and west swapped',
  'readings-swapped': 'Readings swapped',
  'wrong-body': 'Sun and Moon mixed up',
  'lost-motion': 'Lost motion',
  'feed-moved': 'The feed moved',
  'scale-far': 'A scale far off',
  'marked-always': 'A sighting used always',
  'two-halves': 'Two halves that do not fit together',
}
