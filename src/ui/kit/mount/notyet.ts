/** What a form of the mount's records still lacks to be one, and how that is said. */

/** What a form still lacks to be a record. */
export type NotYet =
  | 'time'
  | 'lower'
  | 'upper'
  | 'value'
  | 'sigma'
  | 'readings'
  | 'reversal'
  | 'around'
  | 'step'
  | 'mark'
  | 'reading'
  | 'what'
  | 'moved'
  | 'position'
  | 'swing'
  | 'no-kind'

export type Ready<T> = { kind: 'ready'; record: T } | { kind: 'not-yet'; why: NotYet }

export const notYet = (why: NotYet): { kind: 'not-yet'; why: NotYet } => ({ kind: 'not-yet', why })

export const NOT_YET: Readonly<Record<NotYet, string>> = {
  time: 'The time is missing.',
  lower: 'A reading of the mount is missing.',
  upper: 'A reading of the mount is missing.',
  value: 'What the instrument shows is missing.',
  sigma: 'The uncertainty cannot be read yet.',
  readings: 'Both readings are needed.',
  reversal: 'These two readings are no reversal yet.',
  around: 'Three headings with readings are needed, spread round the mast.',
  step: 'How fine the instrument is cannot be read yet.',
  mark: 'The mark has no name yet.',
  reading: 'The reading is missing.',
  what: 'Pick what moved.',
  moved: 'The amount is not whole yet.',
  position: 'The position has no name yet.',
  swing: 'The positions do not give an elevation yet.',
  'no-kind': 'This mount has no level of this kind: the result is above, and nothing is kept.',
}
