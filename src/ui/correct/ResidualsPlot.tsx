/** Residuals, drawn: heavy circle allowed, thin circle the beam's half-power edge, each named at the line. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type Residuals, residualShapes } from './residuals-geometry.ts'

export interface ResidualsPlotProps {
  residuals: Residuals
  onPick?: (id: string) => void
  showWords?: boolean
}

export function ResidualsPlot({ residuals, onPick, showWords = false }: ResidualsPlotProps) {
  const s = useMemo(() => residualShapes(residuals), [residuals])
  const low = 8
  const high = s.size - 8
  return (
    <Plot
      title="What is left at each sighting"
      words={s.words}
      width={s.size}
      height={s.size}
      marks={s.marks}
      showWords={showWords}
      {...(onPick ? { onPick } : {})}
    >
      <rect class="plot-frame" x={low} y={low} width={high - low} height={high - low} />
      {s.rings.map(ring => (
        <circle key={ring.r} class="plot-ring" cx={s.centre} cy={s.centre} r={ring.r} />
      ))}
      <path class="plot-fine" d={`M${low} ${s.centre}H${high}M${s.centre} ${low}V${high}`} />
      <circle class="plot-heavy" cx={s.centre} cy={s.centre} r={s.toleranceR} />
      {s.beamR !== null && <circle class="plot-thin" cx={s.centre} cy={s.centre} r={s.beamR} />}
      {s.arrows.map(a => (
        <g key={a.id}>
          <line class="plot-thin" x1={a.x1} y1={a.y1} x2={a.x2} y2={a.y2} />
          <circle class="plot-full" cx={a.x1} cy={a.y1} r="1.8" />
        </g>
      ))}
      {s.rings.map(ring => (
        <text
          key={ring.r}
          class="plot-text plot-small plot-quiet plot-middle"
          x={s.centre - ring.r * Math.SQRT1_2}
          y={s.centre + ring.r * Math.SQRT1_2}
        >
          {ring.label}
        </text>
      ))}
      <text class="plot-text plot-strong plot-middle" x={s.centre} y={s.centre - s.toleranceR}>
        allowed
      </text>
      {s.beamR !== null && (
        <text class="plot-text plot-middle" x={s.centre} y={s.centre + s.beamR}>
          edge of the beam
        </text>
      )}
      <text class="plot-text plot-quiet plot-end" x={high - 6} y={s.centre - 6}>
        right
      </text>
      <text
        class={`plot-text plot-quiet${s.highLeft ? ' plot-end' : ''}`}
        x={s.centre + (s.highLeft ? -12 : 12)}
        y={low + 18}
      >
        high
      </text>
      {s.beyond.map(b => (
        <text key={`${b.x} ${b.y}`} class="plot-text plot-strong plot-middle" x={b.x} y={b.y}>
          {b.text}
        </text>
      ))}
    </Plot>
  )
}
