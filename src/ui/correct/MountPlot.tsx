/** The mount from behind the dish, an arrow for each thing to turn, its words and its amount beside it. */
import { useMemo } from 'preact/hooks'
import { type MountDrawing, mountDrawing } from '../kit/mountdrawing-geometry.ts'
import { Plot } from '../kit/Plot.tsx'
import { DRAWN } from './drawnwords.ts'

export function MountPlot({ drawing }: { drawing: MountDrawing }) {
  const s = useMemo(() => mountDrawing(drawing), [drawing])
  const caption = DRAWN.captions[drawing.kind]
  return (
    <div class="mount-plot">
      <Plot
        title={s.arrows.length > 0 ? DRAWN.title : DRAWN.plain}
        words={[`Drawn ${caption}.`, ...s.words]}
        width={s.width}
        height={s.height}
      >
        {s.ground.map(d => (
          <path key={d} class="draw-ground" d={d} />
        ))}
        {s.fine.map(d => (
          <path key={d} class="plot-frame" d={d} />
        ))}
        {s.heavy.map(d => (
          <path key={d} class="plot-frame" d={d} />
        ))}
        <path class="plot-upper" d={s.upper} />
        <path class="plot-lower draw-lower" d={s.lower} />
        {s.labels.map(l => (
          <path
            key={l.key}
            class="draw-leader"
            d={`M${l.leader[0][0]} ${l.leader[0][1]} L${l.leader[1][0]} ${l.leader[1][1]}`}
          />
        ))}
        {s.arrows.map(a => (
          <g key={a.key} class="draw-arrow">
            <path d={a.path} />
            <path class="draw-head" d={a.head} />
          </g>
        ))}
        {s.labels.flatMap(l =>
          l.lines.map(t => (
            <text
              key={`${l.key} ${t.y}`}
              class={`plot-text draw-text${t.strong ? ' plot-strong' : ''}${l.side === 'right' ? ' plot-end' : ''}`}
              x={l.x}
              y={t.y}
            >
              {t.text}
            </text>
          )),
        )}
      </Plot>
      <p class="mount-caption">
        {caption}
        {s.left > 0 && `; ${DRAWN.more(s.left)}`}
      </p>
    </div>
  )
}
