/**
 * What the levels alone have found, before any sighting, and what stays open: by how much each unknown is better known than
 * before. Pure.
 */
import { type Family, familyOf } from '../../core/mount/parameters.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isLevelFitted, type LevelWhat, levelKinds } from '../../core/records/levelkinds.ts'
import type { Solution, SolvedParameter } from '../../core/records/solution.ts'
import type { Found } from './found.ts'

export interface ByLevels {
  /** Known at least twice as well as entered or guessed. */
  found: Found[]
  /** Moved, but still loose. */
  loose: Found[]
  /** What levels have said nothing about: by itself where it matters most, else by its kind. */
  open: Found[]
  openKinds: OpenKind[]
  /** Levels of this mount that the solution would use and that were not measured yet. */
  missing: LevelWhat[]
}
export type OpenKind = 'scale' | 'dish' | 'feed'

/** σ now over σ before. */
const FOUND = 0.5
const LOOSE = 0.9

/** What decides whether the beam is near its target at all. */
const FIRST: ReadonlySet<Family> = new Set(['heading', 'zero', 'level', 'lean', 'pole'])
const OPEN_KINDS: Readonly<Partial<Record<Family, OpenKind>>> = {
  scale: 'scale',
  arms: 'scale',
  play: 'scale',
  feed: 'feed',
  squint: 'feed',
  tube: 'feed',
}
const isFirst = ({ id }: SolvedParameter): boolean => FIRST.has(familyOf(id))

/** Null where there is no level that the solution uses. @param rows  of foundRows, in the order of the parameters */
export function byLevels(solution: Solution, station: StationRecord, rows: readonly Found[]): ByLevels | null {
  const { kind } = station.mount
  const used = (station.levels ?? []).filter(l => isLevelFitted(kind, l.what))
  if (used.length === 0) return null
  const ratio = (p: SolvedParameter) => p.sigma / p.prior.sigma
  const of = (test: (p: SolvedParameter) => boolean) =>
    solution.parameters.flatMap((p, i) => (test(p) ? [rows[i]!] : []))
  const stays = solution.parameters.filter(p => ratio(p) >= LOOSE)
  return {
    found: of(p => ratio(p) < FOUND),
    loose: of(p => ratio(p) >= FOUND && ratio(p) < LOOSE),
    open: of(p => ratio(p) >= LOOSE && isFirst(p)),
    openKinds: [...new Set(stays.filter(p => !isFirst(p)).map(p => OPEN_KINDS[familyOf(p.id)] ?? 'dish'))],
    missing: levelKinds(kind).filter(what => isLevelFitted(kind, what) && !used.some(l => l.what === what)),
  }
}
