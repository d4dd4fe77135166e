/** A sighting being written, however it began: its fields, what is still missing, and the one action that keeps it. */
import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { newId } from '../../state/book.ts'
import { takeStamp } from '../../state/now.ts'
import { faultsOfSighting, keepSighting } from '../../state/sightings.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { useKeep } from '../kit/keep.tsx'
import type { Changes } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, hrefTo } from '../kit/navigation.ts'
import { isUnsaved, UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { methodsFor, readSightForm, type SightForm } from '../kit/sighting/form.ts'
import { useKeptForm } from '../kit/sighting/keptform.ts'
import { MethodCaution } from '../kit/sighting/MethodFields.tsx'
import { MoreFields } from '../kit/sighting/MoreFields.tsx'
import { ReadingWarning } from '../kit/sighting/ReadingField.tsx'
import { TargetFields, TimeField } from '../kit/sighting/TargetFields.tsx'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { typedUtc } from '../kit/utcfield.ts'
import { ReadingPad } from './ReadingPad.tsx'
import { PartRows, PartScreen, type SightPart } from './SightParts.tsx'

/** Nobody reads two axes in less time; common practice, no source. ms */
const LEAST_READ_MS = 1500

/** Goes on without a step back to what is done. */
export const instead = (...parts: string[]) => location.replace(hrefTo(...parts))

interface WritingProps {
  station: StationRecord
  title: string
  /** Under which the typed text is kept until it is done. */
  kept: string
  /** The form to begin with; a field that still equals it is untouched. */
  initial: SightForm
  base: Partial<SightingRecord> & { id: string }
  /** The form shows an old record: what is not touched stays. */
  isKept: boolean
  dialled?: HalfSighting['dialled']
  /** What stood in the readings before anything was typed. */
  filled?: { lower: string; upper: string }
  halfId?: string
  whole: boolean
  /** The sighting that is changed, where it is not a new one. */
  changes?: Changes
  word: string
  /** In place of the time: "8 s ago". */
  utc?: ComponentChildren
  /** One of its parts alone, on a screen of its own. */
  part?: SightPart | undefined
  /** Where the form is, for its parts: ['sight', 'half', 'ID']. */
  at: readonly string[]
  /** Above the readings, in few words. */
  lead?: ComponentChildren
  /** Below them: what else is known of it. */
  notes?: ComponentChildren
  foot?: ComponentChildren
}

/** The id of the record that a form makes: the same on all screens of the form, until it is kept. */
const ids = new Map<string, string>()
export function ownIdOf(form: string): string {
  const id = ids.get(form) ?? newId()
  ids.set(form, id)
  return id
}

export function SightWriting(p: WritingProps) {
  const { station, initial, base } = p
  const [form, change] = useKeptForm(p.kept, initial, p.changes ?? null, p.filled)
  const { keep, refused } = useKeep([p.kept], base.id)
  const set = (next: Partial<SightForm>) => {
    const clash = next.target !== undefined && form.method !== null && !methodsFor(next.target).includes(form.method)
    change({ ...next, ...(clash && { method: null }) })
  }
  const read = readSightForm(form, station, base, p.isKept ? initial : null)
  const text = read.kind === 'whole' ? JSON.stringify(read.record) : ''
  const faults = useMemo(() => (read.kind === 'whole' ? faultsOfSighting(station, read.record) : []), [text, station])
  const waits = isUnsaved(base.id)
  const [openedMs] = useState(() => performance.now())
  const press = () => {
    if (read.kind !== 'whole') return
    // Filled in and untouched, it is complete as it opens: a late tap meant for the last screen must not keep it.
    const isUntouched = p.filled !== undefined && JSON.stringify(form) === JSON.stringify(initial)
    if (isUntouched && performance.now() - openedMs < LEAST_READ_MS) return
    void keep(
      () => keepSighting(station, read.record, p.halfId),
      () => {
        ids.delete(p.kept)
        instead('sight', 'see', base.id)
      },
    )
  }
  const wrong = AXES.filter(axis => faults.some(f => f.path === axis || f.path.startsWith(`${axis}.`)))
  const notNow = waits
    ? SIGHTING.notYetKept
    : read.kind === 'not-yet'
      ? missingWords(station.mount, read.missing)
      : (faults[0]?.rule ?? null)
  const fields = { form, set, station }
  const guessed = !p.isKept || p.halfId !== undefined ? form.method === initial.method : false
  if (p.part) return <PartScreen {...fields} part={p.part} guessed={guessed} />
  const onNow = () => set({ utc: typedUtc(new Date(takeStamp().utcMs).toISOString()) })
  return (
    <Screen
      title={p.title}
      utc={p.utc ?? <UtcNow />}
      present="sight"
      onGo={id => go(id)}
      side={
        <>
          <PartRows form={form} station={station} onPart={part => go(...p.at, part)} />
          {AXES.map(axis => (
            <ReadingWarning key={axis} form={form} station={station} axis={axis} expected={p.dialled} />
          ))}
          {p.notes}
          <MethodCaution form={form} />
          <MoreFields {...fields} withTime={!p.whole} withHow={false} />
          {refused && (
            <Notice state="stop" word="Not possible">
              {refused}
            </Notice>
          )}
          <DemoMark station={station} />
          {p.foot}
        </>
      }
      action={
        <Action notNow={notNow} onPress={press}>
          {p.word}
        </Action>
      }
    >
      <UnsavedNotice />
      {p.lead}
      {p.whole && <TargetFields {...fields} />}
      {p.whole && <TimeField {...fields} onNow={onNow} />}
      <ReadingPad {...fields} expected={p.dialled} wrong={wrong} ready={!p.whole} />
    </Screen>
  )
}
