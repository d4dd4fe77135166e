/** Reads tests/authorities/sky and reduces differences: what the sky tests share. */
import { readFileSync } from 'node:fs'
import type { EarthFixed } from '../../../src/core/sky/earthfixed.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'

export const DEG = Math.PI / 180
export const ARCSEC = DEG / 3600

// biome-ignore lint/suspicious/noExplicitAny: outside tables, shapes described in their own files
export const authority = (name: string): any =>
  JSON.parse(readFileSync(new URL(`../../authorities/sky/${name}`, import.meta.url), 'utf8'))

// biome-ignore lint/suspicious/noExplicitAny: as above
export const published = (name: string): any => {
  // biome-ignore lint/suspicious/noExplicitAny: as above
  const entry = authority('published.json').entries.find((e: any) => e.name === name)
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
