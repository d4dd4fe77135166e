/** One position of a reversal, drawn: the phone on its line, its end A marked, its face a thick line or the screen itself. */
import { TURN } from './phonewords.ts'
import { LEVEL } from './words.ts'

/** back: seen from the side, turned end over end. side: seen from the front, turned upside down. plane: the faces swap. */
export type TurnKind = 'back' | 'side' | 'plane'

function FromSide({ faceUp, endAt }: { faceUp: boolean; endAt: 'left' | 'right' | null }) {
  return (
    <>
      <rect class="turn-body" x="60" y="28" width="180" height="24" />
      {endAt !== null && <path class="turn-end" d={endAt === 'right' ? 'M214 28h26v24h-26Z' : 'M60 28h26v24h-26Z'} />}
      {endAt !== null && (
        <text class="turn-letter" x={endAt === 'right' ? 227 : 73} y="46" text-anchor="middle">
          A
        </text>
      )}
      <path class="turn-face" d={faceUp ? 'M62 25H238' : 'M62 55H238'} />
      <text class="turn-word" x="150" y={faceUp ? 16 : 72} text-anchor="middle">
        {faceUp ? LEVEL.faceUp : LEVEL.faceDown}
      </text>
    </>
  )
}

function FromFront({ endAt }: { endAt: 'left' | 'right' }) {
  return (
    <>
      <rect class="turn-body" x="60" y="4" width="180" height="54" />
      <rect class="turn-body" x={endAt === 'right' ? 68 : 94} y="11" width="138" height="40" />
      <path class="turn-end" d={endAt === 'right' ? 'M214 4h26v54h-26Z' : 'M60 4h26v54h-26Z'} />
      <text class="turn-letter" x={endAt === 'right' ? 227 : 73} y="36" text-anchor="middle">
        A
      </text>
    </>
  )
}

export function TurnPicture({ step, kind }: { step: 'first' | 'second'; kind: TurnKind }) {
  const words = step === 'first' ? TURN.drawn.first : TURN.drawn[kind]
  const endAt = step === 'first' ? 'right' : 'left'
  return (
    <figure class="turn">
      <svg viewBox="0 0 300 78" role="img" aria-label={words}>
        {kind === 'side' ? (
          <FromFront endAt={endAt} />
        ) : (
          <FromSide faceUp={step === 'first'} endAt={kind === 'plane' ? null : endAt} />
        )}
        <path class="turn-line" d={kind === 'side' ? 'M20 61H280' : step === 'first' ? 'M20 55H280' : 'M20 58H280'} />
        {step === 'second' && <path class="turn-arrow" d="M284 20a34 34 0 0 1 0 44M276 56l8 9l11 -5" />}
      </svg>
      <figcaption>{words}</figcaption>
    </figure>
  )
}
