/** What the screens of "Mount" share: their frame, the way a record is kept, small fields. */
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import type { Draft } from '../../../core/records/stored.ts'
import { takeTrueMs } from '../../../state/ask.ts'
import { keepMountRecord, type MountEntry } from '../../../state/mountrecords.ts'
import { Action, SecondaryButton } from '../buttons.tsx'
import { DemoMark } from '../DemoMark.tsx'
import { TextField, UtcField } from '../fields.tsx'
import { backToStep } from '../guided.ts'
import { Refused, useKeep } from '../keep.tsx'
import { forget, isTyped } from '../keptany.ts'
import { go } from '../navigation.ts'
import { Sentence } from '../numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../PlaceFrame.tsx'
import { UnsavedNotice } from '../SavedLine.tsx'
import { utcText } from '../utcfield.ts'
import { MOUNT } from './words.ts'

export function MountFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="mount" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function MountRecordGone({ station }: { station: StationRecord }) {
  return (
    <MountFrame station={station} title="Mount" action={<Action onPress={() => go('mount')}>{MOUNT.back}</Action>}>
      <Sentence>{MOUNT.gone}</Sentence>
    </MountFrame>
  )
}

/**
 * The way of a form's record into the book; on the medium, the record's own screen follows.
 *
 * @param form  the name that the form is kept under
 */
export function useKeepRecord(station: StationRecord, form: string, id: string) {
  const keeping = useKeep([form], id)
  const keep = (item: MountEntry, also: readonly Draft[] = []) =>
    keeping.keep(
      () => keepMountRecord(station, item, also),
      backToStep(() => go('mount', 'see', item.kind, item.record.id)),
    )
  return { ...keeping, keep, keeping }
}

/** Under a form: what the book refuses, what could not be written, and the way to an empty form. */
export function KeepingNotes({ refused, form = null }: { refused: string | null; form?: string | null }) {
  return (
    <>
      <Refused why={refused} />
      <UnsavedNotice />
      {form !== null && isTyped(form) && (
        <SecondaryButton
          stop
          onPress={() => {
            forget(form)
            go('mount')
          }}
        >
          {MOUNT.discard}
        </SecondaryButton>
      )}
    </>
  )
}

/** When and what else: the end of every form. */
export function WhenAndNote(p: {
  utc: string
  onUtc: (text: string) => void
  note: string
  onNote: (text: string) => void
}) {
  return (
    <>
      <UtcField label={MOUNT.when} text={p.utc} onText={p.onUtc} onNow={() => p.onUtc(utcText(takeTrueMs()))} />
      <TextField label={MOUNT.note} text={p.note} onText={p.onNote} hint={MOUNT.mayStayEmpty} />
    </>
  )
}
