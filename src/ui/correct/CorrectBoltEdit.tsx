/** One adjuster described: what it turns, how it is set, its arm and thread, and which way is more. */
import { useState } from 'preact/hooks'
import type { AdjusterRecord } from '../../core/records/adjusters.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { adjustersOf, keepAdjuster } from '../../state/bolts.ts'
import { newId } from '../../state/book.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { lengthUnit } from '../kit/format.ts'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { subjectWords } from '../kit/parameterwords.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { type AdjusterForm, adjustable, adjusterForm, adjusterKinds, adjusterOf } from './boltsform.ts'
import { BOLTS } from './boltswords.ts'

const BYS = ['screw', 'shim', 'flange'] as const
const back = () => go('correct', 'bolts')

/** @param id  'new' for one more */
export function CorrectBoltEdit({ station, id }: { station: StationRecord; id: string }) {
  const old = adjustersOf(station).find(a => a.id === id) ?? null
  if (old === null && id !== 'new')
    return (
      <PlaceFrame present="correct" title={BOLTS.newTitle}>
        <Sentence>{BOLTS.gone}</Sentence>
        <ButtonRow>
          <SecondaryButton onPress={back}>{BOLTS.back}</SecondaryButton>
        </ButtonRow>
        <DemoMark station={station} />
      </PlaceFrame>
    )
  return <Edit station={station} old={old} />
}

function Edit({ station, old }: { station: StationRecord; old: AdjusterRecord | null }) {
  const { mount, site } = station
  const unit = lengthUnit()
  const name = `adjuster.${station.id}.${old?.id ?? ''}.${unit}`
  const [own] = useState(() => old?.id ?? newId())
  const [form, setForm] = useKept<AdjusterForm>(name, () => adjusterForm(old, unit))
  const set = (change: Partial<AdjusterForm>) => setForm(before => ({ ...before, ...change }))
  const keeping = useKeep([name])
  const read = adjusterOf(form, unit, old, own)
  const keep = (record: AdjusterRecord | null) => void keeping.keep(() => keepAdjuster(station, own, record), back)
  const wordsOf = (of: Exclude<AdjusterForm['turns'], ''>) => subjectWords(of, mount, site.latDeg, null)
  const subject = form.turns === '' ? null : wordsOf(form.turns)
  return (
    <PlaceFrame
      present="correct"
      title={BOLTS.newTitle}
      action={
        <KeepAction
          keeping={keeping}
          word={BOLTS.keep}
          notNow={read.kind === 'ready' ? null : BOLTS.missing[read.why]}
          onKeep={() => read.kind === 'ready' && keep(read.record)}
          otherwise={back}
        />
      }
    >
      <TextField label={BOLTS.name} text={form.name} onText={text => set({ name: text })} hint={BOLTS.nameHint} />
      <Choice
        label={BOLTS.turns}
        long
        value={form.turns === '' ? null : form.turns}
        options={adjustable(mount, form.turns).map(value => {
          const { what, senses } = wordsOf(value)
          return { value, word: `${what}: ${senses.join(' or ')}` }
        })}
        onPick={turns => set({ turns })}
      />
      <Choice
        label={BOLTS.by}
        long
        value={form.by === '' ? null : form.by}
        options={BYS.map(value => ({ value, ...BOLTS.bys[value] }))}
        onPick={by => set({ by })}
      />
      <NumberField
        label={BOLTS.arm}
        kind={adjusterKinds(unit).arm}
        text={form.arm}
        onText={arm => set({ arm })}
        hint={BOLTS.armHint}
      />
      {form.by === 'screw' && (
        <NumberField
          label={BOLTS.pitch}
          kind={adjusterKinds(unit).pitch}
          text={form.pitch}
          onText={pitch => set({ pitch })}
          hint={BOLTS.pitchHint}
        />
      )}
      {subject && (
        <TextField
          label={BOLTS.plus(subject.what, subject.senses[1])}
          text={form.plus}
          onText={plus => set({ plus })}
          hint={BOLTS.plusHint}
        />
      )}
      <TextField label="Note" text={form.note} onText={note => set({ note })} hint="Optional." />
      <ButtonRow>
        {old && (
          <SecondaryButton stop onPress={() => keep(null)}>
            {BOLTS.remove}
          </SecondaryButton>
        )}
        <SecondaryButton onPress={back}>{BOLTS.back}</SecondaryButton>
      </ButtonRow>
      <Refused why={keeping.refused} />
      <UnsavedNotice />
      <DemoMark station={station} />
    </PlaceFrame>
  )
}
