/** The instruments: this phone by each of its edges, other phones, inclinometers; each with its bias and the age of that. */
import { biasFor } from '../../core/level/instrumentbias.ts'
import { EDGES } from '../../core/level/upvector.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { InstrumentRecord } from '../../core/records/instruments.ts'
import { trueNow } from '../../state/ask.ts'
import { dropInstrument, instrumentsAt, keepInstrument, phoneInstrument, thisPhone } from '../../state/instruments.ts'
import { readySigns } from '../../state/level.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { seenText } from '../kit/format.ts'
import { useKeep } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { KINDS } from '../kit/kinds.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { go } from '../kit/navigation.ts'
import { numberOf } from '../kit/numberfield.ts'
import { RowButton, Text } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { GoneInstrument } from './LevelReversal.tsx'
import { biasWords, EDGE_WORDS, INSTRUMENTS } from './phonewords.ts'
import { LEVEL } from './words.ts'

const clampingNow = (i: InstrumentRecord | null): string | null => i?.bias?.clamping ?? null

export function LevelInstruments({ station }: { station: StationRecord }) {
  const all = instrumentsAt(station)
  const says = (i: InstrumentRecord | null) =>
    biasWords(biasFor(i, station.levels, { nowMs: trueNow.value, clamping: clampingNow(i), phone: thisPhone() }))
  const mine = new Set(EDGES.map(edge => phoneInstrument(station, edge)?.id))
  const others = all.filter(i => !mine.has(i.id))
  return (
    <MountFrame
      station={station}
      title={INSTRUMENTS.title}
      action={<Action onPress={() => go('mount', 'instruments', 'new')}>{INSTRUMENTS.add}</Action>}
    >
      <UnsavedNotice />
      <Text>{INSTRUMENTS.why}</Text>
      <section class="level-list" aria-label={INSTRUMENTS.phone}>
        <h2>{INSTRUMENTS.phone}</h2>
        {EDGES.map(edge => (
          <RowButton
            key={edge}
            label={
              <>
                {EDGE_WORDS[edge]}
                <small>{says(phoneInstrument(station, edge))}</small>
              </>
            }
            onPress={() => {
              readySigns()
              go('mount', 'reversal', edge)
            }}
          />
        ))}
      </section>
      <section class="level-list" aria-label={INSTRUMENTS.hand}>
        <h2>{INSTRUMENTS.hand}</h2>
        {others.length === 0 && <Text quiet>{INSTRUMENTS.none}</Text>}
        {others.map(i => (
          <RowButton
            key={i.id}
            label={
              <>
                <bdi>{seenText(i.name)}</bdi>
                {i.type === 'phone' && ` (${INSTRUMENTS.otherPhone})`}
                <small>{says(i)}</small>
              </>
            }
            onPress={() => go('mount', 'instruments', i.id)}
          />
        ))}
      </section>
      <ButtonRow>
        <SecondaryButton onPress={() => go('mount')}>{MOUNT.back}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="mount" />
    </MountFrame>
  )
}

const toList = () => go('mount', 'instruments')

interface InstrumentForm {
  name: string
  shows: 'circle' | 'quarter'
  step: string
  noise: string
}

/** Adds an inclinometer, or edits one. */
export function LevelInstrumentForm({ station, id }: { station: StationRecord; id: string }) {
  const old = id === 'new' ? null : (instrumentsAt(station).find(i => i.id === id) ?? null)
  const form = old ? `edit.instrument.${old.id}` : `instrument.${station.id}`
  const own = useRecordId(form, 'instrument', station.id, old?.id ?? null)
  const text = (x: number | undefined) => (x === undefined ? '' : String(x))
  const [typedIn, setTyped] = useKept<InstrumentForm>(
    form,
    () => ({
      name: old?.name ?? '',
      shows: old?.shows ?? 'quarter',
      step: text(old?.stepDeg),
      noise: text(old?.noiseDeg),
    }),
    kept => kept,
    old && { kind: 'instrument', station: station.id, id: old.id },
  )
  const { name, shows, step, noise } = typedIn
  const keeping = useKeep([form], own)
  const set = (change: Partial<InstrumentForm>) => setTyped(before => ({ ...before, ...change }))
  if (id !== 'new' && old === null) return <GoneInstrument station={station} />
  const fine = (t: string): number | null | undefined => (t.trim() === '' ? undefined : numberOf(t, KINDS.step))
  const [stepDeg, noiseDeg] = [fine(step), fine(noise)]
  const notNow =
    name.trim() === '' ? INSTRUMENTS.nameMissing : stepDeg === null || noiseDeg === null ? NOT_YET.step : null
  const keep = () => {
    const { stepDeg: _, noiseDeg: __, ...rest } = old ?? {}
    const instrument: InstrumentRecord = {
      type: 'inclinometer',
      ...rest,
      id: own,
      name: name.trim(),
      ...(old?.type !== 'phone' && { shows }),
      ...(typeof stepDeg === 'number' && { stepDeg }),
      ...(typeof noiseDeg === 'number' && { noiseDeg }),
    }
    void keeping.keep(() => keepInstrument(station, instrument, 'keep-instrument'), toList)
  }
  const drop = () => void keeping.keep(() => dropInstrument(station, own), toList)
  return (
    <MountFrame
      station={station}
      title={old ? INSTRUMENTS.edit : INSTRUMENTS.add}
      action={
        <Action notNow={notNow} onPress={keep}>
          {INSTRUMENTS.keep}
        </Action>
      }
    >
      <UnsavedNotice />
      <TextField
        label={INSTRUMENTS.name}
        text={name}
        maxLength={500}
        hint={INSTRUMENTS.nameHint}
        onText={t => set({ name: t })}
      />
      {old?.type !== 'phone' && (
        <>
          <Choice
            label={LEVEL.shows}
            value={shows}
            options={[
              { value: 'quarter', word: LEVEL.quarter, note: LEVEL.quarterNote },
              { value: 'circle', word: LEVEL.circle, note: LEVEL.circleNote },
            ]}
            onPick={picked => set({ shows: picked })}
          />
          <NumberField
            label={MOUNT.step}
            kind={KINDS.step}
            text={step}
            hint={INSTRUMENTS.stepHint}
            onText={t => set({ step: t })}
          />
          <NumberField
            label={LEVEL.noise}
            kind={KINDS.step}
            text={noise}
            hint={INSTRUMENTS.stepHint}
            onText={t => set({ noise: t })}
          />
        </>
      )}
      {old && (
        <>
          <Text>
            {biasWords(
              biasFor(old, station.levels, { nowMs: trueNow.value, clamping: clampingNow(old), phone: thisPhone() }),
            )}
          </Text>
          <ButtonRow>
            {old.type === 'inclinometer' && (
              <SecondaryButton onPress={() => go('mount', 'reversal', own)}>{INSTRUMENTS.reverse}</SecondaryButton>
            )}
            <SecondaryButton stop onPress={drop}>
              {INSTRUMENTS.remove}
            </SecondaryButton>
          </ButtonRow>
        </>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('mount', 'instruments')}>{INSTRUMENTS.title}</SecondaryButton>
      </ButtonRow>
    </MountFrame>
  )
}
