/**
 * The frame round every plot: a figure with its facts in words, marks that answer to tap and key, and a line below that
 * says what the picked one is. One tab stop for all marks: arrows go from one to the next.
 */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { useDocumentId } from './ids.ts'
import { nearestMark, type PlotMark } from './marks.ts'
import { PlotMarks } from './PlotMarks.tsx'

interface PlotProps {
  title: string
  /** The facts of the picture, for people who cannot see it. */
  words: readonly string[]
  width: number
  height: number
  marks?: readonly PlotMark[]
  onPick?: (id: string) => void
  /** Where a tap came down, in drawing units; what it does must be possible by other means too. */
  onTap?: (x: number, y: number) => void
  /** The words stand below for everyone, not only for screen readers. */
  showWords?: boolean
  children: ComponentChildren
}

/** A thumb's half width in CSS pixels. */
const TAP_PX = 28
const NO_MARKS: readonly PlotMark[] = []

export function Plot({
  title,
  words,
  width,
  height,
  marks = NO_MARKS,
  onPick,
  onTap,
  showWords = false,
  children,
}: PlotProps) {
  const wordsId = useDocumentId()
  const [picked, setPicked] = useState<string | null>(null)
  const chosen = marks.find(m => m.id === picked)
  const pick = (mark: PlotMark) => {
    setPicked(mark.id)
    onPick?.(mark.id)
  }
  return (
    <figure class="plot">
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
          else onTap?.(at.x, at.y)
        }}
        onKeyDown={event => {
          const drawn = [...event.currentTarget.querySelectorAll<SVGGElement>('.mark')]
          const i = drawn.indexOf(document.activeElement as never)
          const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, Enter: 0, ' ': 0 }[event.key]
          if (i === -1 || step === undefined) return
          event.preventDefault()
          const to = (i + step + drawn.length) % drawn.length
          pick(marks[to]!)
          drawn[to]!.focus()
        }}
      >
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a <g> takes no focus; its words stand below */}
        <g aria-hidden="true">{children}</g>
        <PlotMarks marks={marks} picked={picked} />
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
