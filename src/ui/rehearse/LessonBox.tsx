/** What comes next in a first rehearsal, under the band of every screen. */
import { computed, signal } from '@preact/signals'
import { LESSONS, type Lesson, lessonOf } from '../../core/rehearse/lesson.ts'
import { offsetDeg } from '../../core/rehearse/mount.ts'
import { heightDeg } from '../../core/rehearse/turning.ts'
import { answer } from '../../state/answer.ts'
import { fieldBook } from '../../state/book.ts'
import { remember, remembered } from '../../state/memory.ts'
import { now } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { Notice } from '../kit/Notice.tsx'
import { route } from '../kit/navigation.ts'
import { LESSON, LESSON_WORDS } from './lessonwords.ts'
import { isOpen } from './open.ts'

const KEY = 'moonplumb.walk-through'
/** The person has left the walk-through: it stays hidden. */
const isLeft = signal(remembered(KEY) === 'left')

/** The beam's distance from the Sun, in beamwidths. */
function sunOff(): number | null {
  const [world, hands] = [rehearsal.world.value, rehearsal.hands.value]
  if (world === null || hands === null) return null
  const ms = world.trueMs(now.value)
  const sun = world.bodyAt('sun', ms, 'radio')
  if (heightDeg(sun) < 0) return null
  const { lowerDeg, upperDeg } = world.angles(hands, ms)
  return Math.hypot(...offsetDeg(world.mountAt(ms).poseAt(lowerDeg, upperDeg, 'beam'), sun)) / world.receiver.hpbwDeg
}

const lesson = computed((): Lesson | null => {
  const station = fieldBook.station.value
  if (isLeft.value || station?.rehearsalSetup?.difficulty !== 'beginner') return null
  return lessonOf({
    sightings: station.sightings,
    isOpen: isOpen.value,
    sunOff: station.sightings.length === 0 ? sunOff() : null,
    isWithin: answer.value.solution?.sky.within === true,
  })
})

export function LessonBox() {
  const at = lesson.value
  // No box beside the truth at the end, nor where another rehearsal begins.
  if (at === null || route.value[1] === 'rehearse') return null
  return (
    <Notice state="next" word={LESSON.step(LESSONS.indexOf(at) + 1, LESSONS.length)}>
      <div class="lesson">
        <p>{LESSON_WORDS[at]}</p>
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
    </Notice>
  )
}
