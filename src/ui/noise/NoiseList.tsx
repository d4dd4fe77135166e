/** "Noise": whether the dish hears less than it did, what it should hear, and every record. */
import { useMemo } from 'preact/hooks'
import { feedRow } from '../../core/noise/feedrow.ts'
import { type NoiseAnswer, noiseAnswer } from '../../core/noise/noiseanswer.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { noiseRowsOf } from '../../core/records/noise.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { fixed, safeText } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, Name, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
import { NoiseEdit, NoiseNew } from './NoiseForm.tsx'
import { NoiseFrame } from './NoiseParts.tsx'
import { NoiseRowEdit, NoiseRowNew } from './NoiseRow.tsx'
import { NoiseSee } from './NoiseSee.tsx'
import { rowReadings } from './rowform.ts'
import { FEED_ROW, rowShort, SETTING_WORDS } from './rowwords.ts'
import { TrendPlot } from './TrendPlot.tsx'
import { lacksFlux, moonWarning, NOISE, noiseExpectedSays, noiseRowWords, stepSays } from './words.ts'

export function NoisePlace({ station, what, id = '' }: { station: StationRecord; what?: string; id?: string }) {
  const key = `${station.id}/${what}/${id}`
  if (what === 'new') return <NoiseNew key={key} station={station} />
  if (what === 'edit') return <NoiseEdit key={key} station={station} id={id} />
  if (what === 'row')
    return id === 'new' ? (
      <NoiseRowNew key={key} station={station} />
    ) : (
      <NoiseRowEdit key={key} station={station} id={id} />
    )
  if (what === 'see') return <NoiseSee key={key} station={station} id={id} />
  return <NoiseList station={station} />
}

function NoiseList({ station }: { station: StationRecord }) {
  const answer = useMemo(() => noiseAnswer(station), [station])
  const feedName = (id: string) => station.feeds.find(f => f.id === id)?.name ?? id
  const several = station.feeds.length > 1
  return (
    <NoiseFrame
      station={station}
      title={WAYS.noise}
      action={<Action onPress={() => go('sight', 'noise', 'new')}>{NOISE.record}</Action>}
      side={
        <>
          <RowsOfSettings station={station} />
          <SecondaryButton onPress={() => go('sight', 'list')}>{NOISE.toSight}</SecondaryButton>
        </>
      }
    >
      <UnsavedNotice />
      <Expectations answer={answer} several={several} />
      {answer.steps.map(step => (
        <Notice key={`${step.feed}/${step.of}`} state={step.db < 0 ? 'look-out' : 'good'}>
          {stepSays(step, feedName(step.feed))}
        </Notice>
      ))}
      {answer.rows.length === 0 ? (
        <>
          <Sentence>{NOISE.none}</Sentence>
          <Text>{NOISE.why}</Text>
        </>
      ) : (
        <>
          <Trends station={station} answer={answer} />
          <section class="book-section" aria-label={NOISE.list}>
            <h2>{NOISE.list}</h2>
            {[...answer.rows].reverse().map(row => {
              const { head, says } = noiseRowWords(row)
              return (
                <RowButton
                  key={row.id}
                  label={
                    <>
                      {head} {says}
                      <small class="book-small">
                        {whenToSecond(instantMs(row.utc))}
                        {several && `, ${safeText(feedName(row.feed))}`}
                      </small>
                    </>
                  }
                  onPress={() => go('sight', 'noise', lacksFlux(row.result) ? 'edit' : 'see', row.id)}
                />
              )
            })}
          </section>
        </>
      )}
      <UndoStrip of="noise" />
    </NoiseFrame>
  )
}

/** A picture for each feed and kind with two records or more. */
function Trends({ station, answer }: { station: StationRecord; answer: NoiseAnswer }) {
  const groups = useMemo(
    () =>
      station.feeds.flatMap(feed =>
        (['sun', 'moon', 'ground', 'load'] as const).flatMap(of => {
          const points = answer.rows.flatMap(r =>
            r.feed === feed.id && r.of === of && r.result.kind === 'result'
              ? [{ id: r.id, utcMs: instantMs(r.utc), db: r.result.gOverTDb, sigma: r.result.sigmaDb }]
              : [],
          )
          const found = answer.steps.find(s => s.feed === feed.id && s.of === of)
          const step = found && {
            utcMs: instantMs(found.utc),
            before: found.meanBefore,
            after: found.meanAfter,
          }
          return points.length < 2 ? [] : [{ feed, of, trend: { points, step: step ?? null } }]
        }),
      ),
    [station, answer],
  )
  return (
    <>
      {groups.map(({ feed, of, trend }) => (
        <section class="book-section" key={`${feed.id}/${of}`}>
          <h2>
            {NOISE.trend(of)}
            {station.feeds.length > 1 && (
              <>
                , <Name>{feed.name}</Name>
              </>
            )}
          </h2>
          <TrendPlot title={NOISE.trendTitle(of)} trend={trend} />
        </section>
      ))}
    </>
  )
}

/** The number that the receiver should show, large; what it rests on below it. */
function Expectations({ answer, several }: { answer: NoiseAnswer; several: boolean }) {
  return (
    <section class="book-section" aria-label={NOISE.expects}>
      <h2>{NOISE.expects}</h2>
      {answer.expected.map(e => {
        const warning = moonWarning(e)
        return (
          <div key={e.feed} class="book-section">
            {several && (
              <h3>
                <Name>{e.name}</Name>
              </h3>
            )}
            {e.sunDb !== null && (
              <BigNumber
                label={NOISE.sunAbove}
                value={fixed(e.sunDb, 1)}
                unit="dB"
                size={several ? 3 : 2}
                beside={NOISE.moonAbove(e.moonDb)}
              />
            )}
            {noiseExpectedSays(e).map(words => (
              <Text key={words} quiet>
                {words}
              </Text>
            ))}
            {warning && <Notice state="look-out">{warning}</Notice>}
          </div>
        )
      })}
    </section>
  )
}

/** Rows against a setting of the feed, and the way to a new one. */
function RowsOfSettings({ station }: { station: StationRecord }) {
  const rows = useMemo(
    () =>
      noiseRowsOf(station.noise)
        .map(record => ({ record, verdict: feedRow(rowReadings(record)).verdict }))
        .reverse(),
    [station],
  )
  return (
    <section class="book-section" aria-label={FEED_ROW.list}>
      <h2>{FEED_ROW.list}</h2>
      {rows.map(({ record, verdict }) => (
        <RowButton
          key={record.id}
          label={
            <>
              {SETTING_WORDS[record.setting].word}: {rowShort(record.setting, verdict)}
              <small class="book-small">{whenToSecond(instantMs(record.utc))}</small>
            </>
          }
          onPress={() => go('sight', 'noise', 'row', record.id)}
        />
      ))}
      <SecondaryButton onPress={() => go('sight', 'noise', 'row', 'new')}>{FEED_ROW.start}</SecondaryButton>
    </section>
  )
}
