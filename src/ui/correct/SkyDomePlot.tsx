/** The sky dome, drawn: Moon's path a heavy line, the Sun's a thin one, each named at the line. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type SkyDome, skyDome } from './skydome-geometry.ts'

export interface SkyDomePlotProps {
  dome: SkyDome
  onPick?: (id: string) => void
  showWords?: boolean
}

export function SkyDomePlot({ dome, onPick, showWords = false }: SkyDomePlotProps) {
  const s = useMemo(() => skyDome(dome), [dome])
  return (
    <Plot
      title="The sky over the station"
      words={s.words}
      width={s.size}
      height={s.size}
      marks={s.marks}
      showWords={showWords}
      {...(onPick ? { onPick } : {})}
    >
      <path class="plot-stipple" d={s.stipple} />
      <path class="plot-fine" d={s.edge} />
      <path class="plot-hatch" d={s.hills} />
      <path class="plot-thin" d={s.skyline} />
      {s.ringRadii.map(ring => (
        <circle key={ring.elDeg} class="plot-ring" cx={s.centre} cy={s.centre} r={ring.r} />
      ))}
      <path class="plot-fine" d={`M${s.centre - 5} ${s.centre}h10M${s.centre} ${s.centre - 5}v10`} />
      {s.paths.map(p => (
        <path key={p.label} class={p.body === 'moon' ? 'plot-heavy' : 'plot-thin'} d={p.d} />
      ))}
      {s.beads.map(b => (
        <circle key={`${b.x} ${b.y}`} class="plot-full" cx={b.x} cy={b.y} r={b.r} />
      ))}
      <circle class="plot-frame" cx={s.centre} cy={s.centre} r={s.radius} />
      <path class="plot-fine" d={s.ticks} />
      {s.ringRadii.map(ring => (
        <text key={ring.elDeg} class="plot-text plot-quiet" x={s.centre + 3} y={s.centre - ring.r - 3}>
          {ring.elDeg}°
        </text>
      ))}
      {s.edgeLabel && (
        <text class="plot-text plot-quiet plot-middle" x={s.edgeLabel.x} y={s.edgeLabel.y}>
          out of reach
        </text>
      )}
      {s.paths
        .filter(p => p.d !== '')
        .map(p => (
          <text key={p.label} class="plot-text plot-strong plot-middle" x={p.labelX} y={p.labelY}>
            {p.label}
          </text>
        ))}
      {s.compass.map(c => (
        <text key={c.word} class="plot-text plot-strong plot-middle" x={c.x} y={c.y}>
          {c.word}
        </text>
      ))}
    </Plot>
  )
}
