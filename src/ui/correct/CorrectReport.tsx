/** The field report: on the screen what stands on the page, in print one page, black on white, and nothing of the frame. */
import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import type { Report } from '../../core/export/report.ts'
import { REPORT_CAUTIONS } from '../../core/export/reportcautions.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { isoOf } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askReportText, fileName, parcelOf } from '../../state/export.ts'
import { version } from '../../state/readiness.ts'
import { canPrint, printPage, report } from '../../state/report.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { changeWords } from '../kit/changewords.ts'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { lengthUnit, seenText, utcDate } from '../kit/format.ts'
import { verdictWords } from '../kit/loss.ts'
import { Name, Sentence, Text } from '../kit/numbers.tsx'
import { OutgoingParts, useMade, useOutgoing } from '../kit/Outgoing.tsx'
import { DEMO_MARK, isDemo } from '../kit/phrases.ts'
import { SUSPECT_WORDS } from '../kit/suspectwords.ts'
import { isLossUnknown, judgedSightings, residualsOf, skyErrorOf } from './drawings.ts'
import { foundRows } from './found.ts'
import { ResidualsPlot } from './ResidualsPlot.tsx'
import {
  type Fact,
  factsOf,
  measuredFact,
  measuredHead,
  measuredTold,
  REPORT,
  reportLeftWords,
  statesTold,
  typeSize,
  usedWords,
} from './reportwords.ts'
import { SkyErrorPlot } from './SkyErrorPlot.tsx'
import { StateShape } from './StateShape.tsx'
import { CORRECT, suspectSentence } from './words.ts'

export function CorrectReport({ station }: { station: StationRecord }) {
  const made = report.value
  return (
    <CorrectFrame
      station={station}
      title={REPORT.title}
      action={
        <Action onPress={printPage} notNow={made === null ? REPORT.preparing : canPrint() ? null : REPORT.noPrint}>
          {REPORT.print}
        </Action>
      }
    >
      {made === null ? <Sentence>{SOLVING.computing}</Sentence> : <Page station={station} report={made} />}
      <div class="not-printed report-ways">
        <Text quiet>{REPORT.printNote}</Text>
        <FeedInUse station={station} />
        <AsText station={station} />
      </div>
    </CorrectFrame>
  )
}

function AsText({ station }: { station: StationRecord }) {
  const feed = feedHere(station)
  const ready = useMade(station, feed, ms => askReportText(station, feed, isoOf(ms)))
  const parcel = useMemo(
    () =>
      ready && 'text' in ready.made ? parcelOf(fileName(station.name, 'report', ready.ms), ready.made.text) : null,
    [ready],
  )
  const out = useOutgoing(parcel, feed)
  return (
    <section class="correct-part" aria-label={REPORT.asText}>
      <h2 class="correct-head">{REPORT.asText}</h2>
      <OutgoingParts out={out} all />
    </section>
  )
}

/** The type for its words; the drawings take what room is left. */
function sized(article: HTMLElement | null): void {
  const parts = [...(article?.children ?? [])].filter(part => !part.matches('.report-plots'))
  const length = (part: Element): number => part.textContent?.length ?? 0
  const folds = [...(article?.querySelectorAll('.report-fold') ?? [])]
  const letters = parts.reduce((sum, part) => sum + length(part), 0) - folds.reduce((sum, f) => sum + length(f), 0)
  article?.style.setProperty('--report-type', typeSize(letters))
}

/** Site, dish, feed and mount come first. */
const ENTERED = 4
const MOST_CHANGES = 3
const MOST_SUSPECTS = 4

function Page({ station, report: r }: { station: StationRecord; report: Report }) {
  const { solution } = r
  // One feed's report: its name stands at the top, not at each of its numbers.
  const found = useMemo(
    () => foundRows(solution, { ...station, feeds: station.feeds.filter(f => f.id === r.feed.id) }, lengthUnit()),
    [solution, station, lengthUnit()],
  )
  const residuals = useMemo(
    () => residualsOf(judgedSightings(station, solution), solution.sky.toleranceDeg, r.feed.beamwidthDeg),
    [station, r],
  )
  const facts = factsOf(r, version)
  const error = useMemo(() => skyErrorOf(r, r.allowedEchoLossDb), [r])
  return (
    <article class="report" aria-label={REPORT.title} ref={sized}>
      <header class="report-head">
        <h2 class={r.station.length > 80 ? 'report-long' : undefined}>
          {REPORT.title}: <Name>{r.station}</Name>
        </h2>
        {isDemo(station) && <p class="printed-only">{DEMO_MARK}</p>}
        <ReportPart word={REPORT.entered}>
          <Facts facts={facts.slice(0, ENTERED)} />
        </ReportPart>
        <Facts facts={facts.slice(ENTERED)} />
      </header>
      <section class="report-left">
        <h3>{REPORT.left}</h3>
        <p>
          <strong>{verdictWords(solution, '')}</strong> {reportLeftWords(r).join(' ')}
        </p>
        <h3>{REPORT.suspects}</h3>
        {r.suspects.length === 0 ? (
          <p>{solution.fit.used > 0 ? REPORT.noSuspects : CORRECT.nothingToJudge}</p>
        ) : (
          r.suspects.slice(0, MOST_SUSPECTS).map(s => (
            <p key={`${s.kind} ${s.text}`}>
              <strong>{SUSPECT_WORDS[s.kind]}.</strong> {suspectSentence(station, s)} {REPORT.settle}{' '}
              {seenText(s.settle)}
            </p>
          ))
        )}
        {r.suspects.length > MOST_SUSPECTS && <p>{REPORT.more(r.suspects.length - MOST_SUSPECTS)}</p>}
      </section>
      <section class="report-measured">
        <ReportPart word={measuredTold(r)}>
          <h3>{measuredHead(r)}</h3>
          {r.measured.length === 0 ? (
            <p>{REPORT.nothing}</p>
          ) : (
            <Facts facts={r.measured.map(row => measuredFact(row, r))} />
          )}
        </ReportPart>
        <h3>{REPORT.changes}</h3>
        {r.changes.length === 0 ? (
          <p>{REPORT.nothing}</p>
        ) : (
          r.changes.slice(0, MOST_CHANGES).map(c => (
            <p key={c.utc}>
              {utcDate(instantMs(c.utc))}: {changeWords(station, c)}
            </p>
          ))
        )}
        {r.changes.length > MOST_CHANGES && <p>{REPORT.more(r.changes.length - MOST_CHANGES)}</p>}
      </section>
      <ReportPart class="report-found" word={`${REPORT.found}: ${statesTold(found)}`}>
        <h3>{REPORT.found}</h3>
        <dl>
          {found.map(f => (
            <div key={f.key} class="report-row">
              <dt>{f.what}</dt>
              <dd>
                <strong>{f.value}</strong> <StateShape state={f.state} />
              </dd>
            </div>
          ))}
        </dl>
      </ReportPart>
      <section class="report-plots">
        <ReportPart word={`${REPORT.misses}: ${usedWords(solution.fit)}`}>
          <h3>{REPORT.misses}</h3>
          <ResidualsPlot residuals={residuals} />
        </ReportPart>
        <div>
          <h3>{REPORT.sky}</h3>
          {isLossUnknown(solution) ? <p>{CORRECT.skyUnknown}</p> : <SkyErrorPlot error={error} />}
        </div>
      </section>
      <section class="report-cautions">
        <h3>{REPORT.cautions}</h3>
        <p>{REPORT_CAUTIONS.join(' ')}</p>
      </section>
    </article>
  )
}

interface ReportPartProps {
  class?: string
  word: string
  children: ComponentChildren
}

/** A part that is folded on a phone's screen, under a line that says what it comes to; never on a wide screen or on paper. */
function ReportPart({ class: name = '', word, children }: ReportPartProps) {
  const [isOpen, setOpen] = useState(false)
  return (
    <section class={`report-part ${name}`} data-folded={isOpen ? undefined : ''}>
      <button type="button" class="report-fold" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
        {word}
      </button>
      {children}
    </section>
  )
}

const Facts = ({ facts }: { facts: readonly Fact[] }) => (
  <dl>
    {facts.map(f => (
      <div key={f.what} class={f.value.length > 60 ? 'report-row report-wide' : 'report-row'}>
        <dt>{f.what}</dt>
        <dd>{f.value}</dd>
      </div>
    ))}
  </dl>
)
