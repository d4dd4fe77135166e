/** What a step means on this mount, drawn. */
import { useMemo } from 'preact/hooks'
import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { Plot } from '../kit/Plot.tsx'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { stepPicture } from './picture-geometry.ts'
import { PICTURE, pictureSays } from './words.ts'

export function StepPlot({ station, step }: { station: StationRecord; step: AlignmentStep }) {
  const { kind } = station.mount
  const isSouth = station.site.latDeg < 0
  const s = useMemo(() => stepPicture(step, kind, isSouth, PICTURE), [step, kind, isSouth])
  return (
    <div class="align-picture">
      <Plot title={STEP_NAMES[step]} words={[pictureSays(station.mount, step)]} width={s.width} height={s.height}>
        {s.fine.map(d => (
          <path key={d} class="plot-frame" d={d} />
        ))}
        {s.dotted.map(d => (
          <path key={d} class="plot-dotted" d={d} />
        ))}
        {s.heavy.map(d => (
          <path key={d} class="plot-heavy" d={d} />
        ))}
        {s.full.map(d => (
          <path key={d} class="plot-full" d={d} />
        ))}
        {s.upper && <path class="plot-upper" d={s.upper} />}
        {s.lower && <path class="plot-lower" d={s.lower} />}
        {s.texts.map(t => (
          <text
            key={`${t.x} ${t.y}`}
            class={`plot-text${t.anchor === 'middle' ? ' plot-middle' : t.anchor === 'end' ? ' plot-end' : ''}`}
            x={t.x}
            y={t.y}
          >
            {t.text}
          </text>
        ))}
      </Plot>
    </div>
  )
}
