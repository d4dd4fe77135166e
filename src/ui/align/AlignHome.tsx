/** The guided alignment: the trade's steps in order, each with its state, the next one large. */
import type { AlignmentStepJson } from '../../core/alignment/json.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { alignmentNow } from '../../state/alignment.ts'
import { fieldBook } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { isStep } from '../../state/steps.ts'
import { Action } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { listed } from '../kit/phrases.ts'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { SITE_CAUTION } from './cautions.ts'
import { needWords, stateSays, stateWord, stepLineSays } from './says.ts'
import { ALIGN, whyWords } from './words.ts'

export function AlignHome({ station }: { station: StationRecord }) {
  const { value: known, stale, failed, station: of } = alignmentNow.value
  // Of the station and the feed that are shown, or not yet.
  const value = of === station.id && known?.feed === feedHere(station) ? known : null
  const next = value?.steps.find(s => s.id === value.next)
  return (
    <PlaceFrame
      present="now"
      title={ALIGN.title}
      {...(next && {
        action: <Action onPress={() => go('align', next.id)}>{ALIGN.open(STEP_NAMES[next.id])}</Action>,
      })}
    >
      <DemoMark station={station} />
      {failed && <Notice state="stop">{ALIGN.failed}</Notice>}
      {value === null ? (
        !failed && <Sentence>{ALIGN.computing}</Sentence>
      ) : next ? (
        <Next station={station} step={next} />
      ) : (
        <Sentence strong>{ALIGN.allDone}</Sentence>
      )}
      <FeedInUse station={station} />
      {value !== null && (
        <section class="align-list" aria-label={ALIGN.steps}>
          {value.steps.map((step, k) => (
            <StepRow key={step.id} station={station} step={step} n={k + 1} isNext={step.id === value.next} />
          ))}
        </section>
      )}
      {value !== null && stale && <Text quiet>{ALIGN.stale}</Text>}
      <UndoStrip of="align" />
      {isStep(fieldBook.undoAt.value?.step ?? null, 'make-station') && <UndoStrip of="book" />}
      <Text quiet>{ALIGN.anyOrder}</Text>
      <Caution {...SITE_CAUTION} />
    </PlaceFrame>
  )
}

/** The next one, large. */
function Next({ station, step }: { station: StationRecord; step: AlignmentStepJson }) {
  const wanted = listed(step.needs.map(n => needWords(station, n)))
  return (
    <div class="notice notice-next align-next">
      <span class="notice-word">{ALIGN.next}</span>
      <strong>{STEP_NAMES[step.id]}</strong>
      <p>{whyWords(station.mount, step.id)}</p>
      {(step.state.kind === 'undone' || step.state.kind === 'off') && <p>{stateSays(station, step)}</p>}
      {wanted !== '' && <p>{ALIGN.wanted(wanted)}</p>}
    </div>
  )
}

function StepRow(p: { station: StationRecord; step: AlignmentStepJson; n: number; isNext: boolean }) {
  const { station, step, n, isNext } = p
  const said = stepLineSays(station, step)
  return (
    <button
      type="button"
      class="row-button align-row"
      aria-current={isNext ? 'step' : undefined}
      onClick={() => go('align', step.id)}
    >
      <span class="align-name">
        <span class="align-n">{n}</span>
        {STEP_NAMES[step.id]}
      </span>
      <strong>{stateWord(step)}</strong>
      {said !== '' && <small class="align-said">{said}</small>}
    </button>
  )
}
