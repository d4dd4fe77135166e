/** Words of the walk-through: one thing at a time, naming the key to press. */
import type { Lesson } from '../../core/rehearse/lesson.ts'

export const LESSON = {
  step: (n: number, of: number) => `Walk-through, ${n} of ${of}`,
  leave: 'Leave the walk-through',
  leaveShort: 'Leave',
} as const

export const LESSON_WORDS: Readonly<Record<Lesson, string>> = {
  open: 'Press “Dish at hand”. It holds the buttons that drive the dish, its receiver and its tools.',
  find: 'Open “Drive”: drive to the Sun as computed. Then “Receiver”: this mount is out of true, so the Sun may not be there. Hold the buttons, some degrees at a time, until the level rises by several dB.',
  peak: 'You hear the Sun. Drive to either side until the level falls by the same, and stop in the middle; both axes.',
  write:
    'That is the peak. Record it: Sight, Sun, “On target: mark time”. Tap each reading and fill it in from “Drive”. Method: strongest signal.',
  shadow:
    'Stay on the Sun and look at “Shadow”. Record it as a second sighting, method: feed’s shadow. Where shadow and signal do not agree, the feed is off its place. On a real dish: hands and face out of the focus, and off the Sun as soon as you are done.',
  later:
    'One place in the sky is not enough. “Time”: go an hour on, twice, or to the Sun’s noon. Drive to the Sun as computed: it comes nearer each time. Peak and record it again.',
  moon: 'The Sun stays at one declination. “Time”: go to the Moon well up, and on by the hour until it is in reach. Peak on your own echoes and record the Moon, twice, some hours apart.',
  more: 'Now says what is worth doing next, and “Align” the usual steps in their order. Go on until the loss is within what you allow.',
  done: 'Good: within what you allow. “Time”: finish, and see the truth.',
}
