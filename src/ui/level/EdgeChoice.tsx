/** What the phone measures by: one of its edges, or the plane of its screen. */
import { EDGES, edgeOf, endsOf, type PhoneEnd } from '../../core/level/upvector.ts'
import { Choice } from '../kit/Choice.tsx'
import { EDGE_WORDS, PHONE } from './phonewords.ts'

export function EdgeChoice({ end, onEnd }: { end: PhoneEnd; onEnd: (end: PhoneEnd) => void }) {
  return (
    <div class="phone-edges">
      <Choice
        label={PHONE.edge}
        value={edgeOf(end)}
        options={EDGES.map(edge => ({ value: edge, word: EDGE_WORDS[edge] }))}
        onPick={edge => onEnd(endsOf(edge)[0])}
      />
    </div>
  )
}
