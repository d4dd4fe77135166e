/** Check the clock: big UTC seconds, taps on the pips of a time signal, and what the check counts for. */
import { useRef } from 'preact/hooks'
import { skyTurn } from '../../core/clock/cost.ts'
import { type ClockCheckRecord, clockChecksOf, sightingsBackward } from '../../core/records/clockchecks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { degFromRad } from '../../core/units.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { countBackward, dropCheck, keepCheck } from '../../state/clock.ts'
import { beamwidthDeg } from '../../state/losses.ts'
import { now, takeStamp } from '../../state/now.ts'
import { isStep } from '../../state/steps.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { countOf, utcTime } from '../kit/format.ts'
import { backToStep } from '../kit/guided.ts'
import { Refused, useKeep } from '../kit/keep.tsx'
import { forget, useKept } from '../kit/keptany.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { Notice } from '../kit/Notice.tsx'
import { BigNumber, Text } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { CLOCK_KINDS, type ClockForm, checkFromForm, EMPTY_CLOCK, tapsOf } from './form.ts'
import { CLOCK, lastWords, minuteCostWords, tapWords } from './words.ts'

export function LevelClock({ station }: { station: StationRecord }) {
  const name = `clock.${station.id}`
  const [form, setForm] = useKept<ClockForm>(name, () => EMPTY_CLOCK)
  const { keep: keepIt, refused } = useKeep()
  const down = useRef<number | null>(null)
  const set = (change: Partial<ClockForm>) => setForm(before => ({ ...before, ...change }))
  const check = checkFromForm(form, 'new', now.value)
  const keep = () => {
    const made = checkFromForm(form, newId(), takeStamp().utcMs)
    if (made === null) return
    void keepIt(
      async () => {
        const kept = await keepCheck(station, made)
        if (kept.kind === 'refused' || kept.kind === 'overtaken') return kept
        // Kept, or waiting among the unsaved: the form is done.
        setForm({ ...EMPTY_CLOCK, how: form.how, pips: form.pips })
        forget(name)
        return kept
      },
      backToStep(() => {}),
    )
  }
  // A tap counts when the finger comes down; a key has only its press.
  const tap = () => {
    const at = down.current ?? takeStamp().utcMs
    down.current = null
    setForm(before => ({ ...before, tapsMs: [...before.tapsMs, at] }))
  }
  return (
    <MountFrame
      station={station}
      title={CLOCK.title}
      action={
        form.how === 'taps' ? (
          <Action
            onDown={() => {
              down.current = takeStamp().utcMs
            }}
            onPress={tap}
          >
            {CLOCK.tap}
          </Action>
        ) : (
          <Action notNow={check ? null : CLOCK.missing} onPress={keep}>
            {CLOCK.keep}
          </Action>
        )
      }
    >
      <div class="clock-now">
        <BigNumber value={utcTime(now.value)} size={1} label={CLOCK.here} />
      </div>
      <UnsavedNotice />
      <LastCheck station={station} />
      <Choice
        label={CLOCK.how}
        value={form.how}
        options={[
          { value: 'taps', word: CLOCK.byTaps },
          { value: 'typed', word: CLOCK.byTyping },
        ]}
        onPick={how => set({ how })}
      />
      {form.how === 'taps' ? (
        <Taps form={form} set={set} canKeep={check !== null} keep={keep} />
      ) : (
        <>
          <NumberField
            label={CLOCK.typed}
            kind={CLOCK_KINDS.offset}
            text={form.offset}
            hint={CLOCK.typedHint}
            onText={offset => set({ offset })}
          />
          <NumberField
            label={CLOCK.sigma}
            kind={CLOCK_KINDS.sigma}
            text={form.sigma}
            hint={CLOCK.sigmaHint}
            onText={sigma => set({ sigma })}
          />
        </>
      )}
      <Refused why={refused} />
      <Text>{minuteCostWords(degFromRad(skyTurn(60)), beamwidthDeg(station, feedHere(station)))}</Text>
      <Text quiet>{CLOCK.late}</Text>
    </MountFrame>
  )
}

interface TapsProps {
  form: ClockForm
  set: (change: Partial<ClockForm>) => void
  canKeep: boolean
  keep: () => void
}

function Taps({ form, set, canKeep, keep }: TapsProps) {
  const said = tapWords(tapsOf(form), form.whole.trim() === '' ? form.pips : null)
  return (
    <>
      {form.tapsMs.length === 0 && <Text>{CLOCK.lead}</Text>}
      <Notice state={said.good ? 'good' : 'next'} word={`${CLOCK.taps}: ${form.tapsMs.length}`} live="status">
        {said.text.map(words => (
          <p key={words}>{words}</p>
        ))}
      </Notice>
      {form.tapsMs.length > 0 && (
        <ButtonRow>
          {canKeep && <SecondaryButton onPress={keep}>{CLOCK.keep}</SecondaryButton>}
          <SecondaryButton onPress={() => set({ tapsMs: [] })}>{CLOCK.again}</SecondaryButton>
        </ButtonRow>
      )}
      <Choice
        label={CLOCK.pips}
        value={form.pips}
        options={[
          { value: 'second', word: CLOCK.seconds },
          { value: 'minute', word: CLOCK.minutes },
        ]}
        onPick={pips => set({ pips, whole: '', tapsMs: [] })}
      />
      <NumberField
        label={CLOCK.whole[form.pips]}
        kind={CLOCK_KINDS.whole}
        text={form.whole}
        hint={CLOCK.wholeHint[form.pips]}
        onText={whole => set({ whole })}
      />
    </>
  )
}

/** The last check, its age, what it may still be counted for, and its undo. */
function LastCheck({ station }: { station: StationRecord }) {
  const [last] = clockChecksOf(station)
  if (!last) return <Text>{CLOCK.never}</Text>
  const said = lastWords(last, now.value)
  const own = isStep(fieldBook.undoable.value, 'check-clock', 'count-backward', 'remove-clock-check')
  return (
    <Notice state={said.fresh ? 'good' : 'look-out'} word={CLOCK.last} live="status">
      <p>{said.text}</p>
      <Backward station={station} check={last} />
      <ButtonRow>
        <SecondaryButton onPress={() => void dropCheck(station, last.id)}>{CLOCK.takeOut}</SecondaryButton>
      </ButtonRow>
      {own && <UndoStrip of="mount" />}
    </Notice>
  )
}

function Backward({ station, check }: { station: StationRecord; check: ClockCheckRecord }) {
  const before = sightingsBackward(station, check).length
  if (before === 0) return null
  return (
    <>
      <p>{CLOCK.behind(countOf(before, 'sighting'))}</p>
      <SecondaryButton onPress={() => void countBackward(station, check)}>{CLOCK.countThem}</SecondaryButton>
    </>
  )
}
