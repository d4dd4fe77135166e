/** As ways.ts, of the subjects that no first screen leads to: not in the first file of JavaScript. */

export const MORE_WAYS = {
  program: 'Compare a program',
  search: 'First search',
  report: 'Field report, one page',
} as const
