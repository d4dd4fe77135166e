/** Stations for tests that want one and no more: invented, legal, without sightings. And the book round them. */
import type { FieldBook, MountKind, StationRecord } from '../../src/core/records/fieldbook.ts'

type ReadoutAxis = StationRecord['mount']['lower']
const degrees = (minReading: number, maxReading: number): ReadoutAxis => ({
  readout: { type: 'degrees' },
  minReading,
  maxReading,
})

/** Counts, ten to the degree, from 0° to 90°. */
export const COUNTED: ReadoutAxis = {
  readout: { type: 'linear-counts', zeroCounts: 0, countsPerDeg: 10 },
  minReading: 0,
  maxReading: 900,
}

/** A 3 m dish for 1296 MHz, elevation over azimuth, degrees on both axes. */
export const gravelPit = (more: Partial<StationRecord> = {}): StationRecord => ({
  id: 'st',
  name: 'Gravel pit',
  site: { latDeg: 47.1, lonDeg: 9.3, heightM: 640 },
  dish: { diameterM: 3, focalRatio: 0.4 },
  feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296 }],
  mount: { kind: 'el-over-az', lower: degrees(0, 360), upper: degrees(0, 90) },
  sightings: [],
  ...more,
})

/** The same with counts on the elevation and a feed whose shadow can be measured. */
export const countedPit = (more: Partial<StationRecord> = {}): StationRecord =>
  gravelPit({
    dish: { diameterM: 3, focalRatio: 0.4, feedDiameterMm: 180 },
    mount: { kind: 'el-over-az', lower: degrees(0, 360), upper: COUNTED },
    ...more,
  })

/** A mount of any kind that looks at the equator's side of the sky, degrees on both axes. */
export const weir = (
  kind: MountKind,
  latDeg: number,
  lower = degrees(0, 90),
  upper = degrees(-45, 45),
): StationRecord =>
  gravelPit({
    name: 'Weir',
    site: { latDeg, lonDeg: 8, heightM: 100 },
    mount: { kind, headingDeg: latDeg < 0 ? 0 : 180, lower, upper },
  })

export const bookOf = (...stations: StationRecord[]): FieldBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: '2026-05-01T00:00:00Z',
  stations,
})
