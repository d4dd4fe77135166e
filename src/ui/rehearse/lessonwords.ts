/** Words of the walk-through: one thing at a time, and where to press. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { LessonTask } from '../../core/rehearse/lesson.ts'
import { utcFull } from '../kit/format.ts'
import { axisName } from '../kit/phrases.ts'
import { typedReading } from '../kit/readings.ts'
import { MOMENT_WORDS, placeWord, TABS } from './words.ts'

export const LESSON = {
  at: (n: number, of: number, name: string) => `Walk-through, ${n} of ${of}: ${name}`,
  end: 'Walk-through: the end',
  stale: 'Looking at your latest records…',
  /** Ticks of the steps, for those who do not see them. */
  taken: (n: number, of: number) => `${n} of ${of} steps done`,
  open: (name: string) => `Open: ${name}`,
  truth: 'See the truth',
  fold: 'Hide what the walk-through says',
  foldShort: 'Hide',
  unfold: 'Show what the walk-through says',
  unfoldShort: 'Show',
  leave: 'Leave the walk-through',
  leaveShort: 'Leave',
} as const

const BODY = { sun: 'Sun', moon: 'Moon' } as const

export function askWords(station: StationRecord, ask: LessonTask): string {
  const { mount } = station
  const reading = (axis: 'lower' | 'upper', at: number) => `${axisName(mount, axis)} ${typedReading(mount, axis, at)}`
  switch (ask.do) {
    case 'open':
      return 'The usual steps of an alignment, one after the other. First press “Dish at hand”: it holds the buttons that drive the dish, its receiver and its tools.'
    case 'clock':
      return `Open the step, then “Check the clock” and “Type the difference”. “${TABS.time}” in the sheet has the time signal: type by how much the clock at the top is ahead, 0 if they agree.`
    case 'mast':
      return `Open the step, then measure it with a level. “${TABS.measure}” shows it on each side of the mast: tap each reading’s field, then the value for its heading.`
    case 'level':
      return `Open the step, then measure it with a level: two readings, reversed. “${TABS.measure}”, inclinometer on ${placeWord(station, ask.level)}: fill in both readings, and where the axes are from “${TABS.drive}”.`
    case 'mark':
      return ask.again
        ? `Drive the ${axisName(mount, ask.axis)} axis away, let ten minutes go by, come back onto its scribed line (“${TABS.drive}” says when it is on it) and read the mark again.`
        : `“${TABS.drive}” says how far the ${axisName(mount, ask.axis)} axis stands from its scribed line. Drive onto it, open the step and read the mark: the counter as it shows.`
    case 'dish-level':
      return `Drive to ${reading('lower', ask.at.lower)} and ${reading('upper', ask.at.upper)}. Open the step, then “The dish itself, by level”: two readings, reversed, and where both axes are. Gravity then tells what the readouts really say.`
    case 'rim':
      return `Open the step, then “Tape from the rim”, seen from behind. “${TABS.measure}” has the distances by the hour.`
    case 'shadow':
      return `“${TABS.drive}”: drive to the Sun as computed. Open the step and read the noon check: “${TABS.shadow}” shows where the feed’s shadow falls. On a real dish: hands and face out of the focus, and off the Sun as soon as you are done.`
    case 'find':
      return ask.body === 'sun'
        ? `“${TABS.drive}”: drive to the Sun as computed. Then “${TABS.hear}”: this mount stands wrong, so the Sun may not be there. Hold the buttons, a few degrees at a time, until the level rises by several dB. Not found? “${TABS.time}”, an hour on, and again.`
        : `“${TABS.drive}”: drive to the Moon as computed. “${TABS.hear}” says when your own echoes are heard: hold the buttons, a few degrees at a time, until they are. Not found? “${TABS.time}”, an hour on, and again.`
    case 'peak':
      return `You hear the ${BODY[ask.body]}. Drive to either side until ${ask.body === 'sun' ? 'the level falls' : 'the echoes fall'} by the same, and stop in the middle; both axes. Then record it: Sight, ${BODY[ask.body]}, “On target: mark time”, both readings from “${TABS.drive}”, method strongest signal, uncertainty ± ${ask.sigmaDeg}: the middle of two equal levels is that good.`
    case 'wait':
      if (ask.best)
        return `Too much is still lost. What brings most is the ${BODY[ask.best.body]} at ${utcFull(ask.best.utcMs)}. “${TABS.time}”: “${MOMENT_WORDS[ask.until]}”, until then.`
      if (ask.isBeyond)
        return `What is up is beyond an axis’s limit, or too near it to drive past. “${TABS.time}”: “${MOMENT_WORDS.hour}”.`
      return ask.until === 'hour'
        ? `One place in the sky is not enough. “${TABS.time}”: “${MOMENT_WORDS.hour}”, twice, and then the next sighting.`
        : `Nothing to be sighted is up now. “${TABS.time}”: “${MOMENT_WORDS[ask.until]}”.`
    case 'suspect':
      return 'Something does not fit. Open the step, then “What looks wrong”: read why, and accept it or put it aside.'
    case 'aside':
      return 'Too many sightings are set aside. Open the step and look at them: one that was typed wrong can be corrected.'
    case 'truth':
      return 'Good: within what you allow. Bolts, a check on another day and the program come next on a real mount. See how near you came.'
  }
}
