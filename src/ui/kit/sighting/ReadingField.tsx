/** What an axis showed. The reading to drive to stands beside the field, never in it. */
import type { Axis, MountRecord, StationRecord } from '../../../core/records/fieldbook.ts'
import { isLimitGuessed } from '../../../core/records/guesses.ts'
import type { HalfSighting } from '../../../core/records/halfsightings.ts'
import { SecondaryButton } from '../buttons.tsx'
import { NumberField } from '../fields.tsx'
import { Notice } from '../Notice.tsx'
import { parseNumber } from '../numberfield.ts'
import { axisName, keptReading, readingDecimals } from '../phrases.ts'
import { axisWord, readingKind, readingLabel, readingText, typedReading } from '../readings.ts'
import type { FieldsProps } from './TargetFields.tsx'
import { SIGHTING } from './words.ts'

export interface ReadingFieldProps extends FieldsProps {
  station: StationRecord
  axis: Axis
  dialled: HalfSighting['dialled']
  missing?: boolean
}

/** "0 to 1000 counts"; null where the stops are not known. */
export function stopsWords(station: StationRecord, axis: Axis): string | null {
  const { mount } = station
  const { minReading, maxReading } = mount[axis]
  return isLimitGuessed(station, axis)
    ? null
    : SIGHTING.stops(keptReading(mount, axis, minReading), keptReading(mount, axis, maxReading))
}

/** One axis's reading: what the dish shows. */
export function ReadingField({ form, set, station, axis, dialled, missing }: ReadingFieldProps) {
  const { mount } = station
  const kind = readingKind(mount, axis)
  const suggested = dialled?.[axis]
  return (
    <div class="sight-reading">
      <NumberField
        label={readingLabel(mount, axis)}
        kind={kind}
        text={form[axis]}
        signButton={mount[axis].minReading < 0}
        onText={text => set({ [axis]: text })}
        missing={missing ? 'What does the dish show?' : null}
        hint={
          suggested === undefined
            ? (stopsWords(station, axis) ?? ' ')
            : SIGHTING.expectedHint(readingText(mount, axis, suggested))
        }
      />
      {suggested !== undefined && form[axis] === '' && (
        <SecondaryButton onPress={() => set({ [axis]: readingNumber(mount, axis, suggested) })}>
          {SIGHTING.asExpected(readingText(mount, axis, suggested))}
        </SecondaryButton>
      )}
      <ReadingWarning form={form} station={station} axis={axis} expected={dialled} />
    </div>
  )
}

interface WarningProps extends Pick<ReadingFieldProps, 'form' | 'station' | 'axis'> {
  expected: HalfSighting['dialled']
}

/** A reading beyond its stop, or far from the one to drive to: kept as it is, with a warning. */
export function ReadingWarning({ form, station, axis, expected }: WarningProps) {
  const { mount } = station
  const parsed = parseNumber(form[axis], readingKind(mount, axis))
  if (parsed.kind !== 'value') return null
  const { minReading, maxReading } = mount[axis]
  const beyond = parsed.value < minReading ? minReading : parsed.value > maxReading ? maxReading : null
  const stop = isLimitGuessed(station, axis) ? null : beyond
  if (stop !== null)
    return (
      <Notice state="look-out">{SIGHTING.beyondStop(axisName(mount, axis), keptReading(mount, axis, stop))}</Notice>
    )
  const suggested = expected?.[axis]
  if (suggested === undefined || Math.abs(parsed.value - suggested) <= 0.2 * (maxReading - minReading)) return null
  return (
    <Notice state="look-out">
      {SIGHTING.farFromExpected(axisWord(mount, axis), readingText(mount, axis, suggested))}
    </Notice>
  )
}

/** As it stood on the screen when the time was marked: whole counts, tenths of a degree. */
const readingNumber = (mount: MountRecord, axis: Axis, value: number): string =>
  typedReading(mount, axis, Number(value.toFixed(readingDecimals(mount, axis))))
