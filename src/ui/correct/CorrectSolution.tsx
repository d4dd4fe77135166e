/** What the fit found: the number that matters, what to turn and which way, what is not known yet, what the software takes. */
import { dismissedAt, isDismissed } from '../../core/records/dismissed.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { allowedDb, lossAt } from '../../state/losses.ts'
import { landscape } from '../../state/sky.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { degrees, lengthUnit } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LOSS, lossSentence, verdictWords } from '../kit/loss.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, partFromNames } from '../kit/navigation.ts'
import { Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { placeWords, SKY } from '../kit/phrases.ts'
import { allAside } from '../kit/suspectwords.ts'
import { WAYS } from '../kit/ways.ts'
import { ByLevelsPart } from './ByLevelsPart.tsx'
import { byLevels } from './bylevels.ts'
import { type Found, foundRows, type Group } from './found.ts'
import { StateShape } from './StateShape.tsx'
import { turnedParts } from './turned.ts'
import { beforeSentence, CORRECT, leftValue } from './words.ts'

export function CorrectSolution({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const found = solution === null ? [] : foundRows(solution, station, lengthUnit())
  const isKnown = solution !== null && (solution.fit.used > 0 || (station.levels ?? []).length > 0)
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.title}
      first
      {...(isKnown ? { side: <Parameters found={found} /> } : {})}
      action={solution && <TheAction solution={solution} found={isKnown ? found : []} />}
    >
      {solution && <HowWell station={station} solution={solution} found={found} />}
      {isKnown && <ToTurn found={found.filter(f => f.group === 'turn')} />}
      {solution && <Menu station={station} solution={solution} />}
    </CorrectFrame>
  )
}

/** Turned bolts are recorded; where there is none to turn, the next sighting is what helps. */
function TheAction({ solution, found }: { solution: Solution; found: readonly Found[] }) {
  const turns = found.filter(f => f.group === 'turn')
  if (turns.length > 0) {
    const what = turnedParts(turns)
    return (
      <Action onPress={() => go('mount', 'change', ...(what.length > 0 ? [partFromNames(what)] : []))}>
        {CORRECT.turned}
      </Action>
    )
  }
  if (solution.fit.used === 0) return <Action onPress={() => go('sight')}>{CORRECT.record}</Action>
  return <Action onPress={() => go('correct', 'next')}>{CORRECT.next}</Action>
}

function HowWell(p: { station: StationRecord; solution: Solution; found: readonly Found[] }) {
  const { station, solution } = p
  if (solution.fit.used === 0) {
    const told = byLevels(solution, station, p.found)
    if (solution.fit.outliers > 0) return <Sentence strong>{allAside(solution.fit.outliers)}</Sentence>
    return told ? (
      <ByLevelsPart station={station} told={told} />
    ) : (
      <>
        <Sentence strong>{CORRECT.noSightings}</Sentence>
        <Text>{CORRECT.noSightingsWhy}</Text>
      </>
    )
  }
  if (solution.feed !== feedHere(station) || solution.sky.hours === 0) {
    return (
      <>
        {solution.feed !== feedHere(station) ? (
          <Sentence>{SOLVING.computing}</Sentence>
        ) : (
          <Notice state="stop">{SKY.notReached}</Notice>
        )}
        <FeedInUse station={station} />
      </>
    )
  }
  const worst = landscape.value?.worst
  const made = landscape.value?.made
  const allowed = allowedDb(station)
  return (
    <>
      <Sentence strong>{lossSentence(solution, allowed, worst ? placeWords(worst.azDeg, worst.elDeg) : null)}</Sentence>
      <Text quiet>
        {beforeSentence(verdictWords(solution), allowed, lossAt(station, solution, solution.sky.before.p95Deg))}
      </Text>
      <FeedInUse station={station} />
      {made && <Text quiet>{CORRECT.madeOf(degrees(made.openDeg, 2), degrees(made.floorDeg, 2))}</Text>}
    </>
  )
}

function Menu({ station, solution }: { station: StationRecord; solution: Solution }) {
  const dismissed = dismissedAt(station)
  const suspected = solution.suspects.filter(s => !isDismissed(s, dismissed)).length
  return (
    <nav aria-label="Of this solution">
      <RowButton
        label={CORRECT.left}
        value={leftValue(solution.fit.used, solution.fit.outliers)}
        onPress={() => go('correct', 'left')}
      />
      <RowButton
        label={CORRECT.suspects}
        value={suspected === 0 ? CORRECT.none : `${suspected}`}
        onPress={() => go('correct', 'suspects')}
      />
      <RowButton label={CORRECT.sky} onPress={() => go('correct', 'sky')} />
      <RowButton label={CORRECT.next} value={`${solution.next.length}`} onPress={() => go('correct', 'next')} />
      <RowButton label={WAYS.feed} onPress={() => go('correct', 'feed')} />
      <RowButton label={CORRECT.software} onPress={() => go('correct', 'software')} />
    </nav>
  )
}

/** What this place is for: before everything else. */
function ToTurn({ found }: { found: readonly Found[] }) {
  return (
    <section class="correct-part" aria-label={CORRECT.toTurn}>
      <h2 class="correct-head">{CORRECT.toTurn}</h2>
      {found.length === 0 ? <Text>{CORRECT.nothingToTurn}</Text> : <Lines found={found} say />}
    </section>
  )
}

function Parameters({ found }: { found: readonly Found[] }) {
  const of = (group: Group) => found.filter(f => f.group === group)
  return (
    <>
      {of('open').length > 0 && (
        <section class="correct-part" aria-label={CORRECT.notKnown}>
          <h2 class="correct-head">{CORRECT.notKnown}</h2>
          <Text quiet>{CORRECT.notKnownWhy}</Text>
          <Lines found={of('open')} />
        </section>
      )}
      {of('numbers').length > 0 && (
        <section class="correct-part" aria-label={CORRECT.numbers}>
          <h2 class="correct-head">{CORRECT.numbers}</h2>
          <Lines found={of('numbers')} />
        </section>
      )}
      {of('leave').length > 0 && (
        <section class="correct-part" aria-label={CORRECT.settled}>
          <h2 class="correct-head">{CORRECT.settled}</h2>
          <Lines found={of('leave')} />
        </section>
      )}
      <HelpLine>
        {[...LOSS.help, ...CORRECT.help].map(text => (
          <p key={text}>{text}</p>
        ))}
      </HelpLine>
    </>
  )
}

/** @param say  the advice beneath each; in the other groups the heading says it for all, but for what bends or has play */
function Lines({ found, say = false }: { found: readonly Found[]; say?: boolean }) {
  return (
    <div class="found">
      <Rows>
        {found.map(f => (
          <Row
            key={f.key}
            label={f.what}
            note={
              <>
                <StateShape state={f.state} />
                {(say || f.advice.kind === 'stiffen' || f.advice.kind === 'slack') && (
                  <span class={say ? 'advice' : 'advice-quiet'}>{f.says}</span>
                )}
              </>
            }
          >
            {f.value}
          </Row>
        ))}
      </Rows>
    </div>
  )
}
