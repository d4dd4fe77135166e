/** The phone as a level by itself: hold it to anything; what it took can be kept as a level of this mount. */
import { useState } from 'preact/hooks'
import type { PhoneEnd } from '../../core/level/upvector.ts'
import { edgeOf } from '../../core/level/upvector.ts'
import type { StationRecord, Taken } from '../../core/records/fieldbook.ts'
import { type LevelWhat, levelKinds } from '../../core/records/levelkinds.ts'
import { degFromRad } from '../../core/units.ts'
import { Action } from '../kit/buttons.tsx'
import { fixed } from '../kit/format.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { levelName, MOUNT } from '../kit/mount/words.ts'
import { go } from '../kit/navigation.ts'
import { BigNumber, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { EdgeChoice } from './EdgeChoice.tsx'
import { hand } from './handed.ts'
import { phoneOwn } from './own.ts'
import { PhoneLive } from './PhoneLive.tsx'
import { NO_OWN, phoneElevation, phoneSigma, readingFrom, takenFrom } from './phoneform.ts'
import { biasWords, EDGE_WORDS, endSays, PHONE, takenRows } from './phonewords.ts'

export function LevelLive({ station }: { station: StationRecord }) {
  const [end, setEnd] = useState<PhoneEnd>('top')
  const [taken, setTaken] = useState<Taken | null>(null)
  if (taken !== null) return <TakenOne station={station} taken={taken} end={end} onAgain={() => setTaken(null)} />
  return (
    <PhoneLive
      station={station}
      title={PHONE.title}
      end={end}
      onEnd={setEnd}
      shown={(up, of) => phoneElevation(up, of, phoneOwn(station, of, up, null).use)}
      sigmaOf={reading => phoneSigma(reading, end, phoneOwn(station, end, reading.up, null), false)}
      onTaken={(reading, utcMs) => setTaken(takenFrom(reading, utcMs))}
      onBack={() => go('mount')}
      backWord={MOUNT.back}
    >
      <EdgeChoice end={end} onEnd={setEnd} />
    </PhoneLive>
  )
}

interface TakenProps {
  station: StationRecord
  taken: Taken
  end: PhoneEnd
  onAgain: () => void
}

/** What was taken, how sure it is, and what it may be kept as. */
function TakenOne({ station, taken, end, onAgain }: TakenProps) {
  const own = phoneOwn(station, end, taken.up, null)
  const deg = degFromRad(phoneElevation(taken.up, end, own.use))
  const sigma = degFromRad(phoneSigma(readingFrom(taken), end, own, false))
  const best = degFromRad(phoneSigma(readingFrom(taken), end, NO_OWN, false))
  const keep = (what: LevelWhat) => {
    hand({ kind: 'one', taken, end })
    go('mount', 'measure', what)
  }
  return (
    <MountFrame station={station} title={PHONE.taken} action={<Action onPress={onAgain}>{PHONE.again}</Action>}>
      <div role="status">
        <BigNumber
          label={endSays(end, deg)}
          value={fixed(Math.abs(deg), 1)}
          unit="°"
          sigma={fixed(Math.max(0.1, sigma), 1)}
        />
      </div>
      <Text>{biasWords(own.use)}</Text>
      {own.use.kind !== 'valid' && best > 0.5 && <Text quiet>{PHONE.whySure}</Text>}
      <Rows>
        <Row label={PHONE.edge}>{EDGE_WORDS[edgeOf(end)]}</Row>
        {takenRows([taken]).map(row => (
          <Row key={row.label} label={row.label}>
            {row.value}
          </Row>
        ))}
      </Rows>
      <Sentence strong>{PHONE.useIt}</Sentence>
      <div class="level-list">
        {levelKinds(station.mount.kind)
          .filter(what => what !== 'mast-lean')
          .map(what => (
            <RowButton key={what} label={levelName(station.mount, what)} onPress={() => keep(what)} />
          ))}
        <RowButton label={PHONE.reverseIt} onPress={() => go('mount', 'reversal', edgeOf(end))} />
      </div>
    </MountFrame>
  )
}
