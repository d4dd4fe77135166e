/** After a storm: peak on the Sun, and read the feed's shadow in the same pose; both are kept, with the check that they make. */
import { useMemo, useState } from 'preact/hooks'
import { type StormCheckRecord, stormChecksOf } from '../../core/records/checks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isOffsetFed } from '../../core/records/guesses.ts'
import { instantMs } from '../../core/records/instant.ts'
import { MINUTE_MS } from '../../core/units.ts'
import { isoOf, trueNow } from '../../state/ask.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { keepStorm } from '../../state/feed.ts'
import { noonOf } from '../../state/noon.ts'
import { takeStamp } from '../../state/now.ts'
import { faultsOfSighting } from '../../state/sightings.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { lengthUnit } from '../kit/format.ts'
import { Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Text } from '../kit/numbers.tsx'
import { OFFSET_FED } from '../kit/offsetfedwords.ts'
import { whenToSecond } from '../kit/phrases.ts'
import { FeedMounted, SunCautions, SunFrame } from '../kit/shadow/parts.tsx'
import { ShadowPlace } from '../kit/shadow/ShadowPlace.tsx'
import { emptySightForm } from '../kit/sighting/form.ts'
import { useKeptForm } from '../kit/sighting/keptform.ts'
import { MoreFields } from '../kit/sighting/MoreFields.tsx'
import { ReadingField } from '../kit/sighting/ReadingField.tsx'
import { TimeField } from '../kit/sighting/TargetFields.tsx'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { typedUtc } from '../kit/utcfield.ts'
import { WAYS } from '../kit/ways.ts'
import { readStorm } from './form.ts'
import { STORM, stormVerdict } from './words.ts'

/** @param check  the one that goes on; null: a new one */
export function SightStorm({ station, check: before }: { station: StationRecord; check: StormCheckRecord | null }) {
  const kept = `storm.${station.id}${before === null ? '' : `.${before.id}`}`
  const first = before?.feed ?? feedHere(station)
  const [form, set] = useKeptForm(kept, {
    ...emptySightForm(lengthUnit()),
    target: 'sun',
    method: 'signal-peak',
    feed: first,
  })
  const [more, setMore] = useKept<{ sees: 'yes' | 'no' | '' }>(`${kept}.more`, () => ({ sees: '' }))
  const [ids] = useState(() => ({ peak: newId(), shadow: newId() }))
  const { keep, refused } = useKeep([kept, `${kept}.more`], ids.peak)
  const feed = station.feeds.find(f => f.id === form.feed)?.id ?? first
  const sees = isOffsetFed(station) ? 'no' : more.sees
  const read = readStorm(form, sees, station, ids)
  const whole = read.kind === 'whole' ? read : null
  const text = JSON.stringify(whole)
  const faults = useMemo(
    () => [whole?.peak, whole?.shadow].flatMap(r => (r ? faultsOfSighting(station, r) : [])),
    [text, station],
  )
  const minute = Math.floor(trueNow.value / MINUTE_MS) * MINUTE_MS
  const { value: noon } = useAsked(`${useSolveKey(station)} ${feed} ${minute}`, () =>
    noonOf(station, feed, { at: isoOf(minute) }, 'storm-dial'),
  )
  const waits = fieldBook.unsaved.value.length > 0
  const notNow = waits
    ? SIGHTING.notYetKept
    : read.kind === 'not-yet'
      ? read.missing === 'shadow'
        ? STORM.saysShadow
        : missingWords(station.mount, read.missing)
      : (faults[0]?.rule ?? null)
  const press = () => {
    if (whole === null) return
    const taken: [typeof whole.peak, ...(typeof whole.peak)[]] = whole.shadow
      ? [whole.peak, whole.shadow]
      : [whole.peak]
    let check = ''
    void keep(
      async () => {
        const stored = await keepStorm(station, feed, taken, before)
        check = stored.check.id
        return stored.kept
      },
      () => go('sight', 'storm', 'see', check),
    )
  }
  const fields = { form, set, station }
  const dial = noon?.pose ?? undefined
  const stamp = () => set({ utc: typedUtc(new Date(takeStamp().utcMs).toISOString()) })
  return (
    <SunFrame
      station={station}
      title={WAYS.storm}
      side={<Before station={station} />}
      action={
        <Action notNow={notNow} onPress={press}>
          {sees === 'no' ? STORM.keepOne : STORM.keep}
        </Action>
      }
    >
      <Text>{before === null ? STORM.why : STORM.goOn}</Text>
      {before === null && <Notice state="caution">{STORM.look}</Notice>}
      <SunCautions station={station} />
      <section class="correct-part" aria-label={STORM.one}>
        <h2 class="correct-head">{STORM.one}</h2>
        <Text>{STORM.oneHow}</Text>
        <FeedMounted station={station} value={feed} onPick={next => set({ feed: next })} />
        <ButtonRow>
          <SecondaryButton onPress={stamp}>{STORM.onPeak}</SecondaryButton>
        </ButtonRow>
        <TimeField {...fields} />
        <ReadingField {...fields} axis="lower" dialled={dial} />
        <ReadingField {...fields} axis="upper" dialled={dial} />
      </section>
      <section class="correct-part" aria-label={STORM.two}>
        <h2 class="correct-head">{STORM.two}</h2>
        {isOffsetFed(station) ? (
          <Text>{OFFSET_FED.why.shadow}</Text>
        ) : (
          <>
            <Text>{STORM.twoHow}</Text>
            <Choice
              label={STORM.saw}
              value={more.sees === '' ? null : more.sees}
              options={[
                { value: 'yes', word: STORM.sees.yes },
                { value: 'no', word: STORM.sees.no },
              ]}
              onPick={picked => setMore({ sees: picked })}
            />
          </>
        )}
        {sees === 'yes' && <ShadowPlace {...fields} pose={dial ?? null} />}
      </section>
      <MoreFields {...fields} withTime={false} />
      <Refused why={refused} />
    </SunFrame>
  )
}

/** The checks of this station so far. */
function Before({ station }: { station: StationRecord }) {
  const checks = stormChecksOf(station.checks)
  return (
    <>
      {checks.length > 0 && <h2 class="correct-head">{STORM.before}</h2>}
      {[...checks].reverse().map(c => (
        <RowButton
          key={c.id}
          label={whenToSecond(instantMs(c.utc))}
          {...(c.verdict && { value: stormVerdict(c.verdict) })}
          onPress={() => go('sight', 'storm', 'see', c.id)}
        />
      ))}
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'noon')}>{STORM.noon}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'list')}>{STORM.list}</SecondaryButton>
      </ButtonRow>
    </>
  )
}
