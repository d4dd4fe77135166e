/**
 * Records of scans, as they lie in the file: plain JSON, degrees, readings as shown, levels in the scale
 * in which they were read. The list may also hold shapes that this program does not know: they have another `what` (or none), are
 * kept and left alone.
 */
import type { InferOutput } from 'valibot'
import { isLoose, type Loose } from './loose.ts'
import type {
  CrossSampleSchema,
  CrossScanSchema,
  DriftSampleSchema,
  DriftScanSchema,
  EqualMarkSchema,
  SCAN_KINDS,
  ScanPartSchema,
  TapMarkSchema,
} from './schemas/scan.ts'

export type DriftSampleRecord = InferOutput<typeof DriftSampleSchema>
export type CrossSampleRecord = InferOutput<typeof CrossSampleSchema>
export type TapMark = InferOutput<typeof TapMarkSchema>
export type EqualMark = InferOutput<typeof EqualMarkSchema>
export type DriftScanRecord = InferOutput<typeof DriftScanSchema>
export type CrossScanRecord = InferOutput<typeof CrossScanSchema>
export type ScanPartRecord = InferOutput<typeof ScanPartSchema>
export type ScanRecord = DriftScanRecord | CrossScanRecord | ScanPartRecord

const SCAN_WHATS: ReadonlySet<unknown> = new Set<(typeof SCAN_KINDS)[number]>(['drift', 'cross', 'part'])

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
