/** Everything about a sighting that may stay as it is. */
import { isScanMethod } from '../../../core/fit/methods.ts'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { methodSigmaDeg } from '../../../state/sightings.ts'
import { Choice } from '../Choice.tsx'
import { NumberField, TextField } from '../fields.tsx'
import { degrees } from '../format.ts'
import { HelpLine } from '../HelpLine.tsx'
import { KINDS } from '../kinds.ts'
import { Text } from '../numbers.tsx'
import { axisName } from '../phrases.ts'
import { type FieldsProps, TimeField } from './TargetFields.tsx'
import { SIGHTING } from './words.ts'

/** Everything that may stay as it is. */
export function MoreFields({
  form,
  set,
  station,
  withTime,
  onNow,
}: FieldsProps & { station: StationRecord; withTime: boolean; onNow?: () => void }) {
  const { mount } = station
  const sides = (['', '+', '-'] as const).map(value => ({ value, word: SIGHTING.sides[value] }))
  const usual = form.method && !isScanMethod(form.method) ? form.method : null
  return (
    <HelpLine word={SIGHTING.more}>
      {withTime && <TimeField form={form} set={set} {...(onNow && { onNow })} />}
      <NumberField
        label={SIGHTING.clockOffset}
        kind={KINDS.clockOffset}
        text={form.clockOffset}
        onText={clockOffset => set({ clockOffset })}
        hint={SIGHTING.clockOffsetHint}
      />
      <Choice
        label={SIGHTING.arrived(axisName(mount, 'lower'))}
        long
        options={sides}
        value={form.lowerSide}
        onPick={lowerSide => set({ lowerSide })}
      />
      <Choice
        label={SIGHTING.arrived(axisName(mount, 'upper'))}
        long
        options={sides}
        value={form.upperSide}
        onPick={upperSide => set({ upperSide })}
      />
      <NumberField
        label={SIGHTING.sigma}
        kind={KINDS.sigma}
        text={form.sigma}
        onText={sigma => set({ sigma })}
        hint={
          usual
            ? SIGHTING.sigmaHint(degrees(methodSigmaDeg(station, usual, form.feed ?? undefined), 2))
            : 'May stay empty.'
        }
      />
      {form.method !== 'shadow' && (
        <>
          <Text quiet>{SIGHTING.offsetHint}</Text>
          <NumberField
            label={SIGHTING.offsetRight}
            kind={KINDS.offset}
            text={form.offsetRight}
            onText={offsetRight => set({ offsetRight })}
            hint="May stay empty."
          />
          <NumberField
            label={SIGHTING.offsetUp}
            kind={KINDS.offset}
            text={form.offsetUp}
            onText={offsetUp => set({ offsetUp })}
            hint="May stay empty."
          />
        </>
      )}
      <TextField label={SIGHTING.wind} text={form.wind} onText={wind => set({ wind })} />
      <TextField label={SIGHTING.note} long text={form.note} onText={note => set({ note })} />
    </HelpLine>
  )
}
