/** The kinds of records that a book is made of, their keys in the store, and the number that a record carries in a file. */

/** The lists of a station whose entries are records of their own, and the kind that each entry then has. */
export const RECORD_LISTS = {
  sightings: 'sighting',
  levels: 'level',
  references: 'reference',
  changes: 'change',
  scans: 'scan',
  noise: 'noise',
  clockChecks: 'clock-check',
  instruments: 'instrument',
  checks: 'check',
  /** Sightings that still lack a reading: stamped, kept, exported, but not solved. */
  halfSightings: 'half-sighting',
} as const

export type ListName = keyof typeof RECORD_LISTS
export type ListKind = (typeof RECORD_LISTS)[ListName]
/** 'book' holds the unknown fields at the top of an imported field book; its station is ''. */
export type RecordKind = 'book' | 'station' | ListKind

const escaped = (part: string): string => part.replace(/[%/]/g, c => (c === '%' ? '%25' : '%2F'))

/**
 * The key of a record in the store. A list entry's key contains its station, since entries of two files written by
 * hand may both be called "1".
 */
export function recordId(kind: RecordKind, station: string, own?: string): string {
  if (kind === 'book') return 'book'
  return own === undefined ? `${kind}:${escaped(station)}` : `${kind}:${escaped(station)}/${escaped(own)}`
}

/** The name of a list's entry within its station, from its key in the store. */
export const ownName = (id: string): string =>
  id.slice(id.indexOf('/') + 1).replace(/%2F|%25/g, c => (c === '%25' ? '%' : '/'))

const HIGHEST = 1e9

/** A record's number as a file has it, or null where it is none (another program may call something else `revision`). */
export const revisionNumber = (value: unknown): number | null =>
  typeof value === 'number' && Number.isInteger(value) && value >= 1 && value <= HIGHEST ? value : null
