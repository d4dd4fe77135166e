/** A rough heading: magnetic, corrected for declination, and said to be rough. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { COMPASS_SIGMA_DEG, decimalYear, declinationAt, trueHeading } from '../../core/sky/magnetic.ts'
import { trueNow } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { compass, putHeading } from '../../state/compass.ts'
import { phoneLevel } from '../../state/level.ts'
import { isStep } from '../../state/steps.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees, fixed } from '../kit/format.ts'
import { backToStep } from '../kit/guided.ts'
import { Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { KINDS } from '../kit/kinds.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { numberOf } from '../kit/numberfield.ts'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { HEADING, magneticWords } from './words.ts'

interface HeadingForm {
  shown: string
  how: 'model' | 'typed'
  own: string
}

export function LevelHeading({ station }: { station: StationRecord }) {
  const [form, setForm] = useKept<HeadingForm>(`heading.${station.id}`, () => ({ shown: '', how: 'model', own: '' }))
  const { shown, how, own } = form
  const set = (change: Partial<HeadingForm>) => setForm(before => ({ ...before, ...change }))
  const { keep, refused } = useKeep([`heading.${station.id}`])
  const { mount, site } = station
  const hasHeading = mount.kind === 'az-over-el' || mount.kind === 'x-y'
  const model = declinationAt(site, decimalYear(trueNow.value))
  const modelSaid = magneticWords(model)
  const declination =
    how === 'typed' ? numberOf(own, KINDS.turn) : model.kind === 'declination' && modelSaid.ok ? model.deg : null
  const magnetic = numberOf(shown, KINDS.heading)
  const heading = magnetic === null || declination === null ? null : trueHeading(magnetic, declination)
  const why =
    magnetic === null
      ? HEADING.nothing
      : declination === null
        ? HEADING.noDeclination
        : hasHeading
          ? null
          : HEADING.notThis
  const put = () => {
    if (heading !== null)
      void keep(
        () => putHeading(station, heading),
        backToStep(() => {}),
      )
  }
  return (
    <MountFrame
      station={station}
      title={HEADING.title}
      action={
        <Action notNow={why} onPress={put}>
          {HEADING.put}
        </Action>
      }
    >
      <Sentence>{HEADING.lead(mount)}</Sentence>
      <Notice state="look-out">{HEADING.rough}</Notice>
      {isStep(fieldBook.undoable.value, 'rough-heading') && (
        <Notice state="good" word={MOUNT.applied} live="status">
          <UndoStrip of="mount" />
        </Notice>
      )}
      <Refused why={refused} />
      <ByPhone onTake={text => set({ shown: text })} />
      <NumberField
        label={HEADING.shows}
        kind={KINDS.heading}
        text={shown}
        hint={HEADING.showsHint}
        onText={text => set({ shown: text })}
      />
      <Choice
        label={HEADING.how}
        long
        value={how}
        options={[
          { value: 'model', word: HEADING.model },
          { value: 'typed', word: HEADING.typed },
        ]}
        onPick={picked => set({ how: picked })}
      />
      {how === 'model' ? (
        <Text>{modelSaid.text}</Text>
      ) : (
        <NumberField
          label={HEADING.declination}
          kind={KINDS.turn}
          text={own}
          hint={HEADING.declinationHint}
          onText={text => set({ own: text })}
        />
      )}
      {heading !== null && (
        <BigNumber
          label={HEADING.trueIs}
          value={fixed(heading, 0)}
          unit="°"
          sigma={String(COMPASS_SIGMA_DEG)}
          size={2}
        />
      )}
    </MountFrame>
  )
}

/** What this phone's own compass shows, where it has one. */
function ByPhone({ onTake }: { onTake: (text: string) => void }) {
  const seen = compass.value
  const [asked, setAsked] = useState(false)
  if (seen === null)
    return asked ? (
      <Text>{HEADING.noPhone}</Text>
    ) : (
      <SecondaryButton onPress={() => void phoneLevel.ask().then(() => setAsked(true))}>
        {HEADING.start}
      </SecondaryButton>
    )
  const accuracy = seen.accuracyDeg === null ? null : degrees(seen.accuracyDeg, 0)
  return (
    <>
      <Text>{HEADING.phone(degrees(seen.headingDeg, 0), accuracy)}</Text>
      <SecondaryButton onPress={() => onTake(String(Math.round(seen.headingDeg) % 360))}>
        {HEADING.take}
      </SecondaryButton>
    </>
  )
}
