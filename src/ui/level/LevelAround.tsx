/** The readings round a mast: heading and reading of each side, and what they come to. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isLevelFitted } from '../../core/records/levelkinds.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { KINDS } from '../kit/kinds.ts'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { isByPhone, leanOf, leanReadings } from './form.ts'
import { type LevelFieldsProps, LevelFineness, PhoneButton } from './LevelFields.tsx'
import { LEVEL_PHONE, levelShort, mastMatters } from './phonewords.ts'
import { leanResultWords } from './says.ts'
import { LEVEL } from './words.ts'

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
            hint=" "
            onText={heading => setRow(i, { heading })}
          />
          <NumberField
            label={LEVEL.aroundReading(i + 1)}
            kind={KINDS.tilt}
            text={row.reading}
            hint=" "
            onText={reading => setRow(i, { reading, taken: null })}
          />
          {onPhone && <PhoneButton taken={!!row.taken} onPress={() => onPhone({ kind: 'around', row: i })} />}
        </div>
      ))}
      <ButtonRow>
        <SecondaryButton onPress={() => set({ around: [...around, { heading: '', reading: '' }] })}>
          {LEVEL.more}
        </SecondaryButton>
        {around.length > 3 && (
          <SecondaryButton onPress={() => set({ around: around.slice(0, -1) })}>{LEVEL.fewer}</SecondaryButton>
        )}
      </ButtonRow>
      {said && (
        <div class="level-result">
          <Notice state={said.good ? 'good' : 'look-out'} word={said.good ? MOUNT.result : MOUNT.notYet} live="status">
            {said.text.map(words => (
              <p key={words}>{words}</p>
            ))}
          </Notice>
        </div>
      )}
      {!isByPhone(form, what) && <LevelFineness form={form} set={set} own={own} />}
    </>
  )
}

/** On a mount whose mast is no axis, other levels matter more: said first, with the way there. */
export function MastMatters({ station }: { station: StationRecord }) {
  const { kind } = station.mount
  if (isLevelFitted(kind, 'mast-lean')) return null
  return (
    <Notice state="next" word={LEVEL_PHONE.mattersMore}>
      <Text>{mastMatters(station.mount)}</Text>
      <ButtonRow>
        {(['lower-axis-elevation', 'upper-axis-elevation'] as const).map(other => (
          <SecondaryButton key={other} onPress={() => go('mount', 'measure', other)}>
            {levelShort(station.mount, other)}
          </SecondaryButton>
        ))}
      </ButtonRow>
    </Notice>
  )
}
