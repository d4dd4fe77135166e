/** A dish cut through the middle: what to tape, and where its focus is. */
import { useMemo } from 'preact/hooks'
import type { Bowl } from '../../core/dish/paraboloid.ts'
import type { LengthUnit } from '../kit/format.ts'
import { Plot } from '../kit/Plot.tsx'
import { bowlShapes } from './bowl-geometry.ts'

export function BowlPlot({ bowl, unit }: { bowl: Bowl; unit: LengthUnit }) {
  const s = useMemo(() => bowlShapes(bowl, unit), [bowl, unit])
  const { line, depth, focus, rim, labels } = s
  return (
    <Plot title="The dish from the side" words={s.words} width={s.width} height={s.height}>
      <path class="plot-lower" d={s.curve} />
      <path class="plot-dotted" d={`M${line.x1} ${line.y}H${line.x2}`} />
      <path class="plot-thin" d={`M${depth.x} ${depth.y1}V${depth.y2}m-5 0h10M${depth.x - 5} ${depth.y1}h10`} />
      <path class="plot-fine" d={`M${rim.x} ${rim.y}L${focus.x} ${focus.y}`} />
      <circle class="plot-pin" cx={focus.x} cy={focus.y} r="6" />
      <text class="plot-text plot-small" x={line.x1} y={line.y - 8}>
        {labels.diameter}
      </text>
      <text class="plot-text plot-strong" text-anchor="middle" x={depth.x} y={depth.y2 + 24}>
        {labels.depth}
      </text>
      <text class="plot-text plot-small plot-quiet" x={line.x1} y={Math.max(focus.y - 12, 14)}>
        {labels.focus}
      </text>
    </Plot>
  )
}
