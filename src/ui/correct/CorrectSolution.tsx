/** What the fit found: what is lost, the mount drawn with what to turn, what goes into the program, and how well each number is known. */
import { useMemo } from 'preact/hooks'
import { dismissedAt, isDismissed } from '../../core/records/dismissed.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { landscape } from '../../state/sky.ts'
import { Action } from '../kit/buttons.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { lengthUnit } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LossHead } from '../kit/LossHead.tsx'
import { LOSS, madeOf, verdictWords } from '../kit/loss.ts'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, partFromNames } from '../kit/navigation.ts'
import { Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { SKY } from '../kit/phrases.ts'
import { WAYS } from '../kit/ways.ts'
import { firstWhyNot, noneCounts } from '../kit/whynotwords.ts'
import { ByLevelsPart } from './ByLevelsPart.tsx'
import { BOLTS } from './boltswords.ts'
import { byLevels } from './bylevels.ts'
import { DRAWN, drawnMoves, nothingWords, openNames, shortName } from './drawnwords.ts'
import { type Found, foundRows } from './found.ts'
import { KnownBars } from './KnownBars.tsx'
import { MountPlot } from './MountPlot.tsx'
import { turnedParts } from './turned.ts'
import { CORRECT, leftValue, wrongValue } from './words.ts'

export function CorrectSolution({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const found = useMemo(
    () => (solution === null ? [] : foundRows(solution, station, lengthUnit())),
    [solution, station, lengthUnit()],
  )
  const turns = useMemo(() => found.filter(f => f.group === 'turn'), [found])
  const isKnown = solution !== null && solution.fit.used > 0
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.title}
      first
      side={
        solution && (
          <>
            {isKnown && <Program station={station} found={found} />}
            {isKnown && <Known station={station} solution={solution} />}
            <Menu station={station} solution={solution} />
          </>
        )
      }
      action={solution && <TheAction solution={solution} found={isKnown ? found : []} />}
    >
      {solution && <HowWell station={station} solution={solution} found={found} />}
      {isKnown && <ToTurn station={station} found={turns} solution={solution} />}
    </CorrectFrame>
  )
}

/** Turned bolts are recorded; where there is none to turn, the next measurement is what helps. */
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
  const sighted = sightedAt(station)
  if (isOnlyEntered(sighted)) {
    if (sighted.kind === 'set-aside' || sighted.kind === 'computing')
      return <Sentence strong>{noneCounts(sighted)}</Sentence>
    const told = byLevels(solution, station, p.found)
    return told ? (
      <ByLevelsPart station={station} told={told} />
    ) : (
      <>
        <Sentence strong>{noneCounts(sighted)}</Sentence>
        <Text>{CORRECT.noSightingsWhy}</Text>
        <RowButton label={MORE_WAYS.search} onPress={() => go('sight', 'search')} />
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
  // What is allowed stands beside the figure already.
  const isOnlyLoss = firstWhyNot(solution)?.kind === 'loss'
  return (
    <>
      <LossHead station={station} solution={solution} />
      {!isOnlyLoss && <Text quiet>{verdictWords(solution)}</Text>}
      <FeedInUse station={station} />
    </>
  )
}

/** What this place is for. */
function ToTurn({ station, found, solution }: { station: StationRecord; found: readonly Found[]; solution: Solution }) {
  const { mount, site } = station
  const { feed } = solution
  const open = openNames(solution, mount)
  const drawing = useMemo(
    () => ({ kind: mount.kind, isSouth: site.latDeg < 0, moves: drawnMoves(found, feed, lengthUnit()) }),
    [mount.kind, site.latDeg, found, feed],
  )
  return (
    <section class="correct-part" aria-label={CORRECT.toTurn}>
      <MountPlot drawing={drawing} />
      {found.length === 0 ? (
        <Text>{nothingWords(open)}</Text>
      ) : (
        <p class="spanner">
          <strong>Caution:</strong> {DRAWN.caution}
        </p>
      )}
      <RowButton label={BOLTS.way} onPress={() => go('correct', 'bolts')} />
    </section>
  )
}

/** Numbers that are known well enough to be typed in, and the way to all of them, ready to copy. */
function Program({ station, found }: { station: StationRecord; found: readonly Found[] }) {
  const numbers = found.filter(f => f.group === 'numbers' && f.state === 'settled' && f.isSure)
  return (
    <section class="correct-part" aria-label={CORRECT.program}>
      <h2 class="correct-head">{CORRECT.program}</h2>
      {numbers.length === 0 ? (
        <Text>{CORRECT.noNumbers}</Text>
      ) : (
        <Rows>
          {numbers.map(f => (
            <Row key={f.key} label={shortName(f.key.split(' ')[0]!, station.mount, f.what)}>
              {f.value}
            </Row>
          ))}
        </Rows>
      )}
      <RowButton label={CORRECT.software} onPress={() => go('correct', 'software')} />
    </section>
  )
}

function Known({ station, solution }: { station: StationRecord; solution: Solution }) {
  const land = landscape.value
  return (
    <section class="correct-part" aria-label={CORRECT.howKnown}>
      <h2 class="correct-head">{CORRECT.howKnown}</h2>
      {land && <KnownBars station={station} solution={solution} land={land} />}
      {land && <Text quiet>{madeOf(land.made)}</Text>}
      <RowButton label={CORRECT.every} onPress={() => go('correct', 'known')} />
    </section>
  )
}

function Menu({ station, solution }: { station: StationRecord; solution: Solution }) {
  const dismissed = dismissedAt(station)
  const suspected = solution.suspects.filter(s => !isDismissed(s, dismissed)).length
  const { used, outliers } = solution.fit
  return (
    <nav aria-label="Of this solution">
      <RowButton label={CORRECT.left} value={leftValue(used, outliers)} onPress={() => go('correct', 'left')} />
      <RowButton
        label={CORRECT.suspects}
        value={wrongValue(suspected, solution.fit)}
        onPress={() => go('correct', 'suspects')}
      />
      <RowButton label={CORRECT.next} onPress={() => go('correct', 'next')} />
      <RowButton label={WAYS.moved} onPress={() => go('correct', 'moved')} />
      <RowButton label={CORRECT.sky} onPress={() => go('correct', 'sky')} />
      <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
      <RowButton label={WAYS.feed} onPress={() => go('correct', 'feed')} />
      <RowButton label={MORE_WAYS.report} onPress={() => go('correct', 'report')} />
      <HelpLine>
        {[...LOSS.help, ...CORRECT.help].map(text => (
          <p key={text}>{text}</p>
        ))}
      </HelpLine>
    </nav>
  )
}
