/** A noise record made or edited: what was above the sky, through which feed, by how much. */
import { useMemo } from 'preact/hooks'
import { noiseAnswer, noiseResult } from '../../core/noise/noiseanswer.ts'
import { feedOf } from '../../core/records/feeds.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { NOISE_OF, type NoiseRecord } from '../../core/records/noise.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { elevationAt, keepNoise, noiseRecord } from '../../state/noise.ts'
import { useAsked } from '../kit/asked.ts'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { FeedChoice } from '../kit/FeedChoice.tsx'
import { TextField, UtcField } from '../kit/fields.tsx'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { utcOf, utcText } from '../kit/utcfield.ts'
import { emptyNoise, type NoiseForm, noiseFormOf, noiseFromForm } from './form.ts'
import { HowMuch, Losses, SunFlux, Temperatures } from './NoiseFields.tsx'
import { NoiseFrame, NoiseGone } from './NoiseParts.tsx'
import { moonWarning, NOISE, NOISE_NOT_YET, NOISE_OF_WORDS, noiseSays } from './words.ts'

export const NoiseNew = ({ station }: { station: StationRecord }) => <NoiseScreen station={station} old={null} />

export function NoiseEdit({ station, id }: { station: StationRecord; id: string }) {
  const old = noiseRecord(station, id)
  return old === null ? <NoiseGone station={station} /> : <NoiseScreen station={station} old={old} />
}

/** How high the Sun or Moon stood at the instant typed; null while it is not known. */
function useElevation(station: StationRecord, form: NoiseForm): number | null {
  const utc = utcOf(form.utc, null)
  const body = form.of === 'sun' || form.of === 'moon' ? form.of : null
  const key = body === null || utc === null ? null : `${station.id} ${body} ${utc}`
  const { value, asking } = useAsked(key, () => elevationAt(station, body!, utc!))
  return asking ? null : value
}

function NoiseScreen({ station, old }: { station: StationRecord; old: NoiseRecord | null }) {
  const name = old === null ? `noise.${station.id}` : `edit.noise.${old.id}`
  const id = useRecordId(name, 'noise', station.id, old?.id ?? null)
  const [form, setForm] = useKept<NoiseForm>(
    name,
    () => {
      const feed = feedOf(station, old?.feed ?? feedHere(station))
      return old === null ? emptyNoise(feed, takeTrueMs()) : noiseFormOf(old, feed)
    },
    kept => kept,
    old && { kind: 'noise', station: station.id, id: old.id },
  )
  const keeping = useKeep([name], id)
  const set = (change: Partial<NoiseForm>) => setForm(before => ({ ...before, ...change }))
  const feed = station.feeds.find(f => f.id === form.feed)
  const elDeg = useElevation(station, form)
  const made = noiseFromForm(form, feed, old, id, elDeg)
  const see = () => go('sight', 'noise', 'see', id)
  const keep = () => {
    if (made.kind === 'ready') void keeping.keep(() => keepNoise(station, made.record), see)
  }
  return (
    <NoiseFrame
      station={station}
      title={old === null ? NOISE.record : NOISE.change}
      action={
        <KeepAction
          keeping={keeping}
          word={NOISE.keep}
          notNow={made.kind === 'ready' ? null : NOISE_NOT_YET[made.why]}
          onKeep={keep}
          otherwise={() => go('sight', 'noise')}
        />
      }
    >
      <Choice
        label={NOISE.of}
        value={form.of}
        options={NOISE_OF.map(of => ({
          value: of,
          word: NOISE_OF_WORDS[of].word,
          note: NOISE_OF_WORDS[of].note,
        }))}
        onPick={of => set({ of })}
      />
      {form.of === 'sun' && <Notice state="caution">{NOISE.sun}</Notice>}
      {form.of === 'load' && <Caution {...NOISE.loadCaution} />}
      <FeedChoice
        station={station}
        label={NOISE.feed}
        value={form.feed}
        onPick={picked => set({ feed: picked, low: '', high: '', sfu: '' })}
      />
      {form.of === 'moon' && <MoonWarning station={station} feed={form.feed} />}
      <HowMuch form={form} set={set} />
      {form.of === 'sun' && feed && <SunFlux form={form} set={set} feed={feed} />}
      {form.of !== 'sun' && <Temperatures form={form} set={set} />}
      {made.kind === 'ready' && feed && <Said station={station} record={made.record} />}
      <Losses form={form} set={set} elDeg={elDeg} />
      <UtcField
        label={NOISE.when}
        text={form.utc}
        onText={utc => set({ utc })}
        onNow={() => set({ utc: utcText(takeTrueMs()) })}
      />
      <TextField label={NOISE.note} text={form.note} onText={note => set({ note })} hint={NOISE.noteHint} />
      <Refused why={keeping.refused} />
      <UnsavedNotice />
    </NoiseFrame>
  )
}

/** Warns where the Moon is too weak to be heard. */
function MoonWarning({ station, feed }: { station: StationRecord; feed: string }) {
  const expected = useMemo(() => noiseAnswer(station).expected.find(e => e.feed === feed), [station, feed])
  const warning = expected && moonWarning(expected)
  return warning ? <Notice state="look-out">{warning}</Notice> : null
}

function Said({ station, record }: { station: StationRecord; record: NoiseRecord }) {
  const result = noiseResult(station, record, station.feeds.find(f => f.id === record.feed)!)
  return (
    <Notice
      state={result.kind === 'result' ? 'good' : 'look-out'}
      {...(result.kind === 'result' && { word: NOISE.result })}
      live="status"
    >
      {noiseSays(result, record.of)}
    </Notice>
  )
}
