/** The pictures of "Will it reach?": the sky with what is lost, and the hours by month. */
import { useMemo } from 'preact/hooks'
import type { WillReachJson } from '../../core/plan/willreachjson.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { hindranceShort } from '../kit/hindrancewords.ts'
import { Plot } from '../kit/Plot.tsx'
import { monthsShapes } from './months-geometry.ts'
import { skyShapes } from './sky-geometry.ts'
import { lostSkyWords, monthsWords, REACH } from './words.ts'

const HATCH_CLASS = { level: 'plot-hatch', rising: 'plot-hatch', falling: 'plot-hatch', dots: 'plot-stipple' } as const

export function ReachSky({ kind, latDeg, value }: { kind: MountKind; latDeg: number; value: WillReachJson }) {
  const s = useMemo(() => skyShapes(value, latDeg, h => hindranceShort({ kind }, h)), [value, latDeg, kind])
  const { frame } = s
  return (
    <Plot title={REACH.skyTitle} words={lostSkyWords(kind, value)} width={s.width} height={s.height}>
      {s.hatches.map(h => (
        <path key={h.hatch} class={HATCH_CLASS[h.hatch]} d={h.d} />
      ))}
      {s.paths.map(d => (
        <path key={d} class="plot-thin" d={d} />
      ))}
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.heights.map(h => (
        <text key={h.word} class="plot-text plot-small plot-end" x={frame.x - 4} y={h.y + 5}>
          {h.word}
        </text>
      ))}
      {s.winds.map(w => (
        <text key={w.word} class="plot-text plot-small" text-anchor="middle" x={w.x} y={s.height - 4}>
          {w.word}
        </text>
      ))}
      {s.labels.map(l => (
        <text key={l.word} class="plot-text plot-small plot-strong" text-anchor="middle" x={l.x} y={l.y}>
          {l.word}
        </text>
      ))}
    </Plot>
  )
}

export function ReachMonths({ a, b }: { a: WillReachJson; b: WillReachJson | null }) {
  const s = useMemo(
    () =>
      monthsShapes(
        a.months.map(m => m.hours),
        b?.months.map(m => m.hours) ?? null,
      ),
    [a, b],
  )
  return (
    <Plot title={REACH.months} words={monthsWords(a, b)} width={s.width} height={s.height}>
      {s.rows.map(row => (
        <g key={row.word}>
          {row.bars.map(bar => (
            <rect
              key={bar.which}
              class={bar.which === 'a' ? 'plot-full' : 'plot-thin'}
              x={s.left}
              y={bar.y}
              width={bar.width}
              height={bar.height}
            />
          ))}
          <text class="plot-text plot-small" x={0} y={row.y + 5}>
            {row.word}
          </text>
          <text class="plot-text plot-small plot-strong plot-end" x={s.width} y={row.y + 5}>
            {row.hours}
          </text>
        </g>
      ))}
    </Plot>
  )
}
