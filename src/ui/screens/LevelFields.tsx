/** The fields of a level: each takes the form and what to change in it; what comes of them is said below. */
import type { LevelWhat } from '../../core/level/kinds.ts'
import type { LevelRecord, MountRecord } from '../../core/records/fieldbook.ts'
import { fixed } from '../format.ts'
import {
  asksSits,
  KINDS,
  leanOf,
  leanReadings,
  type MeasureForm,
  reversalOf,
  reversedSigmaDeg,
  usualSigmaDeg,
  valueKind,
} from '../levelform.ts'
import { Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { NumberField } from '../parts/fields.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Text } from '../parts/numbers.tsx'
import { LEVEL, leanResultWords, reversalWords, whenWords } from '../words/level.ts'
import { LevelTurn } from './LevelTurn.tsx'

export interface LevelFieldsProps {
  mount: MountRecord
  what: LevelWhat
  form: MeasureForm
  set: (change: Partial<MeasureForm>) => void
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

export function OneReading({ what, form, set, plus }: LevelFieldsProps & { plus: string }) {
  return (
    <>
      <NumberField
        label={LEVEL.reading}
        kind={valueKind(what)}
        text={form.value}
        hint={plus}
        onText={value => set({ value })}
      />
      <NumberField
        label={LEVEL.sigma}
        kind={KINDS.sigma}
        text={form.sigma}
        hint={LEVEL.usual(`± ${fixed(usualSigmaDeg(form), 2)}°`)}
        onText={sigma => set({ sigma })}
      />
    </>
  )
}

export function TwoReadings({ mount, what, form, set, plus }: LevelFieldsProps & { plus: string }) {
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const reversal = reversalOf(form)
  const sigmaDeg = reversal?.kind === 'reversed' ? reversedSigmaDeg(form, reversal.left) : null
  const said = reversal && reversalWords(mount, what, reversal, sigmaDeg)
  const hint = form.shows === 'circle' ? `${LEVEL.circleHint} ${plus}` : plus
  return (
    <>
      <LevelTurn />
      <Choice
        label={LEVEL.shows}
        value={form.shows}
        options={[
          { value: 'quarter', word: LEVEL.quarter, note: LEVEL.quarterNote },
          { value: 'circle', word: LEVEL.circle, note: LEVEL.circleNote },
        ]}
        onPick={shows => set({ shows })}
      />
      <NumberField label={LEVEL.first} kind={kind} text={form.first} hint={hint} onText={first => set({ first })} />
      <NumberField
        label={LEVEL.second}
        kind={kind}
        text={form.second}
        hint={form.shows === 'circle' ? LEVEL.circleHint : LEVEL.sameEnd}
        onText={second => set({ second })}
      />
      {said && (
        <Notice state={said.good ? 'good' : 'stop'} {...(said.good ? { word: LEVEL.result } : {})} live="status">
          {said.text}
        </Notice>
      )}
      <Fineness form={form} set={set} />
    </>
  )
}

function Fineness({ form, set }: Pick<LevelFieldsProps, 'form' | 'set'>) {
  return (
    <HelpLine word={LEVEL.finer}>
      <NumberField
        label={LEVEL.step}
        kind={KINDS.step}
        text={form.step}
        hint={LEVEL.usual('0.1°')}
        onText={step => set({ step })}
      />
      <NumberField
        label={LEVEL.noise}
        kind={KINDS.step}
        text={form.noise}
        hint={LEVEL.usual('0.1°')}
        onText={noise => set({ noise })}
      />
    </HelpLine>
  )
}

export function AroundMast({ form, set, plus }: LevelFieldsProps & { plus: string }) {
  const { around } = form
  const setRow = (at: number, change: Partial<(typeof around)[number]>) =>
    set({ around: around.map((row, i) => (i === at ? { ...row, ...change } : row)) })
  const lean = leanOf(form)
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
            onText={reading => setRow(i, { reading })}
          />
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
      <Fineness form={form} set={set} />
    </>
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
        ...(last === null ? [] : [{ value: 'same' as const, word: LEVEL.sitsSame(whenWords(last.utc)) }]),
      ]}
      onPick={sits => set({ sits })}
    />
  )
}
