/** A row of Sun noise against a setting of the feed: written, changed, and what it says as it grows. */
import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import { feedRow } from '../../core/noise/feedrow.ts'
import { feedOf } from '../../core/records/feeds.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type NoiseRowRecord, ROW_SETTINGS } from '../../core/records/noise.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { dropNoise, keepNoiseRow, noiseRowRecord } from '../../state/noise.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { FeedChoice } from '../kit/FeedChoice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { NOISE_KINDS } from './form.ts'
import { NoiseFrame, NoiseGone } from './NoiseParts.tsx'
import { RowPlot } from './RowPlot.tsx'
import {
  emptyRow,
  type RowForm,
  rowFormOf,
  rowFromForm,
  rowReadings,
  settingKind,
  type TypedReading,
  withoutReading,
  withReading,
} from './rowform.ts'
import { FEED_ROW, feedRowSays, ROW_NOT_YET, SETTING_WORDS, unitOfSetting } from './rowwords.ts'
import { NOISE } from './words.ts'

export const NoiseRowNew = ({ station }: { station: StationRecord }) => <RowScreen station={station} old={null} />

export function NoiseRowEdit({ station, id }: { station: StationRecord; id: string }) {
  const old = noiseRowRecord(station, id)
  return old === null ? <NoiseGone station={station} /> : <RowScreen station={station} old={old} />
}

function RowScreen({ station, old }: { station: StationRecord; old: NoiseRowRecord | null }) {
  const name = old === null ? `noise-row.${station.id}` : `edit.noise-row.${old.id}`
  const id = useRecordId(name, 'noise', station.id, old?.id ?? null)
  const [form, setForm] = useKept<RowForm>(
    name,
    () => (old === null ? emptyRow(feedOf(station, feedHere(station)).id, takeTrueMs()) : rowFormOf(old)),
    kept => kept,
    old && { kind: 'noise', station: station.id, id: old.id },
  )
  const keeping = useKeep([name], id)
  // What stood in the row when it was opened is a line each: twelve readings, all fields open, are 5000 px to scroll.
  const [folded, setFolded] = useState(() => (old === null ? 0 : form.readings.length - 1))
  const drop = (k: number) => {
    setForm(before => withoutReading(before, k))
    if (k < folded) setFolded(folded - 1)
  }
  const made = rowFromForm(form, old, id)
  const keep = () => {
    if (made.kind === 'ready')
      void keeping.keep(
        () => keepNoiseRow(station, made.record),
        () => go('sight', 'noise'),
      )
  }
  const remove = () =>
    keeping.keep(
      () => dropNoise(station, id),
      () => location.replace('#sight/noise'),
    )
  return (
    <NoiseFrame
      station={station}
      title={FEED_ROW.title}
      action={
        <KeepAction
          keeping={keeping}
          word={FEED_ROW.keep}
          notNow={made.kind === 'ready' ? null : ROW_NOT_YET[made.why]}
          onKeep={keep}
          otherwise={() => go('sight', 'noise')}
        />
      }
    >
      <Caution {...FEED_ROW.caution} />
      <RowSaid form={form} record={made.kind === 'ready' ? made.record : null} />
      {old === null && <Text>{FEED_ROW.what}</Text>}
      <Choice
        label={FEED_ROW.setting}
        value={form.setting}
        options={ROW_SETTINGS.map(value => ({
          value,
          word: SETTING_WORDS[value].word,
          note: SETTING_WORDS[value].note,
        }))}
        onPick={setting => setForm(before => ({ ...before, setting }))}
      />
      <FeedChoice
        station={station}
        label={NOISE.feed}
        value={form.feed}
        onPick={feed => setForm(before => ({ ...before, feed }))}
      />
      {form.readings.map((reading, k) => (
        <Reading key={k} setting={form.setting} reading={reading} n={k + 1} isFolded={k < folded}>
          <div class="book-two">
            <NumberField
              label={FEED_ROW.at}
              kind={settingKind(form.setting)}
              text={reading.at}
              hint={FEED_ROW.atHint}
              onText={at => setForm(before => withReading(before, k, { at }))}
            />
            <NumberField
              label={FEED_ROW.y}
              kind={NOISE_KINDS.rise}
              text={reading.y}
              hint={FEED_ROW.atHint}
              signButton={false}
              onText={y => setForm(before => withReading(before, k, { y }))}
            />
          </div>
          {(reading.at !== '' || reading.y !== '') && (
            <SecondaryButton stop onPress={() => drop(k)}>
              {FEED_ROW.remove(k + 1)}
            </SecondaryButton>
          )}
        </Reading>
      ))}
      <NumberField
        label={FEED_ROW.sigma}
        kind={NOISE_KINDS.sigma}
        text={form.sigma}
        hint={FEED_ROW.sigmaHint}
        onText={sigma => setForm(before => ({ ...before, sigma }))}
      />
      <TextField
        label={NOISE.note}
        text={form.note}
        hint={NOISE.noteHint}
        onText={note => setForm(before => ({ ...before, note }))}
      />
      <Refused why={keeping.refused} />
      <UnsavedNotice />
      {old !== null && (
        <SecondaryButton stop onPress={() => void remove()}>
          {FEED_ROW.removeRow}
        </SecondaryButton>
      )}
      <UndoStrip of="noise" ids={[id]} />
    </NoiseFrame>
  )
}

interface ReadingProps {
  setting: RowForm['setting']
  reading: TypedReading
  n: number
  /** Only its two numbers show until it is tapped. */
  isFolded: boolean
  children: ComponentChildren
}

function Reading({ setting, reading, n, isFolded, children }: ReadingProps) {
  if (isFolded)
    return <HelpLine word={FEED_ROW.folded(n, reading.at, unitOfSetting(setting), reading.y)}>{children}</HelpLine>
  return (
    <section class="book-section" aria-label={FEED_ROW.reading(n)}>
      <h2>{FEED_ROW.reading(n)}</h2>
      {children}
    </section>
  )
}

/** What it says so far: one sentence and the picture. */
function RowSaid({ form, record }: { form: RowForm; record: NoiseRowRecord | null }) {
  const readings = useMemo(() => (record === null ? [] : rowReadings(record)), [JSON.stringify(record)])
  const answer = useMemo(() => feedRow(readings), [readings])
  if (record === null) return null
  const says = feedRowSays(form.setting, answer.verdict)
  return (
    <>
      <Sentence strong>
        <span role="status">{says}</span>
      </Sentence>
      {readings.length > 1 && (
        <RowPlot readings={readings} answer={answer} unit={unitOfSetting(form.setting)} says={says} />
      )}
    </>
  )
}
