/** One step of the alignment: where it stands, its picture, why, how, what this dish needs, and the way into the screen that does it. */
import { useState } from 'preact/hooks'
import type { AlignmentJson, AlignmentStepJson } from '../../core/alignment/json.ts'
import type { AlignmentStep as StepId } from '../../core/records/alignment.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { alignmentNow, markCarriedOver, setByHand, takeUp } from '../../state/alignment.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { isStep, type UndoStep } from '../../state/steps.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { GUESS_COSTS, guessName } from '../kit/guesscosts.ts'
import { guideFrom } from '../kit/guided.ts'
import { Refused, useKeep } from '../kit/keep.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Row, RowButton, Rows, Sentence, Table, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { capital, listed } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { SunCautions } from '../kit/shadow/parts.tsx'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { cautionOf } from './cautions.ts'
import { StepPlot } from './StepPlot.tsx'
import { alignmentValueText, insideSays, limitRows, needWords, shareSays, stateSays, valueName } from './says.ts'
import { guessesOf, mainWay, otherWays, type WayThere } from './ways.ts'
import { ALIGN, howWords, whyWords } from './words.ts'

/** Into the screen that does it; a kept record leads back here. */
const follow = (step: StepId, { to }: WayThere): void => {
  guideFrom(step)
  go(...to)
}

export function AlignStep({ station, id }: { station: StationRecord; id: StepId }) {
  const { value: known, stale, failed, station: of } = alignmentNow.value
  const value = of === station.id && known?.feed === feedHere(station) ? known : null
  const step = value?.steps.find(s => s.id === id) ?? null
  const way = step && mainWay(station, step, feedHere(station))
  return (
    <PlaceFrame
      present="now"
      title={STEP_NAMES[id]}
      {...(way && { action: <Action onPress={() => follow(id, way)}>{way.word}</Action> })}
      side={
        <>
          <Why station={station} id={id} />
          {step && value && <Needs station={station} step={step} value={value} />}
        </>
      }
    >
      <DemoMark station={station} />
      <UnsavedNotice />
      {failed && <Notice state="stop">{ALIGN.failed}</Notice>}
      <StepPlot station={station} step={id} />
      {step === null ? !failed && <Sentence>{ALIGN.computing}</Sentence> : <Stands station={station} step={step} />}
      {step !== null && stale && <Text quiet>{ALIGN.stale}</Text>}
      {isOfMount(fieldBook.undoAt.value?.step ?? null) && <UndoStrip />}
      {step?.state.kind !== 'not-for' && <StepCaution station={station} id={id} />}
      {step && value && <Word key={id} station={station} step={step} value={value} />}
    </PlaceFrame>
  )
}

/** Steps of undo from a screen that a step leads to; not making or deleting the station itself. */
const isOfMount = (step: UndoStep | null): boolean =>
  step !== null && (step.place !== 'book' || isStep(step, 'change-station'))

/** State, values, what is wanted. */
function Stands({ station, step }: { station: StationRecord; step: AlignmentStepJson }) {
  const wanted = step.needs.map(n => needWords(station, n))
  return (
    <>
      <Sentence strong>{stateSays(station, step)}</Sentence>
      {wanted.length > 0 && <Text>{ALIGN.wanted(listed(wanted))}</Text>}
      {step.values.length > 0 && (
        <Rows>
          {step.values.map(v => {
            const inside = insideSays(station, v)
            const label = valueName(station.mount, v)
            return (
              <Row key={label} label={label} {...(inside !== null && { note: capital(inside) })}>
                {alignmentValueText(station, v)}
              </Row>
            )
          })}
        </Rows>
      )}
      <Guesses station={station} id={step.id} />
    </>
  )
}

/** What a missing answer costs. */
function Guesses({ station, id }: { station: StationRecord; id: StepId }) {
  const costs = [...new Set(guessesOf(station, id).map(path => GUESS_COSTS[guessName(path)]))]
  if (costs.length === 0) return null
  return (
    <Notice state="look-out" word={ALIGN.guess}>
      {costs.map(text => (
        <p key={text}>{text}</p>
      ))}
    </Notice>
  )
}

function Why({ station, id }: { station: StationRecord; id: StepId }) {
  return (
    <section class="book-section">
      <Text>{whyWords(station.mount, id)}</Text>
      <ol class="align-how">
        {howWords(station.mount, id).map(text => (
          <li key={text}>{text}</li>
        ))}
      </ol>
    </section>
  )
}

function Needs({ station, step, value }: { station: StationRecord; step: AlignmentStepJson; value: AlignmentJson }) {
  const rows = limitRows(station, step)
  if (rows.length === 0) return null
  return (
    <section class="book-section">
      <h2>{ALIGN.bears}</h2>
      <Table rows={rows} />
      <Text quiet>{shareSays(value)}</Text>
    </section>
  )
}

function StepCaution({ station, id }: { station: StationRecord; id: StepId }) {
  const caution = cautionOf(id)
  if (caution === null) return null
  if (caution === 'dish') return <DishCautions station={station} reach />
  if (caution === 'sun') return <SunCautions station={station} />
  return <Caution {...caution} />
}

/** What the person notes about it, and the other screens that help. */
function Word({ station, step, value }: { station: StationRecord; step: AlignmentStepJson; value: AlignmentJson }) {
  const { id, state } = step
  const [own, setOwn] = useState(newId)
  const { keep, refused, busy } = useKeep([], own)
  const keepAct = (write: Parameters<typeof keep>[0]) => void keep(write, () => setOwn(newId()))
  return (
    <>
      <Refused why={refused} />
      <div>
        {otherWays(station, step).map(way => (
          <RowButton key={way.word} label={way.word} onPress={() => follow(id, way)} />
        ))}
      </div>
      {id === 'heading' && state.kind !== 'done' && state.kind !== 'covered' && (
        <section class="book-section">
          <SecondaryButton disabled={busy} onPress={() => keepAct(() => setByHand(station, own, id))}>
            {ALIGN.setByHand}
          </SecondaryButton>
          <Text quiet>{ALIGN.setNote}</Text>
        </section>
      )}
      {id === 'carry' && (
        <section class="book-section">
          {value.numbers.length === 0 ? (
            <Text quiet>{ALIGN.noNumbers}</Text>
          ) : (
            <>
              <SecondaryButton
                disabled={busy}
                onPress={() => keepAct(() => markCarriedOver(station, own, value.feed, value.numbers, ''))}
              >
                {ALIGN.carriedIt}
              </SecondaryButton>
              <Text quiet>{ALIGN.carriedHint}</Text>
            </>
          )}
        </section>
      )}
      <ButtonRow>
        {state.kind === 'left-out' ? (
          <SecondaryButton disabled={busy} onPress={() => keepAct(() => takeUp(station, id))}>
            {ALIGN.takeUp}
          </SecondaryButton>
        ) : (
          canLeave(state.kind) && (
            <SecondaryButton onPress={() => go('align', id, 'leave')}>{ALIGN.leave}</SecondaryButton>
          )
        )}
        <SecondaryButton onPress={() => go('align')}>{ALIGN.toList}</SecondaryButton>
      </ButtonRow>
    </>
  )
}

/** An open step can be left out. */
const canLeave = (kind: AlignmentStepJson['state']['kind']): boolean =>
  kind === 'not-begun' || kind === 'needs' || kind === 'undone' || kind === 'off' || kind === 'entered'
