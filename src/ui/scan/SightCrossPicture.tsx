/** A cross scan drawn, one plot an arm, and described as it stands: the same while it runs and afterwards. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { CrossScanRecord } from '../../core/records/scans.ts'
import { askCrossFit, type CrossAnswerJson, type Told } from '../../state/scanasks.ts'
import { crossToFit } from '../../state/scans.ts'
import { useAsked } from '../kit/asked.ts'
import { axisName } from '../kit/phrases.ts'
import { ScanPlot } from './ScanPlot.tsx'
import { FailedNote, ScanVerdict } from './SightDriftParts.tsx'
import { crossSays } from './says.ts'
import { armCurve, type ScanDrawing } from './scan-geometry.ts'
import { CROSS } from './words.ts'

export function useCrossFit(station: StationRecord, scan: CrossScanRecord, width: 'free' | 'known' = 'known') {
  const whole = crossToFit(scan)
  const key = JSON.stringify([scan.id, width, whole.samples])
  const isEmpty = whole.samples.length === 0
  const { told, value, asking } = useAsked(isEmpty ? null : key, () => askCrossFit(station, whole, width))
  return { answer: value, isFresh: !asking, told }
}

/** The arms as they are drawn: places from the fitted peak. */
function armDrawings(
  scan: CrossScanRecord,
  answer: CrossAnswerJson | null,
): { axis: 'lower' | 'upper'; drawing: ScanDrawing }[] {
  if (answer?.kind !== 'peak') return []
  return answer.arms.map(arm => ({
    axis: arm.axis,
    drawing: {
      along: { kind: 'place' },
      scale: scan.scale,
      levels: arm.samples.map(s => ({
        id: String(s.index),
        x: s.placeDeg,
        level: s.level,
        state: s.isKept ? ('kept' as const) : ('aside' as const),
      })),
      curve: armCurve(arm.samples, answer.widthDeg, scan.scale),
      gaps: [],
      peak: { x: 0, sigma: 0 },
      expected: null,
    },
  }))
}

export function CrossPicture({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { answer, told } = useCrossFit(station, scan)
  return <Arms station={station} scan={scan} answer={answer} told={told} />
}

export function Arms(p: {
  station: StationRecord
  scan: CrossScanRecord
  answer: CrossAnswerJson | null
  told: Told<unknown>
}) {
  const { station, scan, answer } = p
  const arms = useMemo(() => armDrawings(scan, answer), [scan, answer])
  return (
    <>
      {answer !== null && <ScanVerdict said={crossSays(station.mount, answer)} />}
      <FailedNote told={p.told} />
      {arms.map(arm => (
        <div key={arm.axis}>
          <h2>{CROSS.plot(axisName(station.mount, arm.axis))}</h2>
          <ScanPlot title={CROSS.plot(axisName(station.mount, arm.axis))} drawing={arm.drawing} />
        </div>
      ))}
    </>
  )
}
