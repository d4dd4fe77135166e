/** The dish's face, drawn: full disc the shadow, dotted circle where it should be. */
import { useMemo } from 'preact/hooks'
import { type DishFace, dishFace, type Spot, spotAt } from './dishface-geometry.ts'
import { Plot } from './Plot.tsx'

interface DishFacePlotProps {
  face: DishFace
  showWords?: boolean
  /** Where the person tapped, in the dish frame; needs the face's reach, or the picture's scale would change under the finger. */
  onSpot?: (spot: Spot) => void
}

export function DishFacePlot({ face, showWords = false, onSpot }: DishFacePlotProps) {
  const s = useMemo(() => dishFace(face), [face])
  const top = s.centre - s.rimR
  const { reachMm } = face
  const tap = (x: number, y: number) => {
    const spot = reachMm === undefined ? null : spotAt({ ...face, reachMm }, x, y)
    if (spot !== null) onSpot?.(spot)
  }
  return (
    <Plot
      title="The dish and the feed’s shadow"
      words={s.words}
      width={s.size}
      height={s.size}
      showWords={showWords}
      {...(onSpot && { onTap: tap })}
    >
      <circle class="plot-frame plot-paper" cx={s.centre} cy={s.centre} r={s.rimR} />
      <path class="plot-lower" d={`M${s.centre - 12} ${top}h24M${s.centre} ${top - 12}v24`} />
      <text class="plot-text plot-strong" x={s.centre + 18} y={top - 6}>
        UP mark
      </text>
      {s.plumb && (
        <>
          <line class="plot-fine" x1={s.plumb.x1} y1={s.plumb.y1} x2={s.plumb.x2} y2={s.plumb.y2} />
          <text class="plot-text plot-small plot-quiet plot-middle" x={s.plumb.textX} y={s.plumb.textY}>
            plumb
          </text>
        </>
      )}
      {s.edge && <path class="plot-blur" d={s.edge.path} style={{ strokeWidth: s.edge.blur }} />}
      {s.disc && <circle class="plot-shade" cx={s.disc.x} cy={s.disc.y} r={s.disc.r} />}
      {s.edge ? (
        <path class="plot-dotted" d={s.edge.path} />
      ) : (
        <circle class="plot-dotted" cx={s.wanted.x} cy={s.wanted.y} r={s.wanted.r} />
      )}
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
