/** The right turn, drawn: the instrument along the line, then half a turn about its short side, ends and face. */
import { LEVEL } from './words.ts'

function Instrument({ face, endAt }: { face: 'up' | 'down'; endAt: 'left' | 'right' }) {
  const end = endAt === 'right' ? 118 : 22
  return (
    <g>
      <rect class="turn-body" x="14" y="18" width="112" height="24" />
      {/* The marked end. */}
      <path class="turn-end" d={endAt === 'right' ? 'M104 18 H126 V42 H104 Z' : 'M14 18 H36 V42 H14 Z'} />
      <text class="turn-letter" x={end - 3} y="36" text-anchor="middle">
        A
      </text>
      {/* The face is a thick line on the side that it looks to. */}
      <path class="turn-face" d={face === 'up' ? 'M16 15 H124' : 'M16 45 H124'} />
      <text class="turn-word" x="70" y={face === 'up' ? 9 : 60} text-anchor="middle">
        {face === 'up' ? LEVEL.faceUp : LEVEL.faceDown}
      </text>
    </g>
  )
}

export function LevelTurn() {
  return (
    <figure class="turn">
      <svg viewBox="0 0 320 66" role="img" aria-label={LEVEL.turnWords}>
        <Instrument face="up" endAt="right" />
        <path class="turn-arrow" d="M142 30 H172 M162 22 L172 30 L162 38" />
        <g transform="translate(180 0)">
          <Instrument face="down" endAt="left" />
        </g>
      </svg>
      <figcaption>{LEVEL.turnWords}</figcaption>
    </figure>
  )
}
