/** A sighting being written: a half completed, one typed in whole, one edited, or readings alone from a second person. */
import type { ComponentChildren } from 'preact'
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { takeStamp } from '../../state/now.ts'
import {
  dropHalves,
  faultsOfSighting,
  halvesHere,
  isUnderway,
  keepHalf,
  keepSighting,
  type Sighting,
} from '../../state/sightings.ts'
import { clockOfHalf } from '../clockform.ts'
import { lengthUnit, utcAndLocal } from '../format.ts'
import { go, hrefTo } from '../navigation.ts'
import { parseNumber } from '../numberfield.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { DemoMark } from '../parts/DemoMark.tsx'
import { Notice } from '../parts/Notice.tsx'
import { RowButton, Sentence, Text } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import {
  emptyForm,
  formOfHalf,
  formOfSighting,
  methodsFor,
  readForm,
  readingKind,
  type SightForm,
  typedUtc,
} from '../sightform.ts'
import { missingWords, SIGHT, WHAT, whenWords } from '../words/sight.ts'
import { forgetForm, useKeptForm } from './keptform.ts'
import { UndoLine, UnsavedNotice } from './SavedLine.tsx'
import {
  FeedField,
  MethodField,
  MoreFields,
  ReadingField,
  ShadowFields,
  TargetFields,
  TimeField,
} from './SightFields.tsx'
import { JoinOffers } from './SightJoin.tsx'

/** Goes on without a step back to what is done. */
const instead = (...parts: string[]) => location.replace(hrefTo(...parts))
const isUnsaved = (id: string): boolean =>
  fieldBook.unsaved.value.some(u => u.drafts.some(d => (d.body as { id?: unknown } | null)?.id === id))

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
  word: string
  what: (record: Sighting) => string
  lead?: ComponentChildren
  foot?: ComponentChildren
}

function Writing(p: WritingProps) {
  const { station, initial, base } = p
  const [form, change] = useKeptForm(p.kept, initial)
  const [pressed, setPressed] = useState(false)
  const set = (next: Partial<SightForm>) => {
    const clash = next.target !== undefined && form.method !== null && !methodsFor(next.target).includes(form.method)
    change({ ...next, ...(clash && { method: null }) })
  }
  const read = readForm(form, station, base, p.isKept ? initial : null)
  const text = read.kind === 'whole' ? JSON.stringify(read.record) : ''
  const faults = useMemo(() => (read.kind === 'whole' ? faultsOfSighting(station, read.record) : []), [text, station])
  const done = () => {
    forgetForm(p.kept)
    instead('sight', 'see', base.id)
  }
  const waits = isUnsaved(base.id)
  const saving = fieldBook.saving.value.kind
  useEffect(() => {
    if (!pressed || waits) return
    if (saving === 'saved') done()
    else if (saving === 'idle') setPressed(false) // let go
  })
  const press = async () => {
    if (read.kind !== 'whole') return
    const answer = await keepSighting(station, read.record, p.what(read.record), p.halfId)
    if (answer.kind === 'done') done()
    else setPressed(true)
  }
  const faultOf = (field: string) => faults.find(f => f.path === field || f.path.startsWith(`${field}.`))?.rule
  const other = faults.find(f => !/^(lower|upper)$/.test(f.path))
  const notNow = waits
    ? SIGHT.notYetKept
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
        <Action notNow={notNow} onPress={() => void press()}>
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
      {other && (
        <Notice state="stop" word="Not possible">
          {other.rule}
        </Notice>
      )}
      <DemoMark station={station} />
      {p.foot}
    </Screen>
  )
}

/** A half: stamped, to be completed with what the dish showed. Joined with its readings it is another form. */
export function HalfPlace({ station, id }: { station: StationRecord; id: string }) {
  const half = halvesHere(station).find(h => h.id === id)
  const [known, setKnown] = useState(half)
  // Gone when it is completed: the form that did it stays until it has left.
  if (half && half.lower !== known?.lower) setKnown(half)
  return <HalfForm key={String(known?.lower)} station={station} id={id} />
}

function HalfForm({ station, id }: { station: StationRecord; id: string }) {
  const waiting = halvesHere(station).find(h => h.id === id)
  const [first] = useState(waiting)
  const [ownId] = useState(newId)
  const initial = useMemo(
    () => ({
      ...formOfHalf(first ?? { id, utc: '', time: 'about' }, lengthUnit(), station.mount),
      ...(first && clockOfHalf(station, first)),
    }),
    [first, id],
  )
  const made = station.sightings.find(s => (s as Sighting).halfId === id)
  // Completed just now by this very form, which is about to leave for the sighting; or being written once more.
  const isMoving = made?.id === ownId || /^(saving|unsaved)$/.test(fieldBook.saving.value.kind)
  const half = waiting ?? (isMoving ? first : undefined)
  if (!half || !first) {
    return (
      <Screen title="Sight" utc={<UtcNow />} present="sight" onGo={to => go(to)}>
        <UnsavedNotice />
        <Sentence>{SIGHT.gone}</Sentence>
        {made && <RowButton label={SIGHT.seeMade} onPress={() => go('sight', 'see', made.id)} />}
        <UndoLine />
        <RowButton label={SIGHT.backToDial} onPress={() => go('sight')} />
      </Screen>
    )
  }
  const utcMs = Date.parse(half.utc)
  const { target: of, lower, upper, arrivedFrom, method } = first
  const stamp = {
    ...(first.monotonicMs !== undefined && { monotonicMs: first.monotonicMs }),
    ...(first.clockStepS !== undefined && { clockStepS: first.clockStepS }),
  }
  const throwAway = () => {
    forgetForm(`half.${id}`)
    void dropHalves(station, [id], WHAT.drop(utcMs)).then(() => instead('sight', 'waiting'))
  }
  return (
    <Writing
      station={station}
      title={of ? SIGHT.completeTitle(of) : SIGHT.complete}
      kept={`half.${id}`}
      initial={initial}
      base={{
        id: ownId,
        utc: first.utc,
        halfId: id,
        ...(first.time === 'stamped' && { stamp }),
        ...(of && { target: of }),
        ...(lower !== undefined && { lower }),
        ...(upper !== undefined && { upper }),
        ...(arrivedFrom && { arrivedFrom }),
        ...(method && { method }),
      }}
      isKept
      dialled={half.dialled}
      halfId={id}
      whole={of === undefined}
      word={SIGHT.keep}
      what={WHAT.keep}
      lead={
        <>
          <div role="status">
            <Sentence strong>
              {half.time === 'stamped' ? SIGHT.stampedAt(whenWords(utcMs)) : SIGHT.notedAt(whenWords(utcMs))}
            </Sentence>
            <Text quiet>{isUnderway(id) ? SIGHT.keeping : isUnsaved(id) ? SIGHT.notYetKept : SIGHT.stampKept}</Text>
          </div>
          {half.clockStepS !== undefined && <Notice state="look-out">{SIGHT.clockStep(half.clockStepS)}</Notice>}
          {half.time === 'about' && <Notice state="look-out">{SIGHT.aboutTime}</Notice>}
          <JoinOffers station={station} of={id} />
        </>
      }
      foot={
        <Seconds>
          <UndoLine onUndone={() => instead('sight')} />
          <Second stop onPress={throwAway}>
            {SIGHT.throwAway}
          </Second>
        </Seconds>
      }
    />
  )
}

/** A sighting typed in whole, afterwards. */
export function NewSighting({ station }: { station: StationRecord }) {
  const [id] = useState(newId)
  const initial = useMemo(() => emptyForm(lengthUnit()), [])
  return (
    <Writing
      station={station}
      title={SIGHT.newTitle}
      kept={`new.${station.id}`}
      initial={initial}
      base={{ id }}
      isKept={false}
      whole
      word={SIGHT.keep}
      what={WHAT.keep}
    />
  )
}

/** An old one, changed: a new revision; the old one stays in the history. */
export function EditSighting({ station, id }: { station: StationRecord; id: string }) {
  const record = station.sightings.find(s => s.id === id)
  const [first] = useState(record)
  const initial = useMemo(() => (first ? formOfSighting(first, lengthUnit(), station.mount) : emptyForm('mm')), [first])
  if (!record || !first) return <Gone />
  return (
    <Writing
      station={station}
      title={SIGHT.editTitle}
      kept={`edit.${id}`}
      initial={initial}
      base={first}
      isKept
      whole
      word={SIGHT.keepChanges}
      what={WHAT.edit}
      foot={
        <Second
          onPress={() => {
            forgetForm(`edit.${id}`)
            instead('sight', 'see', id)
          }}
        >
          {SIGHT.leaveAsIs}
        </Second>
      }
    />
  )
}

export function Gone() {
  return (
    <Screen title="Sight" utc={<UtcNow />} present="sight" onGo={to => go(to)}>
      <UnsavedNotice />
      <Sentence>{SIGHT.goneSighting}</Sentence>
      <UndoLine />
      <RowButton label={SIGHT.all} onPress={() => go('sight', 'list')} />
    </Screen>
  )
}

/** What the dish showed at somebody's call: a half that waits for its stamp, on this phone or on another. */
export function ReadingsOnly({ station }: { station: StationRecord }) {
  const { mount } = station
  const [half, setHalf] = useState<HalfSighting | null>(null)
  const [form, setForm] = useState(() => emptyForm(lengthUnit()))
  const set = (next: Partial<SightForm>) => setForm({ ...form, ...next })
  const lower = parseNumber(form.lower, readingKind(mount, 'lower'))
  const upper = parseNumber(form.upper, readingKind(mount, 'upper'))
  const take = () => {
    const { utcMs, monotonicMs } = takeStamp()
    const utc = new Date(utcMs).toISOString()
    setHalf({ id: newId(), utc, time: 'about', monotonicMs: Math.round(monotonicMs) })
  }
  const missing = [
    ...(lower.kind === 'value' ? [] : (['lower'] as const)),
    ...(upper.kind === 'value' ? [] : (['upper'] as const)),
  ]
  const keep = async () => {
    if (half === null || lower.kind !== 'value' || upper.kind !== 'value') return
    const whole: HalfSighting = {
      ...half,
      ...((form.target === 'moon' || form.target === 'sun') && { target: { type: form.target } }),
      lower: lower.value,
      upper: upper.value,
    }
    await keepHalf(station, whole, WHAT.readings(Date.parse(half.utc)))
    instead('sight', 'waiting')
  }
  return (
    <Screen
      title={SIGHT.readingsTitle}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      action={
        half === null ? (
          <Action key="take" onPress={take}>
            {SIGHT.called}
          </Action>
        ) : (
          <Action
            key="keep"
            notNow={missing.length > 0 ? missingWords(mount, missing) : null}
            onPress={() => void keep()}
          >
            {SIGHT.keepReadings}
          </Action>
        )
      }
    >
      {half === null ? (
        <Sentence>{SIGHT.readingsWhy}</Sentence>
      ) : (
        <>
          <div role="status">
            <Sentence strong>{SIGHT.calledAt(utcAndLocal(Date.parse(half.utc), 'second'))}</Sentence>
          </div>
          <ReadingField form={form} set={set} station={station} axis="lower" dialled={undefined} />
          <ReadingField form={form} set={set} station={station} axis="upper" dialled={undefined} />
          <Choice
            label={SIGHT.lookAtIfKnown}
            value={form.target}
            options={[
              { value: 'moon', word: SIGHT.moon },
              { value: 'sun', word: SIGHT.sun },
            ]}
            onPick={value => set({ target: value })}
          />
        </>
      )}
    </Screen>
  )
}
