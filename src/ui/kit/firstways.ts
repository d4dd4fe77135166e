/** The ways that the first screen leads to: the others, in ways.ts, are not in the first file of JavaScript. */

export const FIRST_WAYS = {
  rehearse: 'Rehearse with a dish that does not exist',
  setUp: 'Set up my station',
  import: 'Import a field book',
  demo: 'Open the demo',
  demoFailed: 'The demo station could not be read. Look at "Ready for the field": a part may be missing.',
} as const
