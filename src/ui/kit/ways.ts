/** The ways from one subject to another: what a screen is called by those that lead to it. */

export const WAYS = {
  noon: 'Noon check',
  storm: 'After a storm',
  noise: 'Noise',
  drift: 'Drift scan',
  cross: 'Cross scan',
  feed: 'Shadow against signal',
  dish: 'Measure the dish',
  reach: 'Will it reach?',
  setUp: 'Set up my station',
  import: 'Import a field book',
  demo: 'Open the demo',
  rehearse: 'Rehearse with a dish that does not exist',
  demoFailed: 'The demo station could not be read. Look at "Ready for the field": a part may be missing.',
  moved: 'Has it moved?',
  stormOpen: 'Storm check: what it says now',
} as const
