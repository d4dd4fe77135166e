/** A swing, drawn: seen along the axis, the phone at three positions round it; and from the side, fastened turned about. */
import { SWING } from './words.ts'

/** A phone on an arm about the axis at (150, 96), `deg` degrees from upright. */
function At({ deg }: { deg: number }) {
  return (
    <g transform={`rotate(${deg} 150 96)`}>
      <path class="turn-arrow" d="M150 96V44" />
      <rect class="turn-body" x="130" y="22" width="40" height="20" transform="rotate(18 150 32)" />
    </g>
  )
}

export function SwingPicture() {
  return (
    <figure class="turn">
      <svg viewBox="0 0 300 116" role="img" aria-label={SWING.drawn.swing}>
        <At deg={-62} />
        <At deg={-4} />
        <At deg={58} />
        <circle class="turn-axis" cx="150" cy="96" r="8" />
        <text class="turn-word" x="166" y="110">
          {SWING.drawn.axis}
        </text>
        <path class="turn-arrow" d="M120 80A34 34 0 0 1 178 77M178 77l-1 -11M178 77l-10 -2" />
      </svg>
      <figcaption>{SWING.drawn.swing}</figcaption>
    </figure>
  )
}

function Along({ x, endAt }: { x: number; endAt: 'left' | 'right' }) {
  const end = endAt === 'right' ? x + 78 : x
  return (
    <g>
      <rect class="turn-body" x={x} y="18" width="100" height="22" />
      <path class="turn-end" d={`M${end} 18h22v22h-22Z`} />
      <text class="turn-letter" x={end + 11} y="35" text-anchor="middle">
        A
      </text>
      <path class="turn-line" d={`M${x - 16} 52H${x + 116}`} />
    </g>
  )
}

export function TurnedAboutPicture() {
  return (
    <figure class="turn">
      <svg viewBox="0 0 320 74" role="img" aria-label={SWING.drawn.turned}>
        <Along x={20} endAt="right" />
        <path class="turn-arrow" d="M146 30H174M164 22L174 30L164 38" />
        <Along x={198} endAt="left" />
        <text class="turn-word" x="70" y="70" text-anchor="middle">
          {SWING.drawn.axis}
        </text>
        <text class="turn-word" x="248" y="70" text-anchor="middle">
          {SWING.drawn.axis}
        </text>
      </svg>
      <figcaption>{SWING.drawn.turned}</figcaption>
    </figure>
  )
}
