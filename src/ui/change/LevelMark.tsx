/** Read a mark: which axis, which mark, what it reads; compared at once with the earlier readings. */

import { compareMark, markNames } from '../../core/level/marks.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, ReferenceRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { mountEntry } from '../../state/mountrecords.ts'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { seenText } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KeepAction } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { KINDS } from '../kit/kinds.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { KeepingNotes, MountFrame, MountRecordGone, useKeepRecord, WhenAndNote } from '../kit/mount/parts.tsx'
import { CAUTIONS } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { axisName, capital, readingUnit } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import { emptyMark, formOfMark, type MarkForm, markFromForm } from './form.ts'
import { MARK, markVerdictWords, verdictShort } from './words.ts'

/** @param of  id of the reading whose run is to be closed */
export function NewMark({ station, visit, of }: { station: StationRecord; visit?: string; of?: string }) {
  const start = (station.references ?? []).find(r => r.id === of) ?? null
  return <MarkScreen station={station} old={null} visit={visit === 'end' ? 'end' : 'start'} start={start} />
}

export function EditMark({ station, id }: { station: StationRecord; id: string }) {
  const item = mountEntry(station, 'reference', id)
  if (item?.kind !== 'reference') return <MountRecordGone station={station} />
  return <MarkScreen station={station} old={item.record} visit="start" />
}

/** Where a person reads marks: the axis read last, else the one that counts. */
function usualAxis(station: StationRecord): Axis {
  const last = [...(station.references ?? [])].sort((a, b) => instantMs(b.utc) - instantMs(a.utc))[0]
  if (last) return last.axis
  return readingUnit(station.mount, 'lower') === 'counts' ? 'lower' : 'upper'
}

function MarkScreen(p: {
  station: StationRecord
  old: ReferenceRecord | null
  visit: 'start' | 'end'
  start?: ReferenceRecord | null
}) {
  const { station, old } = p
  const { mount } = station
  const name = old ? `edit.mark.${old.id}` : `mark.${station.id}.${p.visit}.${p.start?.id ?? ''}`
  const id = useRecordId(name, 'reference', station.id, old?.id ?? null)
  const [form, setForm] = useKept<MarkForm>(
    name,
    () => {
      if (old) return formOfMark(old)
      const axis = p.start?.axis ?? usualAxis(station)
      const fresh = emptyMark(axis, markNames(station, axis), p.visit, takeTrueMs())
      return p.start ? { ...fresh, picked: p.start.mark } : fresh
    },
    kept => kept,
    old && { kind: 'reference', station: station.id, id: old.id },
  )
  const { keep, keeping, refused } = useKeepRecord(station, name, id)
  const set = (change: Partial<MarkForm>) => setForm(before => ({ ...before, ...change }))
  const names = markNames(station, form.axis)
  const made = markFromForm(form, mount, old, id)
  const compared = made.kind === 'ready' ? compareMark(station, made.record) : null
  const verdict = made.kind === 'ready' && compared ? markVerdictWords(mount, made.record, compared) : null
  return (
    <MountFrame
      station={station}
      title={MARK.read}
      action={
        <>
          {/* Repeated next to the action: on a small phone the notice is off the screen. */}
          {made.kind === 'ready' && compared && (
            <p class="action-why">{capital(verdictShort(mount, made.record, compared))}.</p>
          )}
          <KeepAction
            keeping={keeping}
            otherwise={() => go('mount')}
            word={MARK.keepMark}
            notNow={made.kind === 'ready' ? null : NOT_YET[made.why]}
            onKeep={() => made.kind === 'ready' && void keep({ kind: 'reference', record: made.record })}
          />
        </>
      }
    >
      <Caution {...CAUTIONS.mark} />
      <Choice
        label={MARK.axis}
        value={form.axis}
        options={AXES.map(axis => ({ value: axis, word: capital(axisName(mount, axis)) }))}
        onPick={axis => set({ axis, picked: markNames(station, axis)[0] ?? '' })}
      />
      {names.length > 0 && (
        <Choice
          label={MARK.mark}
          value={form.picked}
          options={[
            ...names.map(name => ({ value: name, word: <bdi>{seenText(name)}</bdi> })),
            { value: '', word: MARK.other },
          ]}
          onPick={picked => set({ picked })}
        />
      )}
      {(names.length === 0 || form.picked === '') && (
        <TextField
          label={MARK.name}
          text={form.name}
          maxLength={500}
          hint={MARK.nameHint}
          onText={name => set({ name, picked: '' })}
        />
      )}
      <NumberField
        label={`${capital(axisName(mount, form.axis))} reads`}
        kind={readingKind(mount, form.axis)}
        text={form.reading}
        signButton
        onText={reading => set({ reading })}
      />
      {verdict && (
        <Notice state={verdict.differs ? 'look-out' : 'good'} live="status">
          {verdict.text}
        </Notice>
      )}
      <Choice
        label={MARK.visit}
        value={form.visit}
        options={[
          { value: 'start', word: MARK.visitStart },
          { value: 'between', word: MARK.visitBetween },
          { value: 'end', word: MARK.visitEnd },
        ]}
        onPick={visit => set({ visit })}
        hint={form.visit === 'start' ? MARK.closeRun : undefined}
      />
      <HelpLine word={MARK.finer}>
        <NumberField
          label={MARK.sigma}
          kind={KINDS.sigma}
          text={form.sigma}
          hint={MARK.sigmaHint}
          onText={sigma => set({ sigma })}
        />
      </HelpLine>
      <WhenAndNote utc={form.utc} onUtc={utc => set({ utc })} note={form.note} onNote={note => set({ note })} />
      <KeepingNotes refused={refused} form={name} />
    </MountFrame>
  )
}
