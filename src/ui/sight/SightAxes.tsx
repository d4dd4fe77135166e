/** Where the axes are, typed once; what is left to drive at each axis, and how fast each runs. */
import { useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { presentHere, sayPresent, ways } from '../../state/drive.ts'
import { pointing, target } from '../../state/pointing.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { NumberField } from '../kit/fields.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { numberOf } from '../kit/numberfield.ts'
import { RowButton, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { axisName, readingDecimals, theTarget } from '../kit/phrases.ts'
import { readingKind, readingLabel, typedReading } from '../kit/readings.ts'
import { emptySightForm } from '../kit/sighting/form.ts'
import { ReadingWarning, stopsWords } from '../kit/sighting/ReadingField.tsx'
import { CAUTION } from '../kit/sighting/words.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { DRIVE, speedText, wayTold } from './drivewords.ts'

export function SightAxes({ station }: { station: StationRecord }) {
  const { mount } = station
  const present = presentHere(station)
  const [typed, setTyped] = useState(() => ({
    lower: typedReading(mount, 'lower', rounded(present?.lower)),
    upper: typedReading(mount, 'upper', rounded(present?.upper)),
  }))
  const lower = numberOf(typed.lower, readingKind(mount, 'lower'))
  const upper = numberOf(typed.upper, readingKind(mount, 'upper'))
  const keep = () => {
    if (lower === null || upper === null) return
    sayPresent(station, { lower, upper })
    go('sight')
  }
  return (
    <PlaceFrame
      present="sight"
      title={DRIVE.axesTitle}
      action={
        <Action notNow={lower === null || upper === null ? DRIVE.notYet : null} onPress={keep}>
          {DRIVE.axesKeep}
        </Action>
      }
      side={
        <>
          <div>
            {AXES.map(axis => {
              const { drive } = mount[axis]
              return (
                <RowButton
                  key={axis}
                  label={DRIVE.speedRow(axisName(mount, axis))}
                  value={drive === undefined ? DRIVE.measure : speedText(mount, axis, drive)}
                  onPress={() => go('sight', 'speed', axis)}
                />
              )
            })}
          </div>
          <UndoStrip of="sight" />
          <DemoMark station={station} />
        </>
      }
    >
      <Text quiet>{DRIVE.axesWhy}</Text>
      {AXES.map(axis => (
        <div key={axis}>
          <NumberField
            label={readingLabel(mount, axis)}
            kind={readingKind(mount, axis)}
            text={typed[axis]}
            signButton={mount[axis].minReading < 0}
            onText={text => setTyped(before => ({ ...before, [axis]: text }))}
            hint={stopsWords(station, axis) ?? ' '}
          />
          <ReadingWarning
            form={{ ...emptySightForm('mm'), ...typed }}
            station={station}
            axis={axis}
            expected={undefined}
          />
        </div>
      ))}
      <ToDo station={station} />
      <ButtonRow>
        <HereButton station={station} onSaid={() => go('sight')} />
        {present !== null && (
          <SecondaryButton
            onPress={() => {
              sayPresent(station, null)
              go('sight')
            }}
          >
            {DRIVE.axesForget}
          </SecondaryButton>
        )}
      </ButtonRow>
    </PlaceFrame>
  )
}

/** No more digits than an axis shows. */
const rounded = (reading: number | undefined): number | undefined =>
  reading === undefined ? undefined : Number(reading.toFixed(4))

/** Says that both axes stand where they were to be driven; nothing while that is nowhere. */
export function HereButton({ station, onSaid }: { station: StationRecord; onSaid?: () => void }) {
  const at = pointing.value
  if (!at?.reachable || at.lower === null || at.upper === null) return null
  const { lower, upper } = at
  const shown = (axis: Axis, reading: number) => Number(reading.toFixed(readingDecimals(station.mount, axis)))
  return (
    <SecondaryButton
      onPress={() => {
        sayPresent(station, { lower: shown('lower', lower), upper: shown('upper', upper) })
        onSaid?.()
      }}
    >
      {DRIVE.here}
    </SecondaryButton>
  )
}

/** The way to the target in sentences, as for a person at the jack. */
function ToDo({ station }: { station: StationRecord }) {
  const told = AXES.flatMap(axis => {
    const way = ways.value[axis]
    return way === null ? [] : wayTold(station.mount, axis, way)
  })
  if (told.length === 0) return null
  const of = target.value
  return (
    <section>
      <h2>{`To ${theTarget(of)}`}</h2>
      {told.map(line => (
        <Text key={line}>{line}</Text>
      ))}
      <Notice state="caution">{of.type === 'sun' ? CAUTION.sun : CAUTION.other}</Notice>
    </section>
  )
}
