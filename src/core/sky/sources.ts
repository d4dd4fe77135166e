/**
 * Radio sources strong enough for a small dish, or useful as fixed marks; J2000 positions of the radio centroid.
 * A few arcminutes across at most (Cassiopeia A 5′, Taurus A 7′): points, for these beams.
 */
import { type Rad, radFromDeg } from '../units.ts'
import type { FixedDirection } from './almanac.ts'

interface RadioSource extends FixedDirection {
  readonly name: string
}

const hms = (h: number, m: number, s: number): Rad => ((h + m / 60 + s / 3600) * Math.PI) / 12
const dms = (d: number, m: number, s: number): Rad => radFromDeg(d + m / 60 + s / 3600)

// Positions as in SIMBAD (CDS, Strasbourg), rounded to 0.1″ [M]; Sagittarius A* after Reid & Brunthaler 2004.
const TABLE: readonly [RadioSource, ...string[]][] = [
  [{ name: 'Cassiopeia A', ra: hms(23, 23, 24.0), dec: dms(58, 48, 54.0) }, 'Cas A', '3C 461'],
  [{ name: 'Cygnus A', ra: hms(19, 59, 28.36), dec: dms(40, 44, 2.1) }, 'Cyg A', '3C 405'],
  [{ name: 'Taurus A', ra: hms(5, 34, 31.94), dec: dms(22, 0, 52.2) }, 'Tau A', '3C 144', 'M1', 'Crab', 'Crab Nebula'],
  [{ name: 'Virgo A', ra: hms(12, 30, 49.42), dec: dms(12, 23, 28.0) }, 'Vir A', '3C 274', 'M87'],
  [
    { name: 'Sagittarius A*', ra: hms(17, 45, 40.04), dec: -dms(29, 0, 28.1) },
    'Sgr A*',
    'Sagittarius A star',
    'Sgr A star',
  ],
]

const fold = (name: string): string => name.toLowerCase().replace(/[^a-z0-9]/g, '')

const BY_NAME = new Map(
  TABLE.flatMap(([source, ...others]) => [source.name, ...others].map(n => [fold(n), source] as const)),
)

/** The names to show, in the table's order. */
export const SOURCE_NAMES: readonly string[] = TABLE.map(([s]) => s.name)

/** The source of that name, or null. Case, spaces, underscores and other marks do not matter; short names are known. */
export const findSource = (name: string): RadioSource | null => BY_NAME.get(fold(name)) ?? null
