/** The strip of days; a tap on one opens it. */
import { useMemo } from 'preact/hooks'
import { Plot } from '../kit/Plot.tsx'
import { HALF, ROW_HEIGHT, rowAtTap, type Strip, stripShapes, THICK } from './strip-geometry.ts'
import { zoneShort } from './words.ts'

interface Props {
  title: string
  strip: Strip
  words: readonly string[]
  onDay?: (key: string) => void
}

export function StripPlot({ title, strip, words, onDay }: Props) {
  const s = useMemo(() => stripShapes(strip), [strip])
  const tap = (_: number, y: number) => {
    const key = rowAtTap(s, y)
    if (key !== null) onDay?.(key)
  }
  return (
    <Plot title={title} words={words} width={s.width} height={s.height} {...(onDay && { onTap: tap })}>
      <text class="plot-text plot-small plot-quiet" x={0} y={s.top - 5}>
        {zoneShort(strip.days[0]?.fromMs ?? 0)}
      </text>
      {s.hours.map(h => (
        <g key={h.label}>
          <path
            class={h.label === '00' || h.label === '24' ? 'plot-fine' : 'plot-ring'}
            d={`M${h.x} ${s.top}V${s.bottom}`}
          />
          <text class="plot-text plot-small" text-anchor="middle" x={h.x} y={s.top - 5}>
            {h.label}
          </text>
        </g>
      ))}
      {s.rows.map(row => (
        <g key={row.key}>
          {row.thin.map(bar => (
            <path key={bar.x} class="plot-thin" d={`M${bar.x} ${row.y}h${bar.width}`} />
          ))}
          {row.half.map(bar => (
            <rect key={bar.x} class="plot-full" x={bar.x} y={row.y - HALF / 2} width={bar.width} height={HALF} />
          ))}
          {row.thick.map(bar => (
            <rect key={bar.x} class="plot-full" x={bar.x} y={row.y - THICK / 2} width={bar.width} height={THICK} />
          ))}
          <text class={`plot-text plot-small${row.isToday ? ' plot-strong' : ''}`} x={0} y={row.y + 5}>
            {row.label}
          </text>
          <text class="plot-text plot-small plot-strong plot-end" x={s.width} y={row.y + 5}>
            {row.hoursText}
          </text>
        </g>
      ))}
      {s.now && <path class="when-now" d={`M${s.now.x} ${s.now.y1}V${s.now.y2}`} />}
      {onDay && <rect class="when-taps" x={0} y={s.top} width={s.width} height={ROW_HEIGHT * s.rows.length} />}
    </Plot>
  )
}

/** The spell that runs or comes, and under it the same by the clock here. */
export function Coming({ coming }: { coming: { utc: string; here: string } }) {
  return (
    <>
      <strong>{coming.utc}</strong>
      {coming.here && <small class="book-small">{coming.here}</small>}
    </>
  )
}
