/** A miss, drawn: an ink arrow the way the target stood from the beam, as seen from behind the dish, and how far. */
import { type Miss, missArrow, missDecimals, missParts, missWords } from '../kit/miss.ts'

/** An arrow on a line of text. @param turnDeg  clockwise from up */
export function InkArrow({ turnDeg }: { turnDeg: number }) {
  return (
    <svg class="ink-arrow" viewBox="0 0 20 20" aria-hidden="true">
      <path d="M10 18V4M4.5 9.5L10 3L15.5 9.5" transform={`rotate(${turnDeg} 10 10)`} />
    </svg>
  )
}

interface Props {
  miss: Miss
  sigmaDeg: number
}

const TURNS = { left: -90, right: 90, high: 0, low: 180 } as const

/** "→ 5.5° ↑ 0.2°", heard as "5.5° right, 0.2° high". */
export function MissSides({ miss, sigmaDeg }: Props) {
  const parts = missParts(miss, missDecimals(sigmaDeg))
  return (
    <span class="miss">
      <span class="hidden-words">{missWords(miss, sigmaDeg)}</span>
      <span aria-hidden="true">
        {parts.length === 0
          ? missWords(miss, sigmaDeg)
          : parts.map(({ size, word }) => (
              <span class="miss-side" key={word}>
                <InkArrow turnDeg={TURNS[word]} />
                {size}
              </span>
            ))}
      </span>
    </span>
  )
}

/** One arrow its own way, and how far in all: for a line of a list. */
export function MissMark({ miss, sigmaDeg }: Props) {
  const { size, turnDeg } = missArrow(miss, sigmaDeg)
  return (
    <span class="miss">
      <span class="hidden-words">{missWords(miss, sigmaDeg)}</span>
      <span aria-hidden="true" class="miss-side">
        {turnDeg !== null && <InkArrow turnDeg={turnDeg} />}
        {size}
      </span>
    </span>
  )
}
