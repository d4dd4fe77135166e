/** One page with just what the program can take: the numbers to type, the formulas, what must be assumed, what remains and where. */
import { useMemo, useState } from 'preact/hooks'
import type { CarryPage as Page } from '../../core/carry/page.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { answer } from '../../state/answer.ts'
import { newId } from '../../state/book.ts'
import { carryPage, keepCarried, noteCarried } from '../../state/carry.ts'
import { bestWay, fileName, parcelOf } from '../../state/export.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { HAND_ON } from '../kit/backupwords.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FIRST_MOVE } from '../kit/firstmove.ts'
import { countOf, decibels, degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Refused, useKeep } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { AxisRule, BigNumber, Name, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { OutgoingParts, useOutgoing } from '../kit/Outgoing.tsx'
import { capital } from '../kit/phrases.ts'
import { CarryNothing } from './CarryNothing.tsx'
import { pageText } from './pagetext.ts'
import {
  assumptions,
  CARRY,
  leavesBeside,
  lostSentence,
  numberLabel,
  numberUnit,
  pageDates,
  seenNumber,
  stateSentence,
  wishWords,
  worstSentence,
} from './words.ts'

export function CarryPageScreen({ station }: { station: StationRecord }) {
  const page = carryPage.value
  const { solution } = answer.value
  const [id] = useState(newId)
  const { keep, busy, refused } = useKeep([], id)
  if (isOnlyEntered(sightedAt(station))) return <CarryNothing station={station} title={CARRY.pageTitle} />
  return (
    <CorrectFrame
      station={station}
      title={CARRY.pageTitle}
      action={
        <Action
          notNow={page === null || solution?.feed !== page.feed.id || busy ? SOLVING.computing : null}
          onPress={() => {
            if (page === null || solution === null) return
            noteCarried(station, page)
            void keep(
              () => keepCarried(station, solution, id),
              () => go('correct', 'software', 'check'),
            )
          }}
        >
          {CARRY.typedIn}
        </Action>
      }
      side={page && <Beside page={page} />}
      otherBack={<SecondaryButton onPress={() => go('correct', 'software')}>{CARRY.toPick}</SecondaryButton>}
    >
      <Refused why={refused} />
      {page === null ? <Text>{SOLVING.computing}</Text> : <Numbers page={page} />}
    </CorrectFrame>
  )
}

function Numbers({ page }: { page: Page }) {
  const { remains } = page
  const mount = page.numbers.filter(n => n.axis === null)
  return (
    <>
      <Sentence strong>{wishWords(page.wish)}</Sentence>
      <Text quiet>
        <Name>{page.station}</Name>, <Name>{page.feed.name}</Name>. {pageDates(page)}
      </Text>
      <BigNumber
        label={CARRY.leaves}
        value={degrees(remains.p95Deg, 2, 'decimal')}
        size={2}
        beside={leavesBeside(remains, page.allowedLossDb)}
      />
      <Text>{stateSentence(remains, page.allowedLossDb)}</Text>
      <section class="correct-part correct-ruled" aria-label={CARRY.mount}>
        <h2 class="correct-head">{CARRY.mount}</h2>
        {mount.length === 0 ? <Text>{CARRY.nothingOfMount}</Text> : <Coefficients page={page} numbers={mount} />}
      </section>
      {AXES.map(axis => (
        <AxisPart key={axis} page={page} axis={axis} />
      ))}
      <Text quiet>{CARRY.formulasKey}</Text>
      {(page.wish.law === 'cubic' || page.wish.law === 'quadratic') && <Text quiet>{CARRY.curveBack}</Text>}
      <Text>{CARRY.whole}</Text>
    </>
  )
}

function Coefficients({ page, numbers }: { page: Page; numbers: Page['numbers'] }) {
  return (
    <div class="carry-rows">
      <Rows>
        {numbers.map(n => (
          <Row key={n.id} label={numberLabel(page, n)}>
            {seenNumber(n.text)}
            {numberUnit(page, n) === '°' ? '°' : <span class="carry-unit"> {numberUnit(page, n)}</span>}
          </Row>
        ))}
      </Rows>
    </div>
  )
}

function AxisPart({ page, axis }: { page: Page; axis: Axis }) {
  const { name, form } = page.axes[axis]
  const f = page.formulas[axis]
  const numbers = page.numbers.filter(n => n.axis === axis)
  const isReading = form.form === 'poly' && form.way === 'reading'
  const forth = [
    { label: CARRY.toCommand, text: f.command },
    ...(f.add === null ? [] : [{ label: CARRY.add, text: f.add }]),
  ]
  const back = [
    { label: CARRY.fromReading, text: f.reading },
    ...(f.subtract === null ? [] : [{ label: CARRY.subtract, text: f.subtract }]),
  ]
  return (
    <section class="correct-part correct-ruled" aria-label={capital(name)}>
      <h2 class="correct-head">
        {capital(name)}
        <AxisRule axis={axis} />
      </h2>
      {numbers.length > 0 && <Coefficients page={page} numbers={numbers} />}
      {form.form === 'table' && (
        <RowButton
          label={CARRY.rows}
          value={countOf(form.rows.length, 'row')}
          onPress={() => go('correct', 'software', axis)}
        />
      )}
      <Formulas said={isReading ? back : forth} />
      <HelpLine word={isReading ? CARRY.otherForth : CARRY.otherBack}>
        <Formulas said={isReading ? forth : back} />
      </HelpLine>
    </section>
  )
}

const Formulas = ({ said }: { said: readonly { label: string; text: string }[] }) => (
  <dl class="carry-formulas">
    {said.map(({ label, text }) => (
      <div key={label}>
        <dt>{label}</dt>
        <dd>{seenNumber(text)}</dd>
      </div>
    ))}
  </dl>
)

function Beside({ page }: { page: Page }) {
  const { remains } = page
  const assumed = assumptions(page)
  const told = [remains.rmsDeg, remains.worstDeg, page.toleranceDeg].map(deg => degrees(deg, 2, 'decimal')) as [
    string,
    string,
    string,
  ]
  const parcel = useMemo(
    () => parcelOf(fileName(page.station, 'program', instantMs(page.madeUtc)), pageText(page)),
    [page],
  )
  const out = useOutgoing(parcel, page.madeUtc)
  return (
    <>
      <Caution {...FIRST_MOVE} />
      <HelpLine word={`${CARRY.assumes}, ${countOf(assumed.length, 'thing')}`}>
        <ul class="carry-list">
          {assumed.map(text => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </HelpLine>
      <section class="correct-part" aria-label={CARRY.remains}>
        <HelpLine word={CARRY.remainsTold(...told)}>
          <Rows>
            <Row label="Usual (rms)">{degrees(remains.rmsDeg, 2, 'decimal')}</Row>
            <Row label="Worst" note={worstSentence(remains)}>
              {degrees(remains.worstDeg, 2, 'decimal')}
            </Row>
            <Row label="You allow" note={decibels(page.allowedLossDb)}>
              {degrees(page.toleranceDeg, 2, 'decimal')}
            </Row>
          </Rows>
        </HelpLine>
        {remains.lostHours > 0 && <Text>{lostSentence(remains.lostHours)}</Text>}
      </section>
      <ButtonRow>
        <SecondaryButton onPress={() => void out.hand(bestWay(parcel))}>{HAND_ON[bestWay(parcel)]}</SecondaryButton>
      </ButtonRow>
      <OutgoingParts out={out} />
    </>
  )
}
