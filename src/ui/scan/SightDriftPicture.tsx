/** A drift scan drawn and described as it stands: the same picture while it runs and afterwards. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { DriftScanRecord, ScanRecord } from '../../core/records/scans.ts'
import { askDriftFit, type DriftAnswerJson, type Told } from '../../state/scanasks.ts'
import { driftToFit, type HeardLevel, heardIn } from '../../state/scans.ts'
import { useAsked } from '../kit/asked.ts'
import { ScanPlot } from './ScanPlot.tsx'
import { FailedNote, ScanVerdict } from './SightDriftParts.tsx'
import { driftSays } from './says.ts'
import type { ScanDrawing } from './scan-geometry.ts'
import { DRIFT } from './words.ts'

interface PictureProps {
  station: StationRecord
  records: readonly ScanRecord[]
  scan: DriftScanRecord
}

/** Fewer levels make no fit: nothing is asked. */
const LEAST = 6

/** The fit of the levels that count; asked for again when a level is added or left out, or the width is changed. */
export function useDriftFit(p: PictureProps, width: 'free' | 'known' = 'free') {
  const { station, records, scan } = p
  const whole = driftToFit(records, scan)
  const count = whole.samples.length
  const key = JSON.stringify([scan.id, width, whole.samples, scan.lower, scan.upper, scan.centre ?? null])
  const { told, value, asking } = useAsked(count < LEAST ? null : key, () => askDriftFit(station, whole, width))
  const few: DriftAnswerJson = { kind: 'too-few', samples: count, needed: LEAST }
  return { answer: count < LEAST ? few : value, isFresh: !asking, told }
}

export const levelId = (s: HeardLevel): string => `${s.at.record} ${s.at.index}`

function drawingOf(
  scan: DriftScanRecord,
  heard: ReturnType<typeof heardIn>,
  answer: DriftAnswerJson | null,
): ScanDrawing {
  const fit = answer?.kind === 'peak' ? answer : null
  const startMs = instantMs(scan.utc)
  // Indices of the fit count only what was handed to it.
  let counted = -1
  const aside = new Set([...(fit?.spikes ?? []), ...(fit?.clipped ?? [])])
  return {
    along: { kind: 'time', startMs },
    scale: scan.scale,
    levels: heard.samples.map(s => {
      if (s.out !== true) counted++
      const state = s.out === true ? 'out' : aside.has(counted) ? 'aside' : 'kept'
      return { id: levelId(s), x: s.s, level: s.level, state }
    }),
    curve: fit === null ? [] : fit.curve.map(c => ({ x: c.s, level: c.level })),
    gaps: heard.gaps.map(g => ({ from: g.fromS, to: g.toS })),
    peak: fit === null ? null : { x: fit.peakS, sigma: fit.sigmaS },
    expected: scan.expect === undefined ? null : (instantMs(scan.expect.peakUtc) - startMs) / 1000,
  }
}

export function DriftPicture(p: PictureProps) {
  const { answer, told } = useDriftFit(p)
  return <DriftAnswerPicture {...p} answer={answer} told={told} />
}

export function DriftAnswerPicture(p: PictureProps & { answer: DriftAnswerJson | null; told: Told<unknown> }) {
  const { scan, records, answer } = p
  const drawing = useMemo(() => drawingOf(scan, heardIn(records, scan), answer), [scan, records, answer])
  return (
    <>
      {answer !== null && <ScanVerdict said={driftSays(answer)} />}
      <FailedNote told={p.told} />
      {drawing.levels.length > 0 && <ScanPlot title={DRIFT.plot} drawing={drawing} />}
    </>
  )
}
