/** Degrees per count over the stroke, drawn: the upper axis dashed, the lower solid, as everywhere. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type PerCount, perCountShapes } from './percount-geometry.ts'

export function PerCountPlot({ title, axis, data }: { title: string; axis: 'lower' | 'upper'; data: PerCount }) {
  const s = useMemo(() => perCountShapes(data), [data])
  const { frame } = s
  return (
    <Plot title={title} words={s.words} width={s.width} height={s.height} marks={s.marks} showWords>
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.lines.map(line => (
        <path key={line.y} class="plot-ring" d={`M${frame.x} ${line.y}h${frame.width}`} />
      ))}
      <path class={axis === 'lower' ? 'plot-lower' : 'plot-upper'} d={s.path} />
      {s.lines.map(line => (
        <text key={line.y} class="plot-text plot-small plot-end" x={frame.x - 6} y={line.y + 5}>
          {line.label}
        </text>
      ))}
      {s.feet.map(foot => (
        <text key={foot.label} class="plot-text plot-small" text-anchor={foot.anchor} x={foot.x} y={s.height - 8}>
          {foot.label}
        </text>
      ))}
    </Plot>
  )
}
