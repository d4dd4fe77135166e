/**
 * Whether the mount is within tolerance, and why not. More than a small error is asked for: something must have been used,
 * not too much set aside, and no suspect may stand.
 */
import { dismissedAt, isDismissed } from '../records/dismissed.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import type { Suspect, WhyNot } from '../records/solution.ts'

export interface Judged {
  /** p95 of the error over the sky, and what is allowed; the same unit. */
  p95: number
  tolerance: number
  /** Hours of Moon within reach. */
  hours: number
  used: number
  outliers: number
  suspects: readonly Suspect[]
}

/** With more than this share set aside, the rest is no longer believed. */
const MOST_ASIDE = 1 / 3

const isMostAside = (used: number, outliers: number): boolean => outliers > MOST_ASIDE * (used + outliers)

/** The suspects that the person has not put aside. */
export const standing = (station: StationRecord, suspects: readonly Suspect[]): Suspect[] => {
  const dismissed = dismissedAt(station)
  return suspects.filter(s => !isDismissed(s, dismissed))
}

/** @returns `whyNot` empty where it is within; the weightiest reason first */
export function verdictOf(station: StationRecord, j: Judged): { within: boolean; whyNot: WhyNot[] } {
  const whyNot: WhyNot[] = []
  if (j.used === 0) whyNot.push(j.outliers > 0 ? { kind: 'all-aside', outliers: j.outliers } : { kind: 'no-sightings' })
  for (const s of standing(station, j.suspects)) whyNot.push({ kind: 'suspect', suspect: s.kind })
  if (j.used > 0 && isMostAside(j.used, j.outliers))
    whyNot.push({ kind: 'most-aside', outliers: j.outliers, of: j.used + j.outliers })
  if (j.hours === 0) whyNot.push({ kind: 'out-of-reach' })
  else if (!(j.p95 <= j.tolerance)) whyNot.push({ kind: 'loss' })
  return { within: whyNot.length === 0, whyNot }
}
