/** Words of the first screen of an empty phone. */
export const WELCOME = {
  drawing:
    'A dish on a mount with two axes. Its beam passes beside the Moon; the angle between them is what this app finds.',
  what: 'Finds how far your dish points off the Moon, and what to turn or enter in your tracking program.',
  moon: 'Moon',
  beam: 'beam',
  off: 'what is off',
  axes: 'two axes',
  reach: 'Before building: will it reach?',
  stays: 'Everything stays on this phone. Once loaded it needs no network.',
} as const
