/** The plumb bob over the phone, drawn: full disc the bob, its line from the middle, rings in degrees. */
import type { Vec3 } from '../../core/vectors.ts'
import { Plot } from '../kit/Plot.tsx'
import { plumbFace } from './plumbface-geometry.ts'

export function PlumbFacePlot({ up }: { up: Vec3<'Phone'> }) {
  // At 17 rem it stands in its own size, so that its labels are as large as they say.
  const s = plumbFace(up, 272)
  const { centre: c, rimR, bob } = s
  return (
    <Plot title="A plumb bob over the phone, seen from above" words={s.words} width={s.size} height={s.size}>
      <path class="plot-fine" d={`M${c - rimR} ${c}H${c + rimR}M${c} ${c - rimR}V${c + rimR}`} />
      {s.rings.map(ring => (
        <circle class={ring.r === rimR ? 'plot-frame' : 'plot-ring'} key={ring.r} cx={c} cy={c} r={ring.r} />
      ))}
      {s.rings.map(ring => (
        <text class="plot-text plot-small plot-quiet" key={ring.r} x={c + 0.7 * ring.r + 3} y={c - 0.7 * ring.r - 3}>
          {ring.text}
        </text>
      ))}
      <line class="plot-heavy" x1={c} y1={c} x2={bob.x} y2={bob.y} />
      {bob.over ? (
        <path class="plot-full" d="M0 -16L9 8H-9Z" transform={`translate(${bob.x} ${bob.y}) rotate(${bob.turnDeg})`} />
      ) : (
        <circle class="plot-full" cx={bob.x} cy={bob.y} r="11" />
      )}
      <text class="plot-text plot-middle" x={c} y="14">
        {s.sides.above}
      </text>
      <text class="plot-text plot-middle" x={c} y={s.size - 14}>
        {s.sides.below}
      </text>
      <text class="plot-text plot-middle" transform={`translate(14 ${c}) rotate(-90)`}>
        {s.sides.left}
      </text>
      <text class="plot-text plot-middle" transform={`translate(${s.size - 14} ${c}) rotate(90)`}>
        {s.sides.right}
      </text>
    </Plot>
  )
}
