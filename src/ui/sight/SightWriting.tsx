/** A sighting being written, on whichever way: its fields, what is still missing, and the one action that keeps it. */
import type { ComponentChildren } from 'preact'
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { takeStamp } from '../../state/now.ts'
import { faultsOfSighting, keepSighting, type Sighting } from '../../state/sightings.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { useKeep } from '../kit/keep.tsx'
import type { Changes } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, hrefTo } from '../kit/navigation.ts'
import { isUnsaved, UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { methodsFor, readForm, type SightForm } from '../kit/sighting/form.ts'
import { useKeptForm } from '../kit/sighting/keptform.ts'
import { FeedField, MethodField, ShadowFields } from '../kit/sighting/MethodFields.tsx'
import { MoreFields } from '../kit/sighting/MoreFields.tsx'
import { ReadingField } from '../kit/sighting/ReadingField.tsx'
import { TargetFields, TimeField } from '../kit/sighting/TargetFields.tsx'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { typedUtc } from '../kit/utcfield.ts'

/** Goes on without a step back to what is done. */
export const instead = (...parts: string[]) => location.replace(hrefTo(...parts))

interface WritingProps {
  station: StationRecord
  title: string
  /** Under which the typed text is kept until it is done. */
  kept: string
  /** The form to begin with; also what an untouched field is told by. */
  initial: SightForm
  base: Partial<Sighting> & { id: string }
  /** The form shows an old record: what is not touched stays. */
  isKept: boolean
  dialled?: HalfSighting['dialled']
  halfId?: string
  whole: boolean
  /** The sighting that is changed, where it is not a new one. */
  changes?: Changes
  word: string
  lead?: ComponentChildren
  foot?: ComponentChildren
}

export function Writing(p: WritingProps) {
  const { station, initial, base } = p
  const [form, change] = useKeptForm(p.kept, initial, p.changes ?? null)
  const { keep, refused } = useKeep([p.kept], base.id)
  const set = (next: Partial<SightForm>) => {
    const clash = next.target !== undefined && form.method !== null && !methodsFor(next.target).includes(form.method)
    change({ ...next, ...(clash && { method: null }) })
  }
  const read = readForm(form, station, base, p.isKept ? initial : null)
  const text = read.kind === 'whole' ? JSON.stringify(read.record) : ''
  const faults = useMemo(() => (read.kind === 'whole' ? faultsOfSighting(station, read.record) : []), [text, station])
  const waits = isUnsaved(base.id)
  const press = () => {
    if (read.kind !== 'whole') return
    void keep(
      () => keepSighting(station, read.record, p.halfId),
      () => instead('sight', 'see', base.id),
    )
  }
  const faultOf = (field: string) => faults.find(f => f.path === field || f.path.startsWith(`${field}.`))?.rule
  const other = faults.find(f => !/^(lower|upper)$/.test(f.path))
  const notNow = waits
    ? SIGHTING.notYetKept
    : read.kind === 'not-yet'
      ? missingWords(station.mount, read.missing)
      : (faults[0]?.rule ?? null)
  const fields = { form, set, station }
  const onNow = () => set({ utc: typedUtc(new Date(takeStamp().utcMs).toISOString()) })
  return (
    <Screen
      title={p.title}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
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
      <ReadingField {...fields} axis="lower" dialled={p.dialled} fault={faultOf('lower')} />
      <ReadingField {...fields} axis="upper" dialled={p.dialled} fault={faultOf('upper')} />
      <MethodField {...fields} guessed={!p.isKept || p.halfId !== undefined ? form.method === initial.method : false} />
      <FeedField {...fields} />
      <ShadowFields {...fields} />
      <MoreFields {...fields} withTime={!p.whole} />
      {(other || refused) && (
        <Notice state="stop" word="Not possible">
          {other?.rule ?? refused}
        </Notice>
      )}
      <DemoMark station={station} />
      {p.foot}
    </Screen>
  )
}
