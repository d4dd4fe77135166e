/** What the screens of "Level" share: their frame, the way a record is kept, small fields. */
import { useId, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Draft } from '../../core/records/revisions.ts'
import { fieldBook } from '../../state/book.ts'
import { type GravityEntry, keepGravity } from '../../state/gravity.ts'
import { takeStamp } from '../../state/now.ts'
import { Action, Second } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { TextField, UtcField } from '../kit/fields.tsx'
import { forget, isTyped } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { notUndone } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { utcText } from './form.ts'
import { isLevelStep, LEVEL } from './words.ts'

export function LevelFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="level" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function Gone({ station }: { station: StationRecord }) {
  return (
    <LevelFrame station={station} title="Level" action={<Action onPress={() => go('level')}>{LEVEL.back}</Action>}>
      <Sentence>{LEVEL.gone}</Sentence>
    </LevelFrame>
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
  const keep = async (item: GravityEntry, what: string, also: readonly Draft[] = []) => {
    if (busy) return
    setBusy(true)
    const kept = await keepGravity(station, item, what, also)
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
        <Second
          stop
          onPress={() => {
            forget(form)
            go('level')
          }}
        >
          {LEVEL.discard}
        </Second>
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

/** The undo button, for as long as the last step was one of this place. */
export function LevelUndo({ onUndone }: { onUndone?: () => void }) {
  const [not, setNot] = useState<string | null>(null)
  const last = fieldBook.undoable.value
  const undo = async () => {
    const undone = await fieldBook.undo()
    setNot(notUndone(undone, LEVEL.overtaken))
    if (undone.kind === 'done') onUndone?.()
  }
  return (
    <>
      {not !== null && (
        <Notice state="look-out" live="status">
          {not}
        </Notice>
      )}
      {last !== null && isLevelStep(last) && <Second onPress={() => void undo()}>{LEVEL.undo(last)}</Second>}
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
      <UtcField label={LEVEL.when} text={p.utc} onText={p.onUtc} onNow={() => p.onUtc(utcText(takeStamp().utcMs))} />
      <TextField label={LEVEL.note} text={p.note} onText={p.onNote} hint={LEVEL.mayStayEmpty} />
    </>
  )
}

/** Several of a few words: plates like those of `Choice`, each on or off. */
export function Several(p: {
  label: string
  hint?: string
  options: readonly { value: string; word: string }[]
  picked: readonly string[]
  onPick: (picked: string[]) => void
}) {
  const name = useId()
  const toggled = (value: string) =>
    p.picked.includes(value) ? p.picked.filter(v => v !== value) : [...p.picked, value]
  return (
    <fieldset class="field">
      <legend>{p.label}</legend>
      <div class="choice-list choice-long">
        {p.options.map(option => (
          <label class="choice-one" key={option.value}>
            <input
              type="checkbox"
              name={name}
              checked={p.picked.includes(option.value)}
              onChange={() => p.onPick(toggled(option.value))}
            />
            <span>{option.word}</span>
          </label>
        ))}
      </div>
      {p.hint && <p class="field-hint">{p.hint}</p>}
    </fieldset>
  )
}
