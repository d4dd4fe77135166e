/** Where the dish is put in wind: the way there from where the axes stand, and the form of it. */
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord, StowRecord } from '../../core/records/fieldbook.ts'
import { keepStow, presentHere, sayPresent, stowWays } from '../../state/drive.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { lengthUnit } from '../kit/format.ts'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { BigNumber, Name, Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { dialled } from '../kit/phrases.ts'
import { readingKind, readingLabel, typedReading } from '../kit/readings.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { stopsWords } from '../kit/sighting/ReadingField.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { type StowForm, stowForm, stowOf, windKind } from './driveform.ts'
import { DRIVE, DRIVE_CAUTION, stoppedWords, windWords } from './drivewords.ts'
import { PresentRow } from './PresentRow.tsx'
import { WayBeside } from './WayBeside.tsx'

export function SightStow({ station }: { station: StationRecord }) {
  const { stow } = station
  if (stow === undefined)
    return (
      <PlaceFrame
        present="sight"
        title={DRIVE.stowTitle}
        action={<Action onPress={() => go('sight', 'stow', 'edit')}>{DRIVE.stowSet}</Action>}
      >
        <Sentence>{DRIVE.stowNone}</Sentence>
        <Caution {...DRIVE_CAUTION.stow} />
        <UndoStrip of="sight" />
        <DemoMark station={station} />
      </PlaceFrame>
    )
  return <StowWay station={station} stow={stow} />
}

function StowWay({ station, stow }: { station: StationRecord; stow: StowRecord }) {
  const { mount } = station
  const ways = stowWays(station, stow)
  const wind = windWords(stow)
  const stopped = AXES.flatMap(axis => {
    const why = ways[axis]?.stopped
    return why ? [stoppedWords(mount, axis, why)] : []
  })
  return (
    <PlaceFrame
      present="sight"
      title={DRIVE.stowDrive}
      action={
        <Action
          onPress={() => {
            sayPresent(station, stow)
            go('sight')
          }}
        >
          {DRIVE.here}
        </Action>
      }
      side={
        <>
          <PresentRow station={station} />
          <ButtonRow>
            <SecondaryButton onPress={() => go('sight', 'stow', 'edit')}>{DRIVE.stowEdit}</SecondaryButton>
          </ButtonRow>
          <UndoStrip of="sight" />
          <DemoMark station={station} />
        </>
      }
    >
      <div class="sight-live sight-way">
        {AXES.map(axis => {
          const way = ways[axis]
          return (
            <BigNumber
              key={axis}
              axis={axis}
              size={1}
              label={readingLabel(mount, axis)}
              value={dialled(mount, axis, stow[axis]).value}
              {...(way && { beside: <WayBeside mount={mount} axis={axis} way={way} /> })}
            />
          )
        })}
      </div>
      {wind !== null && <Sentence strong>{wind}</Sentence>}
      {stopped.map(line => (
        <Text key={line}>{line}</Text>
      ))}
      {stow.note !== undefined && (
        <Text>
          <Name>{stow.note}</Name>
        </Text>
      )}
      <Caution {...DRIVE_CAUTION.stow} />
    </PlaceFrame>
  )
}

export function SightStowEdit({ station }: { station: StationRecord }) {
  const { mount, stow } = station
  const unit = lengthUnit()
  const name = `stow.${station.id}`
  const [form, setForm] = useKept<StowForm>(name, () => stowForm(mount, stow, unit))
  const set = (change: Partial<StowForm>) => setForm(before => ({ ...before, ...change }))
  const keeping = useKeep([name])
  const read = stowOf(form, mount, stow, unit)
  const back = () => go('sight', 'stow')
  const present = presentHere(station)
  return (
    <PlaceFrame
      present="sight"
      title={DRIVE.stowTitle}
      action={
        <KeepAction
          keeping={keeping}
          word={DRIVE.stowKeep}
          notNow={read === null ? DRIVE.notYet : null}
          onKeep={() => {
            if (read !== null) void keeping.keep(() => keepStow(station, read), back)
          }}
          otherwise={back}
        />
      }
    >
      {AXES.map(axis => (
        <NumberField
          key={axis}
          label={readingLabel(mount, axis)}
          kind={readingKind(mount, axis)}
          text={form[axis]}
          signButton={mount[axis].minReading < 0}
          onText={text => set({ [axis]: text })}
          hint={stopsWords(station, axis) ?? ' '}
        />
      ))}
      <NumberField
        label={DRIVE.wind}
        kind={windKind(unit)}
        text={form.wind}
        onText={wind => set({ wind })}
        hint={DRIVE.windHint}
      />
      <TextField label={DRIVE.note} text={form.note} onText={note => set({ note })} />
      <ButtonRow>
        {present !== null && (
          <SecondaryButton
            onPress={() =>
              set({
                lower: typedReading(mount, 'lower', present.lower),
                upper: typedReading(mount, 'upper', present.upper),
              })
            }
          >
            {DRIVE.stowPresent}
          </SecondaryButton>
        )}
        {stow !== undefined && (
          <SecondaryButton stop onPress={() => void keeping.keep(() => keepStow(station, null), back)}>
            {DRIVE.stowDelete}
          </SecondaryButton>
        )}
      </ButtonRow>
      <Refused why={keeping.refused} />
      <UnsavedNotice />
      <DemoMark station={station} />
    </PlaceFrame>
  )
}
