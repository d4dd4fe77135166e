/** Everything about a sighting that may stay as it is. */
import { isScanMethod } from '../../../core/fit/methods.ts'
import { AXES } from '../../../core/mount/names.ts'
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

export function MoreFields({
  form,
  set,
  station,
  withTime,
  withHow = true,
  onNow,
}: FieldsProps & {
  station: StationRecord
  withTime: boolean
  /** Sides and uncertainty too; false where they have a screen of their own. */
  withHow?: boolean
  onNow?: () => void
}) {
  return (
    <HelpLine word={withHow ? SIGHTING.more : SIGHTING.moreTime}>
      {withTime && <TimeField form={form} set={set} {...(onNow && { onNow })} />}
      <NumberField
        label={SIGHTING.clockOffset}
        kind={KINDS.clockOffset}
        text={form.clockOffset}
        onText={clockOffset => set({ clockOffset })}
        hint={SIGHTING.clockOffsetHint}
      />
      {withHow && (
        <>
          <SideFields form={form} set={set} station={station} />
          <SigmaField form={form} set={set} station={station} />
        </>
      )}
      {form.method !== 'shadow' && (
        <>
          <Text quiet>{SIGHTING.offsetHint}</Text>
          <NumberField
            label={SIGHTING.offsetRight}
            kind={KINDS.offset}
            text={form.offsetRight}
            onText={offsetRight => set({ offsetRight })}
            hint={SIGHTING.optional}
          />
          <NumberField
            label={SIGHTING.offsetUp}
            kind={KINDS.offset}
            text={form.offsetUp}
            onText={offsetUp => set({ offsetUp })}
            hint={SIGHTING.optional}
          />
        </>
      )}
      <TextField label={SIGHTING.wind} text={form.wind} onText={wind => set({ wind })} />
      <TextField label={SIGHTING.note} long text={form.note} onText={note => set({ note })} />
    </HelpLine>
  )
}

/** From which side each axis arrived, for the lost motion. */
export function SideFields({ form, set, station }: FieldsProps & { station: StationRecord }) {
  const sides = (['', '+', '-'] as const).map(value => ({ value, word: SIGHTING.sides[value] }))
  return (
    <>
      {AXES.map(axis => (
        <Choice
          key={axis}
          label={SIGHTING.arrived(axisName(station.mount, axis))}
          long
          options={sides}
          value={form[`${axis}Side`]}
          onPick={side => set({ [`${axis}Side`]: side })}
        />
      ))}
    </>
  )
}

export function SigmaField({ form, set, station }: FieldsProps & { station: StationRecord }) {
  const usual = form.method && !isScanMethod(form.method) ? form.method : null
  return (
    <NumberField
      label={SIGHTING.sigma}
      kind={KINDS.sigma}
      text={form.sigma}
      onText={sigma => set({ sigma })}
      hint={
        usual
          ? SIGHTING.sigmaHint(degrees(methodSigmaDeg(station, usual, form.feed ?? undefined), 2))
          : SIGHTING.optional
      }
    />
  )
}
