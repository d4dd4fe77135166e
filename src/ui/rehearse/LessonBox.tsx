/** What comes next in a first rehearsal, under the band of every screen: a step of the guided alignment, and what is to be done for it. */
import { signal } from '@preact/signals'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Lesson } from '../../core/rehearse/lesson.ts'
import { remember, remembered } from '../../state/memory.ts'
import { walkThrough } from '../../state/walkthrough.ts'
import { guidedBy } from '../kit/guided.ts'
import { Notice } from '../kit/Notice.tsx'
import { go, route } from '../kit/navigation.ts'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { askWords, LESSON } from './lessonwords.ts'
import { isSheetOpen } from './open.ts'

const KEY = 'moonplumb.walk-through'
/** The person has left the walk-through: it stays hidden. */
const isLeft = signal(remembered(KEY) === 'left')
/** Folded to its heading: with the sheet open a form has little room. */
const isFolded = signal(false)

export function LessonBox({ station }: { station: StationRecord }) {
  // The truth is no place to be led from.
  if (isLeft.value || route.value[1] === 'rehearse') return null
  const lesson = walkThrough(station, isSheetOpen.value)
  if (lesson === null) return null
  const { step, steps, ask } = lesson
  const n = steps.findIndex(s => s.id === step)
  return (
    <Notice state="next" word={step === null ? LESSON.end : LESSON.at(n + 1, steps.length, STEP_NAMES[step])}>
      <Ticks lesson={lesson} />
      <div class="lesson-buttons">
        {step === null ? (
          <button type="button" onClick={() => go('book', 'rehearse', 'end')}>
            {LESSON.truth}
          </button>
        ) : (
          ask.do !== 'open' &&
          !isAt(step) && (
            <button type="button" onClick={() => go('align', step)}>
              {LESSON.open(STEP_NAMES[step])}
            </button>
          )
        )}
        <button
          type="button"
          aria-expanded={!isFolded.value}
          aria-label={isFolded.value ? LESSON.unfold : LESSON.fold}
          onClick={() => {
            isFolded.value = !isFolded.value
          }}
        >
          {isFolded.value ? LESSON.unfoldShort : LESSON.foldShort}
        </button>
        <button
          type="button"
          aria-label={LESSON.leave}
          onClick={() => {
            isLeft.value = true
            remember(KEY, 'left')
          }}
        >
          {LESSON.leaveShort}
        </button>
      </div>
      {!isFolded.value && <p class="lesson-ask">{lesson.isStale ? LESSON.stale : askWords(station, ask)}</p>}
    </Notice>
  )
}

/** On the step's own screen, or led from it. */
const isAt = (step: string): boolean =>
  (route.value[0] === 'align' && route.value[1] === step) || guidedBy.value === step

/** A square for each step, filled when it is done; the present one framed. */
function Ticks({ lesson: { step, steps } }: { lesson: Lesson }) {
  const taken = steps.filter(s => s.isTaken).length
  return (
    <svg
      class="lesson-ticks"
      viewBox={`0 0 ${steps.length * 20} 20`}
      role="img"
      aria-label={LESSON.taken(taken, steps.length)}
    >
      {steps.map(({ id, isTaken }, k) => (
        <g key={id} transform={`translate(${20 * k} 0)`}>
          <rect class={id === step ? 'lesson-now' : 'lesson-box'} x="2" y="2" width="14" height="14" />
          {isTaken && <path class="lesson-tick" d="M4.5 9.5l3 3.5l6-8" />}
        </g>
      ))}
    </svg>
  )
}
