/** The rose: north up, the Sun's line through it, the way the mount faces at its rim. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type Rose, rose } from './rose-geometry.ts'

const LINE = { sun: 'plot-thin', shadow: 'plot-heavy', mount: 'plot-heavy' } as const

export function RosePlot(p: Rose) {
  const s = useMemo(() => rose(p), [p.sunAzDeg, p.shadowAzDeg, p.headingDeg])
  return (
    <div class="rose">
      <Plot title="The Sun’s line, north up" words={s.words} width={s.size} height={s.size}>
        <circle class="plot-frame" cx={s.centre} cy={s.centre} r={s.radius} />
        {s.ticks.map(t => (
          <line
            key={`${t.x1} ${t.y1}`}
            class={t.isWind ? 'plot-frame' : 'plot-fine'}
            x1={t.x1}
            y1={t.y1}
            x2={t.x2}
            y2={t.y2}
          />
        ))}
        {s.lines.map(l => (
          <g key={l.kind}>
            <line class={LINE[l.kind]} x1={l.x1} y1={l.y1} x2={l.x2} y2={l.y2} />
            {l.head && <path class="plot-full" d={l.head} />}
          </g>
        ))}
        {s.winds.map(w => (
          <text key={w.word} class="plot-text plot-strong plot-middle" x={w.x} y={w.y}>
            {w.word}
          </text>
        ))}
        {s.labels.map(l => (
          <text key={l.kind} class="plot-text plot-middle" x={l.x} y={l.y}>
            {l.word}
          </text>
        ))}
      </Plot>
    </div>
  )
}
