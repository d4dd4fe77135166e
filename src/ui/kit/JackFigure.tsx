/** The triangle of a jack, drawn: which length is which, and where to put the tape. */
import { jackDrawing } from './jackdrawing.ts'
import { Plot } from './Plot.tsx'

/** The three sides, by what is typed of them. */
export type JackPart = 'base' | 'rod' | 'length'

export interface JackFigureProps {
  /** Lengths in mm; null where not written yet. */
  base: number | null
  rod: number | null
  length: number | null
  /** In a form: the side that is being typed is drawn heavier. Not given: both arms stand out, and the words stand below. */
  typed?: JackPart | null
}

export function JackFigure(p: JackFigureProps) {
  const shapes = jackDrawing(p.base, p.rod, p.length)
  const isForm = p.typed !== undefined
  const weight = (part: JackPart) =>
    isForm ? (p.typed === part ? 'plot-lower' : 'plot-thin') : part === 'length' ? 'plot-thin' : 'plot-heavy'
  const text = (part: JackPart) => (p.typed === part ? 'plot-text plot-strong' : 'plot-text')
  return (
    <Plot
      title={JACK_DRAWING.title}
      words={JACK_DRAWING.words}
      width={shapes.width}
      height={shapes.height}
      showWords={!isForm}
    >
      <path class={weight('base')} d={shapes.base} />
      <path class={weight('rod')} d={shapes.rod} />
      <path class={weight('length')} d={shapes.jack} />
      <path class="plot-tube" d={shapes.tube} />
      <path class="plot-fine" d={shapes.arc} />
      {shapes.pins.map((pin, i) => (
        <circle key={i} class="plot-pin" cx={pin.x} cy={pin.y} r="7" />
      ))}
      {(['base', 'rod'] as const).map(part => (
        <text
          key={part}
          class={text(part)}
          x={shapes.labels[part].x}
          y={shapes.labels[part].y}
          text-anchor={shapes.labels[part].anchor}
        >
          {JACK_DRAWING[part]}
        </text>
      ))}
      {[
        { part: 'pivot', at: shapes.labels.pivot, word: JACK_DRAWING.pivot, look: 'plot-text plot-quiet' },
        { part: 'length', at: shapes.labels.jack, word: JACK_DRAWING.length, look: text('length') },
      ].map(label => (
        <text key={label.part} class={label.look} x={label.at.x} y={label.at.y} text-anchor={label.at.anchor}>
          {label.word}
        </text>
      ))}
    </Plot>
  )
}

const JACK_DRAWING = {
  title: 'The triangle of the jack',
  base: 'A fixed arm',
  rod: 'B rod arm',
  length: 'L jack',
  pivot: 'pivot',
  words: [
    'The pivot is the bolt about which the axis turns.',
    'The fixed arm runs from the pivot to the pin at the fixed end of the jack.',
    'The rod arm runs from the pivot to the pin at the end of the rod.',
    'Put the tape on the centres of the bolts, square to them, and measure past what is in the way, not round it.',
  ],
} as const
