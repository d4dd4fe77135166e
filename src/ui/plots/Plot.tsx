/**
 * The frame round every plot: a figure with its facts in words, marks that answer to tap and key, and a line below that
 * says what the picked one is. One tab stop for all marks: arrows go from one to the next.
 */
import type { ComponentChildren } from 'preact'
import { useId, useState } from 'preact/hooks'
import { type Mark, nearestMark } from './marks.ts'

export interface PlotProps {
  title: string
  /** The facts of the picture, for those who do not see it. */
  words: readonly string[]
  width: number
  height: number
  marks?: readonly Mark[]
  onPick?: (id: string) => void
  /** The words stand below for everyone, not only for screen readers. */
  showWords?: boolean
  children: ComponentChildren
}

/** A thumb's half width in CSS pixels. */
const TAP_PX = 28

function MarkDrawing({ mark }: { mark: Mark }) {
  const { x, y, shape } = mark
  switch (shape) {
    case 'used':
      return <circle class="mark-full" cx={x} cy={y} r="5" />
    case 'excluded':
      return <circle class="mark-hollow" cx={x} cy={y} r="5" />
    case 'outlier':
      return <path class="mark-line" d={`M${x - 6} ${y - 6}l12 12m0 -12l-12 12`} />
    case 'next':
      return <path class="mark-next" d={`M${x} ${y - 10}l10 10l-10 10l-10 -10Z`} />
    case 'moon':
      return <circle class="mark-body" cx={x} cy={y} r="9" />
    case 'sun':
      return (
        <g>
          <circle class="mark-body" cx={x} cy={y} r="7" />
          <path
            class="mark-line"
            d={`M${x} ${y - 9}v-5M${x} ${y + 9}v5M${x - 9} ${y}h-5M${x + 9} ${y}h5M${x - 6.5} ${y - 6.5}l-3.5 -3.5M${x + 6.5} ${y + 6.5}l3.5 3.5M${x + 6.5} ${y - 6.5}l3.5 -3.5M${x - 6.5} ${y + 6.5}l-3.5 3.5`}
          />
        </g>
      )
    case 'over':
      return (
        <path class="mark-full" d="M0 -13L6 5H-6Z" transform={`translate(${x} ${y}) rotate(${mark.turnDeg ?? 0})`} />
      )
  }
}

export function Plot({ title, words, width, height, marks = [], onPick, showWords = false, children }: PlotProps) {
  const wordsId = useId()
  const [picked, setPicked] = useState<string | null>(null)
  const stop = Math.max(
    0,
    marks.findIndex(m => m.id === picked),
  )
  const chosen = marks.find(m => m.id === picked)
  const pick = (mark: Mark) => {
    setPicked(mark.id)
    onPick?.(mark.id)
  }
  return (
    <figure class="plot">
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the marks inside take the keys; a tap near one picks it */}
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role={marks.length > 0 ? 'group' : 'img'}
        aria-label={title}
        aria-describedby={wordsId}
        onClick={event => {
          const matrix = event.currentTarget.getScreenCTM()
          if (!matrix) return
          const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse())
          const mark = nearestMark(marks, at.x, at.y, TAP_PX / matrix.a)
          if (mark) pick(mark)
        }}
      >
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a <g> takes no focus; its words stand below */}
        <g aria-hidden="true">{children}</g>
        {marks.map((mark, i) => (
          // biome-ignore lint/a11y/useSemanticElements: there is no <button> inside a drawing
          <g
            key={mark.id}
            class={mark.id === picked ? 'mark mark-picked' : 'mark'}
            role="button"
            tabindex={i === stop ? 0 : -1}
            aria-label={mark.says}
            aria-pressed={mark.id === picked}
            onKeyDown={event => {
              const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key]
              if (step !== undefined) {
                event.preventDefault()
                const to = (i + step + marks.length) % marks.length
                pick(marks[to]!)
                const group = event.currentTarget.parentElement?.querySelectorAll<SVGGElement>('.mark')[to]
                group?.focus()
              } else if (event.key === 'Enter' || event.key === ' ') {
                event.preventDefault()
                pick(mark)
              }
            }}
          >
            <circle class="mark-room" cx={mark.x} cy={mark.y} r="13" />
            <MarkDrawing mark={mark} />
          </g>
        ))}
      </svg>
      {marks.length > 0 && (
        <p class="plot-says" role="status">
          {chosen ? chosen.says : 'Tap a mark to read what it is.'}
        </p>
      )}
      <div id={wordsId} class={showWords ? 'plot-words' : 'hidden-words'}>
        {words.join(' ')}
      </div>
    </figure>
  )
}
