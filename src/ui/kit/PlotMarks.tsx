/**
 * The marks of a plot, each a button, with one tab stop: the picked one, else the first. Drawn piece by piece, since years of
 * sightings are hundreds of marks; drawn again only where something changes. The plot handles taps and keys.
 */
import { Component } from 'preact'
import type { PlotMark } from './marks.ts'
import { useTurns } from './turns.ts'

const PIECE = 40

function MarkDrawing({ mark }: { mark: PlotMark }) {
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

interface PieceProps {
  marks: readonly PlotMark[]
  /** Id of the picked one, where it is among these. */
  picked: string | null
  /** Id of the one that Tab comes to, where it is among these. */
  stop: string | null
}

class Piece extends Component<PieceProps> {
  override shouldComponentUpdate(next: PieceProps): boolean {
    const { marks, picked, stop } = this.props
    return next.marks !== marks || next.picked !== picked || next.stop !== stop
  }
  override render({ marks, picked, stop }: PieceProps) {
    return (
      <>
        {marks.map(mark => (
          // biome-ignore lint/a11y/useSemanticElements: there is no <button> inside a drawing
          <g
            key={mark.id}
            class={mark.id === picked ? 'mark mark-picked' : 'mark'}
            role="button"
            tabindex={mark.id === stop ? 0 : -1}
            aria-label={mark.says}
            aria-pressed={mark.id === picked}
          >
            <circle class="mark-room" cx={mark.x} cy={mark.y} r="13" />
            {MarkDrawing({ mark })}
          </g>
        ))}
      </>
    )
  }
}

export function PlotMarks({ marks, picked }: { marks: readonly PlotMark[]; picked: string | null }) {
  const pieces = useTurns(marks, PIECE)
  const stop = marks.some(m => m.id === picked) ? picked : (marks[0]?.id ?? null)
  return (
    <>
      {pieces.map((piece, k) => {
        const here = (id: string | null) => (piece.some(m => m.id === id) ? id : null)
        return <Piece key={k} marks={piece} picked={here(picked)} stop={here(stop)} />
      })}
    </>
  )
}
