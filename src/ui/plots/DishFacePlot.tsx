/** The dish's face, drawn: full disc the shadow, dashed circle where it should be. */
import { useMemo } from 'preact/hooks'
import { type DishFace, dishFace } from './dishface-geometry.ts'
import { Plot } from './Plot.tsx'

export interface DishFacePlotProps {
  face: DishFace
  showWords?: boolean
}

export function DishFacePlot({ face, showWords = false }: DishFacePlotProps) {
  const s = useMemo(() => dishFace(face), [face])
  const top = s.centre - s.rimR
  return (
    <Plot title="The dish and the feed’s shadow" words={s.words} width={s.size} height={s.size} showWords={showWords}>
      <circle class="plot-frame plot-paper" cx={s.centre} cy={s.centre} r={s.rimR} />
      <path class="plot-lower" d={`M${s.centre - 12} ${top}h24M${s.centre} ${top - 12}v24`} />
      <text class="plot-text plot-strong" x={s.centre + 18} y={top - 6}>
        UP mark
      </text>
      {s.disc && <circle class="plot-shade" cx={s.disc.x} cy={s.disc.y} r={s.disc.r} />}
      <circle class="plot-dashed" cx={s.wanted.x} cy={s.wanted.y} r={s.wanted.r} />
      <path class="plot-thin" d={`M${s.centre - 11} ${s.centre}h22M${s.centre} ${s.centre - 11}v22`} />
      {s.link && (
        <>
          <line class="plot-link" {...s.link} />
          <circle class="plot-spot" cx={s.link.x2} cy={s.link.y2} r="4" />
        </>
      )}
      <path class="plot-thin" d={`M${s.scaleBar.x1} ${s.scaleBar.y - 5}v10m0 -5H${s.scaleBar.x2}m0 -5v10`} />
      <text class="plot-text plot-small" text-anchor="middle" x={s.centre} y={s.scaleBar.y + 20}>
        {s.scaleBar.text}
      </text>
      {s.magnified > 1 && (
        <text class="plot-text plot-small plot-quiet" text-anchor="middle" x={s.centre} y={s.scaleBar.y + 37}>
          middle drawn × {s.magnified}
        </text>
      )}
      <text class="plot-text plot-quiet" x={s.centre - s.rimR + 8} y={s.centre + 5}>
        {s.leftWord}
      </text>
      <text class="plot-text plot-quiet plot-end" x={s.centre + s.rimR - 8} y={s.centre + 5}>
        {s.rightWord}
      </text>
      <text class="plot-text plot-quiet" text-anchor="middle" x={s.centre} y={s.size - 6}>
        {s.caption}
      </text>
    </Plot>
  )
}
