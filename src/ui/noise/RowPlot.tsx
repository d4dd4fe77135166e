/** A row of Sun noise, drawn: readings, parabola, and the best with its ± along the foot. */
import { useMemo } from 'preact/hooks'
import type { RowAnswer, RowReading } from '../../core/noise/feedrow.ts'
import { Plot } from '../kit/Plot.tsx'
import { rowShapes } from './row-geometry.ts'
import { FEED_ROW } from './rowwords.ts'

export function RowPlot(p: { readings: readonly RowReading[]; answer: RowAnswer; unit: string; says: string }) {
  const s = useMemo(() => rowShapes(p.readings, p.answer, p.unit), [p.readings, p.answer, p.unit])
  const { frame } = s
  const foot = frame.y + frame.height
  return (
    <Plot title={FEED_ROW.plot} words={[p.says]} width={s.width} height={s.height} marks={s.marks}>
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.lines.map(line => (
        <path key={line.y} class="plot-ring" d={`M${frame.x} ${line.y}h${frame.width}`} />
      ))}
      {s.curve && <path class="plot-thin" d={s.curve} />}
      {s.bars.map((bar, i) => (
        <path key={i} class="plot-thin" d={`M${bar.x - 4} ${bar.y1}h8m-4 0V${bar.y2}m-4 0h8`} />
      ))}
      {s.best && (
        <>
          <path class="plot-fine" d={`M${s.best.x} ${frame.y}V${foot}`} />
          <path class="plot-lower" d={`M${s.best.x1} ${foot - 3}H${s.best.x2}`} />
          <text class="plot-text plot-strong" text-anchor="middle" x={s.best.x} y={foot - 12}>
            {FEED_ROW.best}
          </text>
        </>
      )}
      {s.lines.map(line => (
        <text key={line.y} class="plot-text plot-small plot-end" x={frame.x - 6} y={line.y + 5}>
          {line.label}
        </text>
      ))}
      {s.feet.map(mark => (
        <text key={mark.x} class="plot-text plot-small" text-anchor="middle" x={mark.x} y={s.height - 12}>
          {mark.label}
        </text>
      ))}
    </Plot>
  )
}
