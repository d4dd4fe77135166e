/** One noise record: what it says in words and numbers, and how to edit or delete it. */
import { noiseResult } from '../../core/noise/noiseanswer.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { dropNoise, noiseRecord, takeSystemTemperature } from '../../state/noise.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { useKeep } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Sentence, Table, Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
import { NoiseFrame, NoiseGone } from './NoiseParts.tsx'
import { NOISE, NOISE_OF_WORDS, noiseSays, noiseTable } from './words.ts'

export function NoiseSee({ station, id }: { station: StationRecord; id: string }) {
  const { keep } = useKeep()
  const record = noiseRecord(station, id)
  const feed = station.feeds.find(f => f.id === record?.feed)
  if (record === null || feed === undefined) return <NoiseGone station={station} />
  const result = noiseResult(station, record, feed)
  const kelvin = result.kind === 'result' ? Math.max(1, Math.round(result.systemK)) : null
  const remove = () =>
    keep(
      () => dropNoise(station, id),
      () => location.replace('#sight/noise'),
    )
  return (
    <NoiseFrame
      station={station}
      title={`${WAYS.noise}: ${NOISE_OF_WORDS[record.of].name}`}
      action={<Action onPress={() => go('sight', 'noise')}>{NOISE.back}</Action>}
      side={
        <>
          <ButtonRow>
            <SecondaryButton onPress={() => go('sight', 'noise', 'edit', id)}>{NOISE.edit}</SecondaryButton>
            <SecondaryButton stop onPress={() => void remove()}>
              {NOISE.remove}
            </SecondaryButton>
          </ButtonRow>
          {kelvin !== null &&
            (feed.systemTemperatureK === kelvin ? (
              <Text quiet>{NOISE.taken}</Text>
            ) : (
              <SecondaryButton onPress={() => void takeSystemTemperature(station, feed.id, kelvin)}>
                {NOISE.take(kelvin)}
              </SecondaryButton>
            ))}
          <UndoStrip of="noise" ids={[id, feed.id]} />
        </>
      }
    >
      <UnsavedNotice />
      <Sentence strong>{noiseSays(result, record.of)}</Sentence>
      {result.kind === 'result' && (
        <section class="book-section">
          <h2>{NOISE.facts}</h2>
          <Table rows={noiseTable(result)} />
        </section>
      )}
      <Text quiet>
        {whenToSecond(instantMs(record.utc))}, <Name>{feed.name}</Name>
      </Text>
      {record.note !== undefined && (
        <Text quiet>
          <Name>{record.note}</Name>
        </Text>
      )}
    </NoiseFrame>
  )
}
