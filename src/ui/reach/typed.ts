/** What is typed under “Will it reach?”, letter by letter. */
import type { MountKind } from '../../core/records/fieldbook.ts'

export const LIMIT_FIELDS = ['lowerMin', 'lowerMax', 'upperMin', 'upperMax'] as const
export type LimitField = (typeof LIMIT_FIELDS)[number]

/** A planned mount: its limits are angles. */
export type Variant = { kind: MountKind | ''; heading: string; offset: string } & Record<LimitField, string>
export type Which = 'a' | 'b'

export interface ReachForm {
  lat: string
  lon: string
  minEl: string
  /** Height of the skyline in each of the eight winds; empty: clear. */
  skyline: string[]
  a: Variant
  /** True where there is a second mount. */
  hasB: boolean
  b: Variant
}
