/** The two positions of a reversal by the phone, one after the other, each taken by itself once the phone is still. */
import { useState } from 'preact/hooks'
import { edgeOf, type PhoneEnd, turnAxisFor } from '../../core/level/upvector.ts'
import type { StationRecord, Taken } from '../../core/records/fieldbook.ts'
import { Text } from '../kit/numbers.tsx'
import { EdgeChoice } from './EdgeChoice.tsx'
import { PhoneLive } from './PhoneLive.tsx'
import { takenFrom } from './phoneform.ts'
import { PHONE, TURN } from './phonewords.ts'
import { type TurnKind, TurnPicture } from './TurnPicture.tsx'

interface Props {
  station: StationRecord
  end: PhoneEnd
  onEnd: (end: PhoneEnd) => void
  /** How it is laid on what is measured. */
  lay?: string
  /** The first position is taken already: only the second is wanted. */
  first?: Taken | null
  /** The second position as it was refused: it must be moved from there. */
  refused?: Taken | null
  onDone: (first: Taken, second: Taken) => void
  onBack: () => void
}

const kindOf = (end: PhoneEnd, first: Taken): TurnKind =>
  edgeOf(end) === 'screen' ? 'plane' : turnAxisFor(end, first.up) === 'z' ? 'side' : 'back'

export function ReversalByPhone(p: Props) {
  const [first, setFirst] = useState<Taken | null>(p.first ?? null)
  if (first === null)
    return (
      <PhoneLive
        key="first"
        station={p.station}
        title={TURN.first}
        end={p.end}
        onTaken={(reading, utcMs) => setFirst(takenFrom(reading, utcMs))}
        onBack={p.onBack}
        backWord={PHONE.back}
      >
        <EdgeChoice end={p.end} onEnd={p.onEnd} />
        <TurnPicture step="first" kind={edgeOf(p.end) === 'screen' ? 'plane' : 'back'} />
        <Text>{p.lay ?? TURN.firstText(p.end)}</Text>
      </PhoneLive>
    )
  const kind = kindOf(p.end, first)
  return (
    <PhoneLive
      key="second"
      station={p.station}
      title={TURN.second}
      end={p.end}
      movedFrom={(p.refused ?? first).up}
      onTaken={(reading, utcMs) => p.onDone(first, takenFrom(reading, utcMs))}
      onBack={() => (p.first ? p.onBack() : setFirst(null))}
      backWord={PHONE.back}
    >
      <TurnPicture step="second" kind={kind} />
      <Text>{TURN.secondText[kind]}</Text>
    </PhoneLive>
  )
}
