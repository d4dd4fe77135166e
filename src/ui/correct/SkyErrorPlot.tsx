/** The loss over the Moon's sky, drawn: large digits after, small digits before, bars against the allowed mark. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type SkyErrorPicture, skyErrorShapes } from './skyerror-geometry.ts'

export interface SkyErrorPlotProps {
  error: SkyErrorPicture
  showWords?: boolean
}

export function SkyErrorPlot({ error, showWords = false }: SkyErrorPlotProps) {
  const s = useMemo(() => skyErrorShapes(error), [error])
  return (
    <Plot
      title="Loss left over the Moon’s sky, decibels"
      words={s.words}
      width={s.width}
      height={s.height}
      showWords={showWords}
    >
      {s.columns.map(c => (
        <text key={c.word} class="plot-text plot-strong" text-anchor="middle" x={c.x} y="15">
          {c.word}
        </text>
      ))}
      {s.rows.map(r => (
        <text key={r.word} class="plot-text plot-quiet" x="0" y={r.y}>
          {r.word}
        </text>
      ))}
      {s.cells.map(c => (
        <g key={`${c.x} ${c.y}`} transform={`translate(${c.x} ${c.y})`}>
          <rect class={c.over ? 'plot-heavy' : 'plot-fine'} x="1" y="1" width={c.width - 2} height={c.height - 2} />
          <text class="plot-text plot-number" x="8" y="34">
            {c.after}
          </text>
          {c.over && (
            <text class="plot-text plot-small plot-strong plot-end" x={c.width - 5} y="56">
              over
            </text>
          )}
          <text class="plot-text plot-small plot-quiet" x="6" y="56">
            {c.before}
          </text>
          {c.after !== '–' && (
            <g transform="translate(8 66)">
              <rect class="plot-fine" x="0" y="0" width={c.beforeBar} height="16" />
              <rect class="plot-full" x="0" y="4" width={c.afterBar} height="8" />
              <line class="plot-thin" x1={c.allowedX} x2={c.allowedX} y1="-4" y2="20" />
            </g>
          )}
        </g>
      ))}
    </Plot>
  )
}
