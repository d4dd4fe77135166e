/** The dish's face with the hours to tape at, the feed, and crossed strings: the first string heavy, the second thin. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type RimFace, rimFace } from './rimface-geometry.ts'

export function RimFacePlot({ title, face }: { title: string; face: RimFace }) {
  const s = useMemo(() => rimFace(face), [face])
  const { centre, rimR } = s
  const top = centre - rimR
  return (
    <Plot title={title} words={s.words} width={s.size} height={s.size}>
      <circle class="plot-frame plot-paper" cx={centre} cy={centre} r={rimR} />
      <path class="plot-lower" d={`M${centre - 12} ${top}h24`} />
      {s.spokes.map(spoke => (
        <path
          key={spoke.hour}
          class={spoke.taped ? 'plot-thin' : 'plot-dotted'}
          d={`M${spoke.x} ${spoke.y}L${s.feed?.x ?? centre} ${s.feed?.y ?? centre}`}
        />
      ))}
      {s.strings.map(line => (
        <path
          key={line.first ? 'first' : 'second'}
          class={line.first ? 'plot-heavy' : 'plot-thin'}
          d={`M${line.x1} ${line.y1}L${line.x2} ${line.y2}`}
        />
      ))}
      {s.strings.length === 0 && (
        <>
          <path class="plot-thin" d={`M${centre - 11} ${centre}h22M${centre} ${centre - 11}v22`} />
          <circle class="plot-pin" cx={s.feed?.x ?? centre} cy={s.feed?.y ?? centre} r="9" />
        </>
      )}
      {s.spokes.map(spoke => (
        <text key={spoke.hour} class="plot-text plot-middle plot-strong" x={spoke.textX} y={spoke.textY}>
          {spoke.label}
        </text>
      ))}
      <text class="plot-text" text-anchor="middle" x={centre} y={15}>
        UP mark
      </text>
      {s.magnified > 1 && (
        <text class="plot-text plot-small plot-quiet" x={2} y={s.size - 26}>
          offset × {s.magnified}
        </text>
      )}
      <text class="plot-text plot-quiet" text-anchor="middle" x={centre} y={s.size - 3}>
        {s.caption}
      </text>
    </Plot>
  )
}
