/** The mount, drawn: what its two axes turn and read. */
import { useMemo } from 'preact/hooks'
import { type DialDrawing, dialDrawing } from '../kit/dialdrawing-geometry.ts'
import { Plot } from '../kit/Plot.tsx'

export interface DialDrawingPlotProps {
  drawing: DialDrawing
  showWords?: boolean
}

export function DialDrawingPlot({ drawing, showWords = false }: DialDrawingPlotProps) {
  const s = useMemo(() => dialDrawing(drawing), [drawing])
  return (
    <Plot title="What the two axes turn" words={s.words} width={s.width} height={s.height} showWords={showWords}>
      <path class="plot-ring plot-ground" d={s.ground} />
      <line class="plot-fine" x1={s.north.x1} y1={s.north.y1} x2={s.north.x2} y2={s.north.y2} />
      <path class="plot-mast" d={s.mast} />
      <path class="plot-ribs" d={s.ribs} />
      <path class="plot-thin" d={s.rim} />
      <path class="plot-heavy" d={s.upMark} />
      <path class="plot-thin" d={s.beam} />
      <path class="plot-full" d={s.beamHead} />
      <path class="plot-lower" d={s.lower.line} />
      <path class="plot-upper" d={s.upper.line} />
      {[s.lower, s.upper].map(axis => (
        <g key={axis.word}>
          <path class="plot-thin" d={axis.arc} />
          <path class="plot-full" d={axis.head} />
          <text class="plot-text plot-strong plot-middle" x={axis.x} y={axis.y}>
            {axis.word}
          </text>
        </g>
      ))}
      <text class="plot-text plot-quiet plot-middle" x={s.north.x} y={s.north.y}>
        north
      </text>
    </Plot>
  )
}
