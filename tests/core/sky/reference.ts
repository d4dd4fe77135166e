/** What the sky tests share: published examples, and differences reduced. */
import type { EarthFixed } from '../../../src/core/sky/earthfixed.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'

export const ARCSEC = DEG / 3600

// biome-ignore lint/suspicious/noExplicitAny: outside tables, shapes described in their own files
export const published = (name: string): any => {
  // biome-ignore lint/suspicious/noExplicitAny: as above
  const entry = authority('sky/published.json').entries.find((e: any) => e.name === name)
  if (!entry) throw new Error(`no published example "${name}"`)
  return entry
}

export const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length)
export const worst = (values: readonly number[]): number => Math.max(...values.map(Math.abs))

/** Unit vector of right ascension and declination, or any such pair of angles. */
export const sphere = (lon: number, lat: number): Vec3 => [
  Math.cos(lat) * Math.cos(lon),
  Math.cos(lat) * Math.sin(lon),
  Math.sin(lat),
]

export const asVec = (v: EarthFixed): Vec3 => [v.x, v.y, v.z]
