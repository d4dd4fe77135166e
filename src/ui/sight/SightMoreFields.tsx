/** Everything about a sighting that may stay as it is. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { defaultSigmaDeg } from '../../state/sightings.ts'
import { Choice } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { KINDS } from './form.ts'
import { type FieldsProps, TimeField } from './SightTargetFields.tsx'
import { SIGHT } from './words.ts'

/** Everything that may stay as it is. */
export function MoreFields({
  form,
  set,
  station,
  withTime,
  onNow,
}: FieldsProps & { station: StationRecord; withTime: boolean; onNow?: () => void }) {
  const { mount } = station
  const sides = (['', '+', '-'] as const).map(value => ({ value, word: SIGHT.sides[value] }))
  const usual = form.method && form.method !== 'cross-scan' && form.method !== 'drift-scan' ? form.method : null
  return (
    <HelpLine word={SIGHT.more}>
      {withTime && <TimeField form={form} set={set} {...(onNow && { onNow })} />}
      <NumberField
        label={SIGHT.clockOffset}
        kind={KINDS.clockOffset}
        text={form.clockOffset}
        onText={clockOffset => set({ clockOffset })}
        hint={SIGHT.clockOffsetHint}
      />
      <Choice
        label={SIGHT.arrived(axisName(mount, 'lower'))}
        long
        options={sides}
        value={form.lowerSide}
        onPick={lowerSide => set({ lowerSide })}
      />
      <Choice
        label={SIGHT.arrived(axisName(mount, 'upper'))}
        long
        options={sides}
        value={form.upperSide}
        onPick={upperSide => set({ upperSide })}
      />
      <NumberField
        label={SIGHT.sigma}
        kind={KINDS.sigma}
        text={form.sigma}
        onText={sigma => set({ sigma })}
        hint={
          usual
            ? SIGHT.sigmaHint(degrees(defaultSigmaDeg(station, usual, form.feed ?? undefined), 2))
            : 'May stay empty.'
        }
      />
      {form.method !== 'shadow' && (
        <>
          <Text quiet>{SIGHT.offsetHint}</Text>
          <NumberField
            label={SIGHT.offsetRight}
            kind={KINDS.offset}
            text={form.offsetRight}
            onText={offsetRight => set({ offsetRight })}
            hint="May stay empty."
          />
          <NumberField
            label={SIGHT.offsetUp}
            kind={KINDS.offset}
            text={form.offsetUp}
            onText={offsetUp => set({ offsetUp })}
            hint="May stay empty."
          />
        </>
      )}
      <TextField label={SIGHT.wind} text={form.wind} onText={wind => set({ wind })} />
      <TextField label={SIGHT.note} long text={form.note} onText={note => set({ note })} />
    </HelpLine>
  )
}
