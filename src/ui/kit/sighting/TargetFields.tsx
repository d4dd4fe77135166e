/** What was looked at, and when. */
import { SOURCE_NAMES } from '../../../core/sky/sources.ts'
import { Choice } from '../Choice.tsx'
import { NumberField, UtcField } from '../fields.tsx'
import { KINDS } from '../kinds.ts'
import type { SightForm } from './form.ts'
import { SIGHTING } from './words.ts'

export interface FieldsProps {
  form: SightForm
  set: (change: Partial<SightForm>) => void
}

/** Which source, satellite or landmark. */
export function TargetParts({ form, set }: FieldsProps) {
  if (form.target === 'source')
    return (
      <Choice
        label={SIGHTING.source}
        long
        value={form.source}
        options={SOURCE_NAMES.map(value => ({ value, word: value }))}
        onPick={source => set({ source })}
      />
    )
  if (form.target === 'geostationary')
    return (
      <NumberField
        label={SIGHTING.satellite}
        kind={KINDS.longitude}
        text={form.satelliteLon}
        hint={SIGHTING.satelliteHint}
        onText={satelliteLon => set({ satelliteLon })}
      />
    )
  if (form.target !== 'landmark') return null
  return (
    <>
      <NumberField
        label={SIGHTING.landmarkAz}
        kind={KINDS.azimuth}
        text={form.landmarkAz}
        onText={landmarkAz => set({ landmarkAz })}
      />
      <NumberField
        label={SIGHTING.landmarkEl}
        kind={KINDS.elevation}
        text={form.landmarkEl}
        onText={landmarkEl => set({ landmarkEl })}
      />
    </>
  )
}

/** The target, whole: for a sighting typed in afterwards, or an edit. */
export function TargetFields({ form, set }: FieldsProps) {
  return (
    <>
      <Choice
        label={SIGHTING.target}
        value={form.target}
        options={[
          { value: 'moon', word: SIGHTING.moon },
          { value: 'sun', word: SIGHTING.sun },
          { value: 'source', word: SIGHTING.targetOthers.source },
          { value: 'geostationary', word: SIGHTING.targetOthers.geostationary },
          { value: 'landmark', word: SIGHTING.targetOthers.landmark },
        ]}
        onPick={value => set({ target: value })}
      />
      <TargetParts form={form} set={set} />
    </>
  )
}

export function TimeField({ form, set, onNow }: FieldsProps & { onNow?: () => void }) {
  return <UtcField label={SIGHTING.utc} text={form.utc} onText={utc => set({ utc })} {...(onNow && { onNow })} />
}
