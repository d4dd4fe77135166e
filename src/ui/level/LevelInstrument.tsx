/** In the form of a level: which instrument, and how its bias is treated. */
import { edgeOf } from '../../core/level/upvector.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instrumentsAt } from '../../state/instruments.ts'
import { Choice } from '../kit/Choice.tsx'
import { TextField } from '../kit/fields.tsx'
import { seenText } from '../kit/format.ts'
import { MOUNT } from '../kit/mount/words.ts'
import { Text } from '../kit/numbers.tsx'
import { isByPhone } from './form.ts'
import type { LevelFieldsProps } from './LevelFields.tsx'
import { biasWords, INSTRUMENTS, phoneName, takenRows } from './phonewords.ts'
import { LEVEL } from './words.ts'

export function LevelInstrument({ station, what, form, set, own }: LevelFieldsProps & { station: StationRecord }) {
  // A reversal finds the bias, and round a mast it cancels: only from a single reading is it taken off.
  const isOne = what !== 'mast-lean' && form.how === 'one'
  if (isByPhone(form, what)) {
    const taken = form.taken.value ?? form.taken.first ?? form.around.find(row => row.taken)?.taken
    return (
      <>
        <Text>
          {LEVEL.instrument}: {own.instrument?.name ?? phoneName(edgeOf(form.end))}.{' '}
          {takenRows(taken ? [taken] : [])
            .map(row => `${row.label}: ${row.value}.`)
            .join(' ')}
        </Text>
        {isOne && <Text>{biasWords(own.use)}</Text>}
      </>
    )
  }
  const hand = instrumentsAt(station).filter(i => i.type === 'inclinometer')
  return (
    <>
      {hand.length > 0 && (
        <Choice
          label={LEVEL.instrument}
          value={form.instrumentId}
          options={[
            ...hand.map(i => ({ value: i.id, word: <bdi>{seenText(i.name)}</bdi> })),
            { value: '', word: INSTRUMENTS.another },
          ]}
          onPick={instrumentId => set({ instrumentId })}
        />
      )}
      {form.instrumentId === '' ? (
        <TextField
          label={hand.length > 0 ? INSTRUMENTS.other : LEVEL.instrument}
          text={form.instrument}
          onText={instrument => set({ instrument })}
          hint={MOUNT.mayStayEmpty}
        />
      ) : (
        isOne && <Text>{biasWords(own.use)}</Text>
      )}
    </>
  )
}
