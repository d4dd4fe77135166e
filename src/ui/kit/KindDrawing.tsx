/** A kind of mount in ink, small, without words: lower axis solid, upper axis dashed, an arrow round each. */
import { useMemo } from 'preact/hooks'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { dialDrawing } from './dialdrawing-geometry.ts'

export function KindDrawing({ kind, latDeg }: { kind: MountKind; latDeg: number }) {
  const s = useMemo(() => dialDrawing({ kind, latDeg, width: 200 }), [kind, latDeg])
  return (
    <svg class="kind-drawing" viewBox={`30 8 ${s.width - 60} ${s.height - 16}`} aria-hidden="true">
      <path class="kind-fine" d={s.ground} />
      <path class="kind-fine" d={s.mast} />
      <path class="kind-fine" d={s.ribs} />
      <path d={s.rim} />
      <path d={s.beam} />
      <path class="kind-lower" d={s.lower.line} />
      <path class="kind-upper" d={s.upper.line} />
      {[s.lower, s.upper].map(axis => (
        <g key={axis.word}>
          <path d={axis.arc} />
          <path class="kind-full" d={axis.head} />
        </g>
      ))}
    </svg>
  )
}
