/** Record a change: what moved and when; before it is kept, what carries over and what restarts. */

import { useEffect, useState } from 'preact/hooks'
import { carriedOverChange, judged, type Unknown } from '../../core/level/carryover.ts'
import { POSITIONED, positionNames, standsAt } from '../../core/level/positions.ts'
import type { ChangeRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { SolvedParameter } from '../../core/records/solution.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { expectedOfTurned, takeTurned } from '../../state/bolts.ts'
import { mountEntry, solvedBefore } from '../../state/mountrecords.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { NumberField } from '../kit/fields.tsx'
import { countOf } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KeepAction } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { KeepingNotes, MountFrame, MountRecordGone, useKeepRecord, WhenAndNote } from '../kit/mount/parts.tsx'
import { CAUTIONS } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, namesFromPart } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { Several } from '../kit/Several.tsx'
import { utcOf } from '../kit/utcfield.ts'
import {
  type ChangeForm,
  changeFromForm,
  emptyChange,
  expectedOf,
  formOfChange,
  isMoved,
  movedKinds,
  positionName,
  unknownKey,
  wholeForm,
} from './form.ts'
import { PositionFields } from './PositionFields.tsx'
import { CHANGE, carryWords, changeOptions, expectedValueWords, unknownLabel } from './words.ts'

/** @param what  one or several names of what moved, as `partFromNames` writes them */
export function NewChange({ station, what, utc }: { station: StationRecord; what?: string; utc?: string }) {
  const [expected] = useState(() => expectedOfTurned(station, what))
  const [start] = useState(() => {
    const named = namesFromPart(what)
    const known = changeOptions(station).flatMap(o => (named.includes(o.value) ? [o.value] : []))
    return { ...emptyChange(known, utc, takeTrueMs()), expect: expected }
  })
  useEffect(takeTurned, [])
  return (
    <ChangeScreen
      station={station}
      old={null}
      start={start}
      name={`change.${station.id}.${what ?? ''}.${utc ?? ''}${expected.length > 0 ? `.${JSON.stringify(expected)}` : ''}`}
    />
  )
}

export function EditChange({ station, id }: { station: StationRecord; id: string }) {
  const item = mountEntry(station, 'change', id)
  if (item?.kind !== 'change') return <MountRecordGone station={station} />
  return (
    <ChangeScreen
      station={station}
      old={item.record}
      start={formOfChange(item.record)}
      name={`edit.change.${item.record.id}`}
    />
  )
}

/** Whatever may fall when it is loosened. */
const LOOSE = ['lower-axis', 'lower-readout', 'upper-readout', 'dish', 'all']

type Before = { of: string; solved: readonly SolvedParameter[] | null } | null

/** Where the mount stood before the instant, computed once an amount is typed. */
function useBefore(station: StationRecord, utc: string | null, wanted: boolean, except?: string): Before {
  const [before, setBefore] = useState<Before>(null)
  useEffect(() => {
    if (!wanted || utc === null) return
    let dropped = false
    // Not at every key: the time is often being typed.
    const later = setTimeout(() => {
      void solvedBefore(station, utc, except).then(solved => {
        if (!dropped) setBefore({ of: utc, solved })
      })
    }, 300)
    return () => {
      dropped = true
      clearTimeout(later)
    }
  }, [station, utc, wanted, except])
  return before?.of === utc ? before : null
}

/** @param p.name  under which what is typed is kept */
function ChangeScreen(p: { station: StationRecord; old: ChangeRecord | null; start: ChangeForm; name: string }) {
  const { station, old, name } = p
  const id = useRecordId(name, 'change', station.id, old?.id ?? null)
  const [form, setForm] = useKept<ChangeForm>(
    name,
    () => p.start,
    wholeForm,
    old && { kind: 'change', station: station.id, id: old.id },
  )
  const { keep, keeping, refused } = useKeepRecord(station, name, id)
  const set = (change: Partial<ChangeForm>) => setForm(before => ({ ...before, ...change }))
  const utc = utcOf(form.utc, old)
  // For "all" nobody can say by how much.
  const can = form.what.includes('all') ? [] : judged(carriedOverChange(station, form.what).anew)
  const before = useBefore(
    station,
    utc,
    can.some(u => isMoved(form, u)),
    old?.id,
  )
  const made = changeFromForm(form, can, before?.solved ?? null, old, id)
  const expect = made.kind === 'ready' ? (made.record.expect ?? []) : form.expect
  const names = positionNames(station, form.what, old?.id)
  const stands = positionName(form)
  const returnsTo = stands !== null && names.includes(stands) ? stands : null
  const words =
    form.what.length > 0 ? carryWords(station, carriedOverChange(station, form.what, expect), returnsTo) : null
  const after = utc === null ? 0 : station.sightings.filter(s => instantMs(s.utc) >= instantMs(utc)).length
  return (
    <MountFrame
      station={station}
      title={CHANGE.noteChange}
      action={
        <KeepAction
          keeping={keeping}
          word={CHANGE.keepChange}
          notNow={made.kind === 'ready' ? null : NOT_YET[made.why]}
          onKeep={() => made.kind === 'ready' && void keep({ kind: 'change', record: made.record })}
          otherwise={() => go('mount')}
        />
      }
    >
      <Several
        label={CHANGE.moved}
        hint={CHANGE.movedHint}
        options={changeOptions(station)}
        picked={form.what}
        onPick={what => set({ what })}
      />
      {form.what.some(w => LOOSE.includes(w)) && <Caution {...CAUTIONS.unpinned} />}
      {words && (
        <Notice state="next" word={CHANGE.carries} live="status">
          <p>{words.stays}</p>
          <p>{words.anew}</p>
          {words.needed && <p>{words.needed}</p>}
          <p>{CHANGE.changeHow}</p>
        </Notice>
      )}
      <WhenAndNote utc={form.utc} onUtc={text => set({ utc: text })} note={form.note} onNote={note => set({ note })} />
      {form.what.some(w => POSITIONED.includes(w)) && (
        <PositionFields
          names={names}
          was={utc === null ? null : standsAt(station, form.what, instantMs(utc), old?.id)}
          form={form.position}
          set={change => set({ position: { ...form.position, ...change } })}
        />
      )}
      {after > 0 && words && <Text>{CHANGE.later(countOf(after, 'sighting'))}</Text>}
      <Expected station={station} form={form} set={set} />
      {can.length > 0 && (
        <HelpLine word={CHANGE.byHowMuch}>
          {can.map(u => (
            <Amount key={unknownKey(u)} station={station} unknown={u} form={form} set={set} before={before} />
          ))}
        </HelpLine>
      )}
      <KeepingNotes refused={refused} form={name} />
    </MountFrame>
  )
}

interface ChangeFieldsProps {
  station: StationRecord
  form: ChangeForm
  set: (change: Partial<ChangeForm>) => void
}

/** What the record being edited expects already. */
function Expected({ station, form, set }: ChangeFieldsProps) {
  if (form.expect.length === 0) return null
  return (
    <>
      {form.expect.map(e => (
        <Text key={`${e.id} ${e.feed ?? ''}`}>
          {CHANGE.expected}: {unknownLabel(station, e.id)} {expectedValueWords(e)}
        </Text>
      ))}
      <SecondaryButton onPress={() => set({ expect: [] })}>{CHANGE.dropExpected}</SecondaryButton>
    </>
  )
}

/** By how much one thing moved, and where that leaves it. */
function Amount({ station, unknown, form, set, before }: ChangeFieldsProps & { unknown: Unknown; before: Before }) {
  const key = unknownKey(unknown)
  const amount = form.moved[key] ?? { by: '', sigma: '' }
  const put = (change: Partial<typeof amount>) => set({ moved: { ...form.moved, [key]: { ...amount, ...change } } })
  const kinds = movedKinds(unknown)
  const expected = expectedOf(form, unknown, before?.solved ?? null)
  const stood = before?.solved?.find(s => s.id === unknown.id && (s.feed ?? null) === unknown.feed)
  return (
    <div class="level-amount">
      <h3>{unknownLabel(station, unknown.id)}</h3>
      <NumberField label={CHANGE.by} kind={kinds.by} text={amount.by} onText={by => put({ by })} />
      <NumberField label={CHANGE.give} kind={kinds.sigma} text={amount.sigma} onText={sigma => put({ sigma })} />
      {isMoved(form, unknown) && (
        <Text>
          {before === null && CHANGE.computingBefore}
          {before !== null && stood === undefined && CHANGE.noBefore}
          {stood && CHANGE.before(expectedValueWords(stood))} {expected && CHANGE.after(expectedValueWords(expected))}
        </Text>
      )}
    </div>
  )
}
