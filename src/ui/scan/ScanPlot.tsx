/** Level against time or place, the curve through it, the peak with its ±, and hatched where nothing was heard. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type ScanDrawing, scanShapes } from './scan-geometry.ts'

export function ScanPlot({ title, drawing }: { title: string; drawing: ScanDrawing }) {
  const s = useMemo(() => scanShapes(drawing), [drawing])
  const { frame } = s
  const foot = frame.y + frame.height
  return (
    <Plot title={title} words={s.words} width={s.width} height={s.height} marks={s.marks}>
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.gaps.map(gap => (
        <g key={gap.x}>
          <rect class="plot-ground" x={gap.x} y={frame.y} width={gap.width} height={frame.height} />
          <path class="plot-dotted" d={`M${gap.x} ${frame.y}V${foot}M${gap.x + gap.width} ${frame.y}V${foot}`} />
        </g>
      ))}
      {s.lines.map(line => (
        <path key={line.y} class="plot-ring" d={`M${frame.x} ${line.y}h${frame.width}`} />
      ))}
      {s.expected !== null && <path class="plot-dotted" d={`M${s.expected.x} ${frame.y}V${foot}`} />}
      {s.curve !== '' && <path class="plot-thin" d={s.curve} />}
      {s.peak !== null && (
        <>
          <path class="plot-heavy" d={`M${s.peak.x} ${frame.y}V${foot}`} />
          <path class="plot-thin" d={`M${s.peak.from} ${frame.y + 7}H${s.peak.to}`} />
        </>
      )}
      {s.lines.map(line => (
        <text key={line.y} class="plot-text plot-small plot-end" x={frame.x - 6} y={line.y + 5}>
          {line.label}
        </text>
      ))}
      {s.feet.map(f => (
        <text key={f.anchor} class="plot-text plot-small" text-anchor={f.anchor} x={f.x} y={s.height - 8}>
          {f.label}
        </text>
      ))}
      {s.expected !== null && (
        <text class="plot-text plot-small" text-anchor="middle" x={s.expected.label} y={foot - 8}>
          expected
        </text>
      )}
      {s.peak !== null && (
        <text class="plot-text plot-small" text-anchor="middle" x={s.peak.label} y={frame.y - 8}>
          peak
        </text>
      )}
    </Plot>
  )
}
