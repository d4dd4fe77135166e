/** Readings alone, from the person at the dish: a half that waits for its marked time. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { instantMs } from '../../core/records/instant.ts'
import { newId } from '../../state/book.ts'
import { takeStamp } from '../../state/now.ts'
import { keepReadings } from '../../state/sightings.ts'
import { Action } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { lengthUnit, utcAndLocal } from '../kit/format.ts'
import { ifStillHere } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { parseNumber } from '../kit/numberfield.ts'
import { Sentence } from '../kit/numbers.tsx'
import { readingKind } from '../kit/readings.ts'
import { Screen } from '../kit/Screen.tsx'
import { emptySightForm, type SightForm } from '../kit/sighting/form.ts'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { ReadingPad } from './ReadingPad.tsx'
import { instead } from './SightWriting.tsx'
import { SIGHT } from './words.ts'

/** What the dish showed at somebody's call: a half that waits for its marked time, on this phone or on another. */
export function ReadingsOnly({ station }: { station: StationRecord }) {
  const { mount } = station
  const [half, setHalf] = useState<HalfSighting | null>(null)
  const [form, setForm] = useState(() => emptySightForm(lengthUnit()))
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
  const keep = () => {
    if (half === null || lower.kind !== 'value' || upper.kind !== 'value') return
    const whole: HalfSighting = {
      ...half,
      ...((form.target === 'moon' || form.target === 'sun') && { target: { type: form.target } }),
      lower: lower.value,
      upper: upper.value,
    }
    const where = location.hash
    void keepReadings(station, whole).then(() => ifStillHere(where, () => instead('sight', 'waiting')))
  }
  return (
    <Screen
      title={SIGHT.readingsTitle}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      side={<Caution {...SIGHT.readerCaution} />}
      action={
        half === null ? (
          <Action key="take" onPress={take}>
            {SIGHT.called}
          </Action>
        ) : (
          <Action key="keep" notNow={missing.length > 0 ? missingWords(mount, missing) : null} onPress={keep}>
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
            <Sentence strong>{SIGHT.calledAt(utcAndLocal(instantMs(half.utc), 'second'))}</Sentence>
          </div>
          <ReadingPad form={form} set={set} station={station} expected={undefined} wrong={[]} ready />
          <Choice
            label={SIGHT.lookAtIfKnown}
            value={form.target}
            options={[
              { value: 'moon', word: SIGHTING.moon },
              { value: 'sun', word: SIGHTING.sun },
            ]}
            onPick={value => set({ target: value })}
          />
        </>
      )}
    </Screen>
  )
}
