/** The budget of a program: its limits, how near it must come, how often it moves; and what the first move needs. */
import type { AxisBudget } from '../../core/carry/budget.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { carryBudget } from '../../state/carry.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { FIRST_MOVE } from '../kit/firstmove.ts'
import { degrees, fixed, NBSP } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { AxisRule, BigNumber, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { capital } from '../kit/phrases.ts'
import {
  alarms,
  BUDGET,
  bandNote,
  driveNote,
  programReadingWords,
  secondsWords,
  sideNote,
  softNote,
} from './budgetwords.ts'
import { CARRY } from './words.ts'

export function CarryBudget({ station }: { station: StationRecord }) {
  const told = carryBudget.value
  const budget = told?.feed === feedHere(station) ? told : null
  return (
    <CorrectFrame
      station={station}
      title={BUDGET.title}
      otherBack={<SecondaryButton onPress={() => go('correct', 'software')}>{CARRY.title}</SecondaryButton>}
      side={
        <section class="correct-part" aria-label={BUDGET.first}>
          <h2 class="correct-head">{BUDGET.first}</h2>
          <ul class="carry-list">
            {BUDGET.firstNeeds.map(text => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </section>
      }
    >
      <Caution {...FIRST_MOVE} />
      <FeedInUse station={station} />
      {isOnlyEntered(sightedAt(station)) && <Sentence strong>{BUDGET.asEntered}</Sentence>}
      {budget === null ? (
        <Text>{SOLVING.computing}</Text>
      ) : (
        <>
          <BigNumber label={BUDGET.every} value={secondsWords(budget.everyS)} size={2} beside={BUDGET.everyBeside} />
          <Rows>
            <Row label={BUDGET.lead} note={BUDGET.leadNote}>
              {secondsWords(budget.leadS)}
            </Row>
            <Row label={BUDGET.halfStep}>{degrees(budget.halfStepDeg, 2, 'decimal')}</Row>
            <Row label={BUDGET.cut}>{`${fixed(budget.cutHours, 1)} of ${fixed(budget.moonHours, 0)}${NBSP}h`}</Row>
          </Rows>
          <HelpLine word={BUDGET.sharesHead}>
            <p>{BUDGET.shares(degrees(budget.toleranceDeg, 2, 'decimal'))}</p>
          </HelpLine>
          {AXES.map(axis => (
            <AxisRows key={axis} axis={axis} b={budget.axes[axis]} />
          ))}
        </>
      )}
    </CorrectFrame>
  )
}

function AxisRows({ axis, b }: { axis: Axis; b: AxisBudget }) {
  const isMeasured = b.drivePerMin !== null
  const pairs = [
    { label: BUDGET.softMin, value: programReadingWords(b, b.soft.min), note: softNote(b, 'min') },
    { label: BUDGET.softMax, value: programReadingWords(b, b.soft.max), note: softNote(b, 'max') },
    { label: BUDGET.band, value: `±${NBSP}${programReadingWords(b, b.deadBand.half, true)}`, note: bandNote(b) },
    { label: BUDGET.overrun, value: b.overrun === null ? BUDGET.notMeasured : programReadingWords(b, b.overrun, true) },
    {
      label: BUDGET.fastest,
      value: `${programReadingWords(b, b.fastestPerMin, true)} a${NBSP}min`,
      note: driveNote(b),
    },
  ]
  return (
    <section class="correct-part correct-ruled" aria-label={capital(b.name)}>
      <h2 class="correct-head">
        {capital(b.name)}
        <AxisRule axis={axis} />
      </h2>
      <dl class="carry-pairs">
        {pairs.map(({ label, value }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <Rows>
        <Row label={BUDGET.side} note={sideNote(b)}>
          {(b.arriveFrom ?? b.goes) === '+' ? BUDGET.fromBelow : BUDGET.fromAbove}
        </Row>
      </Rows>
      {alarms(b).map(text => (
        <Notice key={text} state="look-out">
          {text}
        </Notice>
      ))}
      <HelpLine word={BUDGET.from}>
        {pairs.map(
          ({ label, note }) =>
            note && (
              <p key={label}>
                <strong>{label}</strong>: {note}
              </p>
            ),
        )}
      </HelpLine>
      {!isMeasured && <RowButton label={BUDGET.measure} onPress={() => go('sight', 'speed', axis)} />}
    </section>
  )
}
