/** The triangle of a jack, drawn: which length is which, and where to put the tape. */
import { jackDrawing } from './jackdrawing.ts'
import { Plot } from './Plot.tsx'

/** Lengths in mm; null where not written yet. */
export function JackFigure(p: { base: number | null; rod: number | null; length: number | null }) {
  const shapes = jackDrawing(p.base, p.rod, p.length)
  return (
    <Plot title={JACK_DRAWING.title} words={JACK_DRAWING.words} width={shapes.width} height={shapes.height} showWords>
      <path class="plot-heavy" d={shapes.base} />
      <path class="plot-heavy" d={shapes.rod} />
      <path class="plot-thin" d={shapes.jack} />
      <path class="plot-tube" d={shapes.tube} />
      <path class="plot-fine" d={shapes.arc} />
      {shapes.pins.map((pin, i) => (
        <circle key={i} class="plot-pin" cx={pin.x} cy={pin.y} r="7" />
      ))}
      {(['base', 'rod', 'pivot'] as const).map(part => (
        <text
          key={part}
          class="plot-text"
          x={shapes.labels[part].x}
          y={shapes.labels[part].y}
          text-anchor={shapes.labels[part].anchor}
        >
          {JACK_DRAWING[part]}
        </text>
      ))}
      <text class="plot-text" x={shapes.labels.jack.x} y={shapes.labels.jack.y} text-anchor="start">
        {JACK_DRAWING.length}
      </text>
    </Plot>
  )
}

const JACK_DRAWING = {
  title: 'The triangle of the jack',
  base: 'fixed arm',
  rod: 'rod arm',
  length: 'jack, pin to pin',
  pivot: 'pivot',
  words: [
    'The pivot is the bolt about which the axis turns.',
    'The fixed arm runs from the pivot to the pin at the fixed end of the jack.',
    'The rod arm runs from the pivot to the pin at the end of the rod.',
    'Put the tape on the centres of the bolts, square to them, and measure past what is in the way, not round it.',
  ],
} as const
