/** The fields of a level: each takes the form and what to change in it; the result is shown below. */
import type { LevelRecord, MountRecord } from '../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import { readySigns } from '../../state/level.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KINDS } from '../kit/kinds.ts'
import { elevationWords, MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { numberOf } from '../kit/numberfield.ts'
import { whenToMinute } from '../kit/phrases.ts'
import {
  asksSits,
  correctedDeg,
  isByPhone,
  type MeasureForm,
  reversalOf,
  reversedSigmaDeg,
  usualFineness,
  usualSigmaDeg,
  valueKind,
} from './form.ts'
import { LevelTurn } from './LevelTurn.tsx'
import type { OwnError } from './phoneform.ts'
import { PHONE, TURN } from './phonewords.ts'
import { reversalWords } from './says.ts'
import { LEVEL } from './words.ts'

/** Which field the phone is to fill. */
export type Slot = { kind: 'value' } | { kind: 'turned'; again: boolean } | { kind: 'around'; row: number }

export interface LevelFieldsProps {
  mount: MountRecord
  what: LevelWhat
  form: MeasureForm
  set: (change: Partial<MeasureForm>) => void
  /** The instrument in use, and whether its bias is taken off. */
  own: OwnError
  /** Goes to the phone for a field of this form. */
  onPhone?: (slot: Slot) => void
}

export function WayOfMeasuring({ form, set }: LevelFieldsProps) {
  return (
    <Choice
      label={LEVEL.how}
      value={form.how}
      options={[
        { value: 'one', word: LEVEL.once, note: LEVEL.onceNote },
        { value: 'reversal', word: LEVEL.turned, note: LEVEL.turnedNote },
      ]}
      onPick={how => set({ how })}
    />
  )
}

/** A field that is typed over counts as typed again, not as taken by the phone. */
const byHand = (form: MeasureForm, slot: 'value' | 'first' | 'second') => ({ taken: { ...form.taken, [slot]: null } })

export function PhoneButton({ taken, onPress }: { taken: boolean; onPress: () => void }) {
  return (
    <ButtonRow>
      <SecondaryButton
        onPress={() => {
          readySigns()
          onPress()
        }}
      >
        {taken ? PHONE.anewByPhone : PHONE.byPhone}
      </SecondaryButton>
    </ButtonRow>
  )
}

export function OneReading({ mount, what, form, set, plus, own, onPhone }: LevelFieldsProps & { plus: string }) {
  const comesTo = correctedDeg(form, what, own)
  return (
    <>
      {onPhone && <PhoneButton taken={form.taken.value !== null} onPress={() => onPhone({ kind: 'value' })} />}
      <div class="level-result">
        <NumberField
          label={LEVEL.reading}
          kind={valueKind(what)}
          text={form.value}
          hint={plus}
          onText={value => set({ value, ...byHand(form, 'value') })}
        />
      </div>
      <NumberField
        label={LEVEL.sigma}
        kind={KINDS.sigma}
        text={form.sigma}
        hint={MOUNT.usual(`± ${fixed(usualSigmaDeg(form, own), 2)}°`)}
        onText={sigma => set({ sigma })}
      />
      {comesTo !== null && own.use.kind === 'valid' && (
        <Notice state="good" word={MOUNT.result} live="status">
          {elevationWords(mount, what, comesTo, numberOf(form.sigma, KINDS.sigma) ?? usualSigmaDeg(form, own))}
        </Notice>
      )}
    </>
  )
}

export function TwoReadings({ mount, what, form, set, plus, own, onPhone }: LevelFieldsProps & { plus: string }) {
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const reversal = reversalOf(form)
  const sigmaDeg = reversal?.kind === 'reversed' ? reversedSigmaDeg(form, reversal.left, own) : null
  const said = reversal && reversalWords(mount, what, reversal, sigmaDeg)
  const hint = form.shows === 'circle' ? `${LEVEL.circleHint} ${plus}` : plus
  return (
    <>
      <LevelTurn />
      {onPhone && (
        <PhoneButton taken={isByPhone(form, what)} onPress={() => onPhone({ kind: 'turned', again: false })} />
      )}
      {onPhone && isByPhone(form, what) && reversal && reversal.kind !== 'reversed' && (
        <ButtonRow>
          <SecondaryButton onPress={() => onPhone({ kind: 'turned', again: true })}>{TURN.secondAgain}</SecondaryButton>
        </ButtonRow>
      )}
      <Choice
        label={LEVEL.shows}
        value={form.shows}
        options={[
          { value: 'quarter', word: LEVEL.quarter, note: LEVEL.quarterNote },
          { value: 'circle', word: LEVEL.circle, note: LEVEL.circleNote },
        ]}
        onPick={shows => set({ shows })}
      />
      <NumberField
        label={LEVEL.first}
        kind={kind}
        text={form.first}
        hint={hint}
        onText={first => set({ first, ...byHand(form, 'first') })}
      />
      <NumberField
        label={LEVEL.second}
        kind={kind}
        text={form.second}
        hint={form.shows === 'circle' ? LEVEL.circleHint : LEVEL.sameEnd}
        onText={second => set({ second, ...byHand(form, 'second') })}
      />
      {said && (
        <div class="level-result">
          <Notice state={said.good ? 'good' : 'stop'} {...(said.good ? { word: MOUNT.result } : {})} live="status">
            {said.text}
          </Notice>
        </div>
      )}
      {!isByPhone(form, what) && <LevelFineness form={form} set={set} own={own} />}
    </>
  )
}

export function LevelFineness({ form, set, own }: Pick<LevelFieldsProps, 'form' | 'set' | 'own'>) {
  const usual = usualFineness(own)
  return (
    <HelpLine word={MOUNT.finer}>
      <NumberField
        label={MOUNT.step}
        kind={KINDS.step}
        text={form.step}
        hint={MOUNT.usual(`${usual.stepDeg}°`)}
        onText={step => set({ step })}
      />
      <NumberField
        label={LEVEL.noise}
        kind={KINDS.step}
        text={form.noise}
        hint={MOUNT.usual(`${usual.noiseDeg}°`)}
        onText={noise => set({ noise })}
      />
    </HelpLine>
  )
}

export function HowItSits({ what, form, set, last }: LevelFieldsProps & { last: LevelRecord | null }) {
  if (!asksSits(form, what)) return null
  return (
    <Choice
      label={LEVEL.sits}
      long
      value={form.sits}
      hint={LEVEL.sitsHint}
      options={[
        { value: 'once', word: LEVEL.sitsOnce },
        { value: 'new', word: LEVEL.sitsNew },
        ...(last === null ? [] : [{ value: 'same' as const, word: LEVEL.sitsSame(whenToMinute(last.utc)) }]),
      ]}
      onPick={sits => set({ sits })}
    />
  )
}
