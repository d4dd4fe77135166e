/** Measure a level: which one, then its form; by one reading, by a reversal, or round the mast. */

import { useEffect, useState } from 'preact/hooks'
import type { LevelRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { type LevelWhat, levelKinds } from '../../core/records/levelkinds.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { newId } from '../../state/book.ts'
import { instrumentsAt } from '../../state/instruments.ts'
import { mountEntry } from '../../state/mountrecords.ts'
import { Caution } from '../kit/Caution.tsx'
import { NumberField } from '../kit/fields.tsx'
import { KeepAction } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { KeepingNotes, MountFrame, MountRecordGone, useKeepRecord, WhenAndNote } from '../kit/mount/parts.tsx'
import { CAUTIONS, levelName } from '../kit/mount/words.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import { emptyMeasure, type MeasureForm } from './form.ts'
import { takeHanded } from './handed.ts'
import { AroundMast, MastMatters } from './LevelAround.tsx'
import { LevelByPhone } from './LevelByPhone.tsx'
import { HowItSits, OneReading, type Slot, TwoReadings, WayOfMeasuring } from './LevelFields.tsx'
import { LevelInstrument } from './LevelInstrument.tsx'
import { besides, clampingOf, ownOf } from './own.ts'
import { formOfLevel, levelFromForm } from './record.ts'
import { solutionUse } from './says.ts'
import { LEVEL, levelHow, levelWhy } from './words.ts'

export function LevelKinds({ station }: { station: StationRecord }) {
  const { mount } = station
  return (
    <MountFrame station={station} title={LEVEL.measure}>
      <Sentence strong>{LEVEL.which}</Sentence>
      <div class="level-list">
        {levelKinds(mount.kind).map(what => (
          <RowButton
            key={what}
            label={
              <>
                {levelName(mount, what)}
                <small>{levelWhy(mount, what)}</small>
              </>
            }
            onPress={() => go('mount', 'measure', what)}
          />
        ))}
      </div>
    </MountFrame>
  )
}

export function NewLevel({ station, what }: { station: StationRecord; what: string }) {
  const known = levelKinds(station.mount.kind).find(k => k === what)
  return known ? <LevelScreen station={station} what={known} old={null} /> : <LevelKinds station={station} />
}

export function EditLevel({ station, id }: { station: StationRecord; id: string }) {
  const item = mountEntry(station, 'level', id)
  if (item?.kind !== 'level') return <MountRecordGone station={station} />
  return <LevelScreen station={station} what={item.record.what} old={item.record} />
}

const CAUTION: Readonly<Record<LevelWhat, (typeof CAUTIONS)[keyof typeof CAUTIONS]>> = {
  'lower-axis-elevation': CAUTIONS.axis,
  'upper-axis-elevation': CAUTIONS.axis,
  'mast-lean': CAUTIONS.mast,
  'dish-elevation': CAUTIONS.dish,
}

/** The level whose clamping came before this one: itself when edited, else the last that had one. */
const lastClamped = (station: StationRecord, old: LevelRecord | null): LevelRecord | null =>
  old?.clamping !== undefined
    ? old
    : ((station.levels ?? [])
        .filter(l => l.clamping !== undefined)
        .sort((a, b) => instantMs(b.utc) - instantMs(a.utc))[0] ?? null)

function LevelScreen({ station, what, old }: { station: StationRecord; what: LevelWhat; old: LevelRecord | null }) {
  const { mount } = station
  const name = old ? `edit.level.${old.id}` : `level.${station.id}.${what}`
  const recordOwn = useRecordId(name, 'level', station.id, old?.id ?? null)
  const [handed] = useState(() => (old ? {} : takeHanded(what)))
  const [form, setForm] = useKept<MeasureForm>(
    name,
    () => {
      if (old)
        return formOfLevel(
          old,
          instrumentsAt(station).map(i => i.id),
        )
      return { ...emptyMeasure(takeTrueMs()), ...(what === 'mast-lean' && { end: 'back' }), ...handed }
    },
    kept => ({ ...kept, ...handed }),
    old && { kind: 'level', station: station.id, id: old.id },
  )
  const [ids] = useState(() => ({ record: recordOwn, clamping: newId(), instrument: newId() }))
  const [slot, setSlot] = useState<Slot | null>(null)
  const [back, setBack] = useState(0)
  // Back from the phone: scroll to the result, since the form may be long.
  useEffect(() => {
    if (back > 0) document.querySelector('.level-result')?.scrollIntoView({ block: 'center' })
  }, [back])
  const { keep, keeping, refused } = useKeepRecord(station, name, recordOwn)
  const set = (change: Partial<MeasureForm>) => setForm(before => ({ ...before, ...change }))
  // What was handed over was measured, not typed: it is kept like typed text.
  useEffect(() => {
    if (Object.keys(handed).length > 0) set({})
  }, [])
  const last = lastClamped(station, old)
  const clamping = clampingOf(form, what, ids, last?.clamping ?? null)
  const own = ownOf(station, what, form, old, ids, clamping)
  const how = levelHow(mount, what)
  if (slot !== null)
    return (
      <LevelByPhone
        station={station}
        what={what}
        form={form}
        set={set}
        clamping={clamping}
        slot={slot}
        onDone={() => {
          setSlot(null)
          setBack(n => n + 1)
        }}
        onSlot={setSlot}
      />
    )
  const made = levelFromForm(
    form,
    what,
    mount,
    old,
    ids.record,
    { fresh: ids.clamping, last: last?.clamping ?? null },
    own,
  )
  // This phone does not lie on a dish that does not exist.
  const fields = { mount, what, form, set, own, ...(station.rehearsal !== true && { onPhone: setSlot }) }
  const keepIt = () => {
    if (made.kind !== 'ready') return
    void keep({ kind: 'level', record: made.record }, besides(station, what, form, own, made.record.utc, clamping))
  }
  return (
    <MountFrame
      station={station}
      title={levelName(mount, what)}
      action={
        <KeepAction
          keeping={keeping}
          word={LEVEL.keepLevel}
          notNow={made.kind === 'ready' ? null : NOT_YET[made.why]}
          onKeep={keepIt}
          otherwise={() => go('mount')}
        />
      }
    >
      <Caution {...CAUTION[what]} />
      <Text>{how.lay}</Text>
      {what === 'mast-lean' && <MastMatters station={station} />}
      {(what === 'upper-axis-elevation' || what === 'dish-elevation') && (
        <NumberField
          label={`${capital(axisName(mount, 'lower'))} stands at`}
          kind={readingKind(mount, 'lower')}
          text={form.lower}
          signButton
          onText={lower => set({ lower })}
        />
      )}
      {what === 'dish-elevation' && (
        <NumberField
          label={`${capital(axisName(mount, 'upper'))} stands at`}
          kind={readingKind(mount, 'upper')}
          text={form.upper}
          signButton
          onText={upper => set({ upper })}
        />
      )}
      {what === 'mast-lean' ? (
        <AroundMast {...fields} plus={how.plus} />
      ) : (
        <>
          <WayOfMeasuring {...fields} />
          {form.how === 'one' ? (
            <OneReading {...fields} plus={how.plus} />
          ) : (
            <TwoReadings {...fields} plus={how.plus} />
          )}
          <HowItSits {...fields} last={last} />
        </>
      )}
      <LevelInstrument {...fields} station={station} />
      <WhenAndNote utc={form.utc} onUtc={utc => set({ utc })} note={form.note} onNote={note => set({ note })} />
      {made.kind === 'ready' && solutionUse(station, made.record).map(words => <Text key={words}>{words}</Text>)}
      <KeepingNotes refused={refused} form={name} />
    </MountFrame>
  )
}
