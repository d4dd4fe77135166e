/** The readings round a mast: heading and reading of each side, and what they come to. */
import { isByPhone, KINDS, leanOf, leanReadings } from '../levelform.ts'
import { Second, Seconds } from '../parts/buttons.tsx'
import { NumberField } from '../parts/fields.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Text } from '../parts/numbers.tsx'
import { LEVEL, leanResultWords } from '../words/level.ts'
import { Fineness, type LevelFieldsProps, PhoneButton } from './LevelFields.tsx'

export function AroundMast({ what, form, set, plus, own, onPhone }: LevelFieldsProps & { plus: string }) {
  const { around } = form
  const setRow = (at: number, change: Partial<(typeof around)[number]>) =>
    set({ around: around.map((row, i) => (i === at ? { ...row, ...change } : row)) })
  const lean = leanOf(form, own)
  const said = lean && leanReadings(form).length > 0 ? leanResultWords(lean) : null
  return (
    <>
      <Text>{plus}</Text>
      {around.map((row, i) => (
        <div class="level-around" key={i}>
          <NumberField
            label={LEVEL.heading(i + 1)}
            kind={KINDS.heading}
            text={row.heading}
            hint={LEVEL.roughWill}
            onText={heading => setRow(i, { heading })}
          />
          <NumberField
            label={LEVEL.aroundReading(i + 1)}
            kind={KINDS.tilt}
            text={row.reading}
            hint={LEVEL.aroundHint}
            onText={reading => setRow(i, { reading, taken: null })}
          />
          {onPhone && <PhoneButton taken={!!row.taken} onPress={() => onPhone({ kind: 'around', row: i })} />}
        </div>
      ))}
      <Seconds>
        <Second onPress={() => set({ around: [...around, { heading: '', reading: '' }] })}>{LEVEL.more}</Second>
        {around.length > 3 && <Second onPress={() => set({ around: around.slice(0, -1) })}>{LEVEL.fewer}</Second>}
      </Seconds>
      {said && (
        <Notice state={said.good ? 'good' : 'look-out'} word={said.good ? LEVEL.result : LEVEL.notYet} live="status">
          {said.text.map(words => (
            <p key={words}>{words}</p>
          ))}
        </Notice>
      )}
      {!isByPhone(form, what) && <Fineness form={form} set={set} own={own} />}
    </>
  )
}
