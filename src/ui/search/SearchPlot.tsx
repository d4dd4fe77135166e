/** The place in the pattern: done full, to come hollow, here a ring round a disc, skipped a short stroke. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { type SearchDrawing, searchShapes } from './search-geometry.ts'
import { SEARCH } from './words.ts'

export function SearchPlot(p: SearchDrawing) {
  const s = useMemo(() => searchShapes(p), [p.steps, p.here, p.done])
  return (
    <div class="search-plot">
      <Plot title={SEARCH.plot} words={s.words} width={s.width} height={s.height}>
        {s.skipped.map(({ x, y }) => (
          <line key={`${x} ${y}`} class="plot-ring" x1={x - s.radius} x2={x + s.radius} y1={y} y2={y} />
        ))}
        {s.toCome.map(({ x, y }) => (
          <circle key={`${x} ${y}`} class="plot-fine" cx={x} cy={y} r={s.radius} />
        ))}
        {s.done.map(({ x, y }) => (
          <circle key={`${x} ${y}`} class="plot-full" cx={x} cy={y} r={s.radius} />
        ))}
        {s.here && (
          <>
            <circle class="plot-pin" cx={s.here.x} cy={s.here.y} r={10} />
            <circle class="plot-full" cx={s.here.x} cy={s.here.y} r={5} />
          </>
        )}
      </Plot>
    </div>
  )
}
