/** What the screens of "Level" share: their frame, the way a record is kept, small fields. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import type { Draft } from '../../../core/records/revisions.ts'
import { fieldBook } from '../../../state/book.ts'
import { keepMountRecord, type MountEntry } from '../../../state/mountrecords.ts'
import { takeStamp } from '../../../state/now.ts'
import { Action, SecondaryButton } from '../buttons.tsx'
import { DemoMark } from '../DemoMark.tsx'
import { TextField, UtcField } from '../fields.tsx'
import { forget, isTyped } from '../keptany.ts'
import { Notice } from '../Notice.tsx'
import { go } from '../navigation.ts'
import { Sentence } from '../numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../PlaceFrame.tsx'
import { UnsavedNotice } from '../SavedLine.tsx'
import { utcText } from '../utcfield.ts'
import { MOUNT } from './words.ts'

export function MountFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="level" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function Gone({ station }: { station: StationRecord }) {
  return (
    <MountFrame station={station} title="Level" action={<Action onPress={() => go('level')}>{MOUNT.back}</Action>}>
      <Sentence>{MOUNT.gone}</Sentence>
    </MountFrame>
  )
}

/**
 * The way of a form's record into the book; on the medium, the record's own screen follows.
 *
 * @param form  the name that the form is kept under: let go then
 */
export function useKeeping(station: StationRecord, form: string | null = null) {
  const [refused, setRefused] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const keep = async (item: MountEntry, what: string, also: readonly Draft[] = []) => {
    if (busy) return
    setBusy(true)
    const kept = await keepMountRecord(station, item, what, also)
    setBusy(false)
    setRefused(kept.kind === 'refused' ? kept.faults.map(f => f.rule).join('. ') : null)
    if (kept.kind !== 'kept') return
    if (form !== null) forget(form)
    go('level', 'see', item.kind, item.record.id)
  }
  return { keep, refused }
}

/** Under a form: what the book refuses, what could not be written, and the way to an empty form. */
export function KeepingNotes({ refused, form = null }: { refused: string | null; form?: string | null }) {
  return (
    <>
      {refused !== null && (
        <Notice state="stop" live="alert">
          {refused}
        </Notice>
      )}
      <UnsavedNotice />
      {form !== null && isTyped(form) && (
        <SecondaryButton
          stop
          onPress={() => {
            forget(form)
            go('level')
          }}
        >
          {MOUNT.discard}
        </SecondaryButton>
      )}
    </>
  )
}

/** The action of a form; what waits to be written comes first, so that nothing is written twice. */
export function KeepAction({ word, notNow, onKeep }: { word: string; notNow: string | null; onKeep: () => void }) {
  const waiting = fieldBook.unsaved.value.length > 0
  return (
    <Action notNow={notNow} onPress={() => (waiting ? void fieldBook.retryUnsaved().then(done) : onKeep())}>
      {waiting ? 'Try again' : word}
    </Action>
  )
}
const done = (kept: { kind: string }) => {
  if (kept.kind === 'done') go('level')
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
      <UtcField label={MOUNT.when} text={p.utc} onText={p.onUtc} onNow={() => p.onUtc(utcText(takeStamp().utcMs))} />
      <TextField label={MOUNT.note} text={p.note} onText={p.onNote} hint={MOUNT.mayStayEmpty} />
    </>
  )
}
