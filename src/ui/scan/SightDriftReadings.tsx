/** What the dish shows once it is parked for a drift scan, how it got there, and a note. */
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { DriftPlanJson } from '../../state/scanasks.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { axisName, readingDecimals } from '../kit/phrases.ts'
import { readingKind, readingLabel, readingText, typedReading } from '../kit/readings.ts'
import { SIGHTING } from '../kit/sighting/words.ts'
import type { DriftForm } from './form.ts'
import { DRIFT } from './words.ts'

export type SetDrift = (change: Partial<DriftForm>) => void

/** What the dish shows once it is parked; what was planned stands beside, never in the field. */
export function ParkedReadings(p: {
  station: StationRecord
  form: DriftForm
  set: SetDrift
  plan: DriftPlanJson | null
}) {
  const { station, form, set, plan } = p
  const { mount } = station
  return (
    <>
      {AXES.map(axis => {
        const planned = plan?.[axis]
        return (
          <div class="sight-reading" key={axis}>
            <NumberField
              label={readingLabel(mount, axis)}
              kind={readingKind(mount, axis)}
              text={form[axis]}
              signButton={mount[axis].minReading < 0}
              onText={text => set({ [axis]: text })}
              hint={DRIFT.shows}
            />
            {planned !== undefined && form[axis] === '' && (
              <SecondaryButton
                onPress={() =>
                  set({ [axis]: typedReading(mount, axis, Number(planned.toFixed(readingDecimals(mount, axis)))) })
                }
              >
                {DRIFT.asPlanned(readingText(mount, axis, planned))}
              </SecondaryButton>
            )}
          </div>
        )
      })}
    </>
  )
}

export function More({ station, form, set }: { station: StationRecord; form: DriftForm; set: SetDrift }) {
  return (
    <HelpLine word={DRIFT.more}>
      {AXES.map(axis => {
        const key = axis === 'lower' ? 'lowerSide' : 'upperSide'
        return (
          <Choice
            key={axis}
            label={SIGHTING.arrived(axisName(station.mount, axis))}
            long
            value={form[key]}
            options={(['', '+', '-'] as const).map(value => ({ value, word: SIGHTING.sides[value] }))}
            onPick={side => set({ [key]: side })}
          />
        )
      })}
      <TextField label={DRIFT.note} text={form.note} onText={note => set({ note })} hint="Optional." />
    </HelpLine>
  )
}
