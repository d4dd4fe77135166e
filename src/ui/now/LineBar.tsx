/** A bar with the allowed mark; its words are its description. */
import { lineBar } from './linebar-geometry.ts'

interface LineBarProps {
  value: number
  /** Where the strong mark stands. */
  allowed?: number | null
  /** End of the scale; without it, a quarter beyond the larger of the two. */
  full?: number
  /** The facts: "0.4 of 0.5 dB allowed". */
  words: string
}

export function LineBar({ value, allowed = null, full, words }: LineBarProps) {
  const s = lineBar(value, allowed, full)
  return (
    <svg class="linebar" role="img" aria-label={words}>
      <rect class="trough" x="0" y="25%" width="100%" height="50%" />
      <rect class="filled" x="0" y="25%" width={`${s.filledPct}%`} height="50%" />
      {s.ticksPct.map(x => (
        <line class="tick" key={x} x1={`${x}%`} x2={`${x}%`} y1="75%" y2="88%" />
      ))}
      {s.allowedPct !== null && (
        <>
          <line class="allowed-edge" x1={`${s.allowedPct}%`} x2={`${s.allowedPct}%`} y1="25%" y2="75%" />
          <line class="allowed" x1={`${s.allowedPct}%`} x2={`${s.allowedPct}%`} y1="5%" y2="95%" />
        </>
      )}
    </svg>
  )
}
