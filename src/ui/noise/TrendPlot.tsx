/** What the dish heard, record by record, with its ±; a step is two dotted lines. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type Trend, trendShapes } from './trend-geometry.ts'

export function TrendPlot({ title, trend }: { title: string; trend: Trend }) {
  const s = useMemo(() => trendShapes(trend), [trend])
  const { frame } = s
  return (
    <Plot title={title} words={s.words} width={s.width} height={s.height} marks={s.marks}>
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.lines.map(line => (
        <path key={line.y} class="plot-ring" d={`M${frame.x} ${line.y}h${frame.width}`} />
      ))}
      {s.levels.map(level => (
        <path key={level.x1} class="plot-dotted" d={`M${level.x1} ${level.y}H${level.x2}`} />
      ))}
      {s.bars.map((bar, i) => (
        <path key={i} class="plot-thin" d={`M${bar.x - 4} ${bar.y1}h8m-4 0V${bar.y2}m-4 0h8`} />
      ))}
      {s.lines.map(line => (
        <text key={line.y} class="plot-text plot-small plot-end" x={frame.x - 6} y={line.y + 5}>
          {line.label}
        </text>
      ))}
      {s.feet.map(foot => (
        <text key={foot.anchor} class="plot-text plot-small" text-anchor={foot.anchor} x={foot.x} y={s.height - 8}>
          {foot.label}
        </text>
      ))}
    </Plot>
  )
}
