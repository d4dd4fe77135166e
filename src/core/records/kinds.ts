/** The kinds of records that a book is made of, their keys in the store, and the number that a record carries in a file. */

interface StationList {
  /** What each entry is, as a record of its own; null where the entries belong to the station's own record. */
  kind: string | null
  /** The list may not be left out. */
  needed?: true
  /** Ids that are short and given by a person: unique in the list alone; 'none': they name something else. */
  ids?: 'own' | 'none'
}

/** Every list of a station that holds records: all other code takes the names from here. */
const LISTS = {
  feeds: { kind: null, needed: true, ids: 'own' },
  priors: { kind: null, ids: 'none' },
  adjusters: { kind: null, ids: 'own' },
  sightings: { kind: 'sighting', needed: true },
  levels: { kind: 'level' },
  references: { kind: 'reference' },
  changes: { kind: 'change' },
  scans: { kind: 'scan' },
  noise: { kind: 'noise' },
  clockChecks: { kind: 'clock-check' },
  instruments: { kind: 'instrument', ids: 'own' },
  checks: { kind: 'check' },
  /** What the person adds to the guided alignment: steps left out, numbers carried over. */
  alignment: { kind: 'alignment' },
  /** Sightings that still lack a reading: timed, kept, exported, but not solved. */
  halfSightings: { kind: 'half-sighting' },
} as const satisfies Record<string, StationList>

export type AnyList = keyof typeof LISTS
export const ANY_LISTS = Object.keys(LISTS) as AnyList[]
export const rulesOfList = (list: AnyList): StationList => LISTS[list]

type KindOf = { [L in AnyList as (typeof LISTS)[L]['kind'] extends null ? never : L]: (typeof LISTS)[L]['kind'] }
export type ListName = keyof KindOf
/** Lists whose entries belong to the station's own record. */
type EntryList = Exclude<AnyList, ListName>

/** The lists of a station whose entries are records of their own, and the kind that each entry then has. */
export const RECORD_LISTS = Object.fromEntries(
  ANY_LISTS.map(list => [list, LISTS[list].kind]).filter(([, kind]) => kind !== null),
) as KindOf
export const ENTRY_LISTS = ANY_LISTS.filter((list): list is EntryList => LISTS[list].kind === null)

export type ListKind = KindOf[ListName]
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

/** A record's revision number as a file has it, or null where it is not one (another program may call something else `revision`). */
export const revisionNumber = (value: unknown): number | null =>
  typeof value === 'number' && Number.isInteger(value) && value >= 1 && value <= HIGHEST ? value : null
