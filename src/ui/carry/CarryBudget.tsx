/** The budget of a program: its limits, how near it must come, how often it moves; and what the first move needs. */
import type { AxisBudget } from '../../core/carry/budget.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { carryBudget } from '../../state/carry.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { FIRST_MOVE } from '../kit/firstmove.ts'
import { degrees, fixed, NBSP } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { AxisRule, BigNumber, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { capital } from '../kit/phrases.ts'
import { BUDGET, bandNote, driveNote, readingWords, secondsWords, sideNote, softNote } from './budgetwords.ts'
import { hasNothingToTell } from './CarryNothing.tsx'
import { CARRY } from './words.ts'

export function CarryBudget({ station }: { station: StationRecord }) {
  const told = carryBudget.value
  const budget = told?.feed === feedHere(station) ? told : null
  return (
    <CorrectFrame
      station={station}
      title={BUDGET.title}
      side={
        <>
          <section class="correct-part" aria-label={BUDGET.first}>
            <h2 class="correct-head">{BUDGET.first}</h2>
            <ul class="carry-list">
              {BUDGET.firstNeeds.map(text => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </section>
          <ButtonRow>
            <SecondaryButton onPress={() => go('correct', 'software')}>{CARRY.title}</SecondaryButton>
          </ButtonRow>
        </>
      }
    >
      <Caution {...FIRST_MOVE} />
      <FeedInUse station={station} />
      {hasNothingToTell() && <Sentence strong>{BUDGET.asEntered}</Sentence>}
      {budget === null ? (
        <Text>{SOLVING.computing}</Text>
      ) : (
        <>
          <BigNumber label={BUDGET.every} value={secondsWords(budget.everyS)} size={2} beside={BUDGET.everyBeside} />
          <Rows>
            <Row label={BUDGET.lead} note={BUDGET.leadNote}>
              {secondsWords(budget.leadS)}
            </Row>
            <Row label={BUDGET.halfStep} note={BUDGET.shares(degrees(budget.toleranceDeg, 2, 'decimal'))}>
              {degrees(budget.halfStepDeg, 2, 'decimal')}
            </Row>
            <Row label={BUDGET.cut}>{`${fixed(budget.cutHours, 1)} of ${fixed(budget.moonHours, 0)}${NBSP}h`}</Row>
          </Rows>
          {(['lower', 'upper'] as const).map(axis => (
            <AxisRows key={axis} axis={axis} b={budget.axes[axis]} />
          ))}
        </>
      )}
    </CorrectFrame>
  )
}

function AxisRows({ axis, b }: { axis: Axis; b: AxisBudget }) {
  const isMeasured = b.drivePerMin !== null
  return (
    <section class="correct-part correct-ruled" aria-label={capital(b.name)}>
      <h2 class="correct-head">
        {capital(b.name)}
        <AxisRule axis={axis} />
      </h2>
      <div class="carry-rows">
        <Rows>
          <Row label={BUDGET.softMin} note={softNote(b, 'min')}>
            {readingWords(b, b.soft.min)}
          </Row>
          <Row label={BUDGET.softMax} note={softNote(b, 'max')}>
            {readingWords(b, b.soft.max)}
          </Row>
          <Row label={BUDGET.band} note={bandNote(b)}>
            {`±${NBSP}${readingWords(b, b.deadBand.half, true)}`}
          </Row>
          <Row label={BUDGET.side} note={sideNote(b)}>
            {(b.arriveFrom ?? b.goes) === '+' ? BUDGET.fromBelow : BUDGET.fromAbove}
          </Row>
          <Row label={BUDGET.overrun}>{b.overrun === null ? BUDGET.notMeasured : readingWords(b, b.overrun, true)}</Row>
          <Row label={BUDGET.fastest} note={driveNote(b)}>
            {`${readingWords(b, b.fastestPerMin, true)} a${NBSP}min`}
          </Row>
        </Rows>
      </div>
      {!isMeasured && <RowButton label={BUDGET.measure} onPress={() => go('sight', 'speed', axis)} />}
    </section>
  )
}
