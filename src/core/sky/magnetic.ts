/**
 * Where a compass points: the angle from true to magnetic north, + east, by the World Magnetic Model 2025. The only door
 * to the library (magvar), which is not used outside the model's years. The model itself is good to about 0.4°, and knows
 * nothing of iron nearby. Source: WMM2025, NOAA NCEI and British Geological Survey, public domain.
 */
import { calculateMagneticField } from 'magvar'
import { type Deg, degFromRad, type Metres, type UtcMs } from '../units.ts'

export type Declination =
  | {
      kind: 'declination'
      /** True = magnetic + declination; + east. */
      deg: Deg
      /** What turns the needle, nT. */
      horizontalNt: number
      /** Near a magnetic pole: below 6000 nT a compass is doubtful, below 2000 useless (WMM's own zones). */
      needle: 'good' | 'doubtful' | 'useless'
    }
  /** The model holds from 2025 up to 2030. */
  | { kind: 'outside-years'; year: number }

const MODEL_YEARS = [2025, 2030] as const
/** 1 σ of a compass reading near a steel mast, read 3 m away: common practice, no source. */
export const COMPASS_SIGMA_DEG: Deg = 15

/** 2026.5 at the middle of 2026. */
export function decimalYear(utcMs: UtcMs): number {
  const year = new Date(utcMs).getUTCFullYear()
  const [start, next] = [Date.UTC(year, 0, 1), Date.UTC(year + 1, 0, 1)]
  return year + (utcMs - start) / (next - start)
}

/** @param year  decimal year */
export function declinationAt(place: { latDeg: Deg; lonDeg: Deg; heightM: Metres }, year: number): Declination {
  if (!(year >= MODEL_YEARS[0] && year <= MODEL_YEARS[1])) return { kind: 'outside-years', year }
  const { x, y, h } = calculateMagneticField(year, place.latDeg, place.lonDeg, place.heightM / 1000)
  // From the components, since the library rounds its own angle to 0.01°.
  const needle = h < 2000 ? 'useless' : h < 6000 ? 'doubtful' : 'good'
  return { kind: 'declination', deg: degFromRad(Math.atan2(y, x)), horizontalNt: h, needle }
}

/** The true heading, 0 to 360, of a magnetic one. */
export const trueHeading = (magneticDeg: Deg, declinationDeg: Deg): Deg =>
  (((magneticDeg + declinationDeg) % 360) + 360) % 360
