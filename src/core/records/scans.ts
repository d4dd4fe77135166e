/**
 * Records of scans, as they lie in the file: plain JSON, degrees, readings as shown, levels in the scale
 * in which they were read. The list may also hold shapes that this program does not know: they have another `what` (or none), are
 * kept and left alone.
 */
import type { Axis, Side, TargetRecord } from './fieldbook.ts'

interface ScanBase {
  id: string
  /** Start; the samples count their seconds from here. */
  utc: string
  /** Device minus true, as in a sighting. */
  clockOffsetS?: number
  target: TargetRecord
  feed?: string
  /** What the levels are: dB, or linear power in any unit. */
  scale: 'dB' | 'linear'
  /** How the levels came: read off and typed, tapped as they changed, or pasted from a receiver's log. */
  how?: 'typed' | 'tapped' | 'pasted'
  note?: string
  wind?: string
}

export interface DriftSampleRecord {
  /** Seconds after `utc`. */
  s: number
  level: number
  /** Left out by the person: kept, not fitted. */
  out?: true
}

/**
 * Pressed without a figure: the level rises through a place that can be found again, falls through the same one (the last
 * rising one still open), that place was missed, or it stood highest.
 */
export interface TapMark {
  s: number
  mark: 'rising' | 'same' | 'missed' | 'peak'
}

/** The dish stood parked; the target drifted through. */
export interface DriftScanRecord extends ScanBase {
  what: 'drift'
  lower: number
  upper: number
  arrivedFrom?: { lower?: Side; upper?: Side }
  samples: DriftSampleRecord[]
  /** When nothing was listened to, as while the page was hidden. */
  gaps?: { fromS: number; toS: number }[]
  marks?: TapMark[]
  /** How loud the target is over the sky in the beam's centre, where that is known. */
  centre?: { riseDb: number; sigmaDb: number }
  /** What was expected when the dish was parked there. */
  expect?: { peakUtc: string; widthS: number }
}

export interface CrossSampleRecord {
  s: number
  axis: Axis
  lower: number
  upper: number
  level: number
  /** From which side the scanned axis arrived. */
  from?: Side
  /** Left out by the person: kept, not fitted. */
  out?: true
}

/** One of two readings on either side of the peak at one and the same level; both have the same `pair`. */
export interface EqualMark {
  s: number
  axis: Axis
  lower: number
  upper: number
  pair: number
}

/** Levels at readings along each axis. */
export interface CrossScanRecord extends ScanBase {
  what: 'cross'
  samples: CrossSampleRecord[]
  marks?: EqualMark[]
  /** How it was planned: steps in beamwidths; `both`: every axis from either side. */
  plan?: { points: number; step: number; from: Side; axes: Axis[]; both?: boolean }
}

/**
 * More samples of a drift scan: long scans are stored in parts, so that storing each sample at once does not write the whole scan
 * again. `samples` and `gaps` count from the scan's own `utc`.
 */
export interface ScanPartRecord {
  id: string
  what: 'part'
  /** Id of the drift scan that it belongs to. */
  scan: string
  samples: DriftSampleRecord[]
  gaps?: { fromS: number; toS: number }[]
  marks?: TapMark[]
}

export type ScanRecord = DriftScanRecord | CrossScanRecord | ScanPartRecord

type Loose = Record<string, unknown>
const isLoose = (x: unknown): x is Loose => typeof x === 'object' && x !== null && !Array.isArray(x)

export const SCAN_WHATS: ReadonlySet<unknown> = new Set(['drift', 'cross', 'part'])

/** The scans of a station that this program knows the shape of. */
export const knownScans = (list: readonly unknown[] | undefined): ScanRecord[] =>
  (list ?? []).filter((r): r is ScanRecord & Loose => isLoose(r) && SCAN_WHATS.has(r.what))

/** All samples and gaps of a drift scan, its parts included, in order of time. */
export function wholeDrift(
  scan: DriftScanRecord,
  all: readonly ScanRecord[],
): { samples: DriftSampleRecord[]; gaps: { fromS: number; toS: number }[] } {
  const parts = all.filter((r): r is ScanPartRecord => r.what === 'part' && r.scan === scan.id)
  return {
    samples: [...scan.samples, ...parts.flatMap(p => p.samples)].sort((a, b) => a.s - b.s),
    gaps: [...(scan.gaps ?? []), ...parts.flatMap(p => p.gaps ?? [])].sort((a, b) => a.fromS - b.fromS),
  }
}
