/** The phone fills a field of a level's form: one reading, the two of a reversal, or one side of a mast. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { levelName } from '../kit/mount/words.ts'
import { Text } from '../kit/numbers.tsx'
import { EdgeChoice } from './EdgeChoice.tsx'
import { handedText, oneField, turnedFields, utcOfTaken } from './handed.ts'
import type { LevelFieldsProps, Slot } from './LevelFields.tsx'
import { phoneOwn } from './own.ts'
import { PhoneLive } from './PhoneLive.tsx'
import { phoneElevation, phoneSigma, takenFrom } from './phoneform.ts'
import { endToward, PHONE } from './phonewords.ts'
import { ReversalByPhone } from './ReversalByPhone.tsx'
import { LEVEL } from './words.ts'

type Props = Omit<LevelFieldsProps, 'mount' | 'onPhone' | 'own'> & {
  station: StationRecord
  slot: Slot
  /** null: put on for this reading alone. */
  clamping: string | null
  onDone: () => void
  onSlot: (slot: Slot) => void
}

export function LevelByPhone({ station, what, form, set, slot, clamping, onDone, onSlot }: Props) {
  const [end, setEnd] = useState(form.end)
  const { mount } = station
  if (slot.kind === 'turned')
    return (
      <ReversalByPhone
        station={station}
        end={end}
        onEnd={setEnd}
        lay={endToward(mount, what, end)}
        first={slot.again ? form.taken.first : null}
        onDone={(first, second) => {
          set(turnedFields(first, second, end))
          onDone()
        }}
        onBack={onDone}
      />
    )
  if (slot.kind === 'around') {
    const row = form.around[slot.row]!
    return (
      <PhoneLive
        key={slot.row}
        station={station}
        title={LEVEL.aroundReading(slot.row + 1)}
        end="back"
        movedFrom={slot.row > 0 ? (form.around[slot.row - 1]?.taken?.up ?? null) : null}
        onTaken={(reading, utcMs) => {
          const taken = takenFrom(reading, utcMs)
          const around = form.around.map((r, i) =>
            i === slot.row ? { ...r, reading: handedText(taken, 'back', what), taken } : r,
          )
          set({ around, end: 'back', utc: utcOfTaken(taken) })
          // On to the next side that has a heading and no reading yet.
          const next = around.findIndex((r, i) => i > slot.row && r.reading.trim() === '' && r.heading.trim() !== '')
          if (next < 0) onDone()
          else onSlot({ kind: 'around', row: next })
        }}
        onBack={onDone}
      >
        <Text>
          {row.heading.trim() !== '' && `${LEVEL.heading(slot.row + 1)}: ${row.heading}°. `}
          {endToward(mount, what, 'back')}
        </Text>
      </PhoneLive>
    )
  }
  return (
    <PhoneLive
      station={station}
      title={levelName(mount, what)}
      end={end}
      onEnd={setEnd}
      shown={(up, of) => phoneElevation(up, of, phoneOwn(station, of, up, clamping).use)}
      sigmaOf={reading => phoneSigma(reading, end, phoneOwn(station, end, reading.up, clamping), clamping !== null)}
      onTaken={(reading, utcMs) => {
        set(oneField(takenFrom(reading, utcMs), end, what))
        onDone()
      }}
      onBack={onDone}
      backWord={PHONE.byHand}
    >
      <EdgeChoice end={end} onEnd={setEnd} />
      <Text>{endToward(mount, what, end)}</Text>
    </PhoneLive>
  )
}
