/** What is worth doing next, in words: what, when, what it brings and how long it takes; and the screen that does it. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { WorthJson, WorthStepJson } from '../../core/plan/worthjson.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import type { WhyNot } from '../../core/records/solution.ts'
import { DAY_MS, MINUTE_MS } from '../../core/units.ts'
import { decibels, NBSP, roughDegrees, safeText, utcAndLocal, utcDate } from './format.ts'
import { ANYWHERE_DEG } from './loss.ts'
import { axisName, keptReading, placeWords } from './phrases.ts'
import { SUSPECT_WORDS } from './suspectwords.ts'

/** A time this near is "now". */
const NOW_MS = 15 * MINUTE_MS

const bodyWord = (target: 'sun' | 'moon'): string => (target === 'sun' ? 'Sun' : 'Moon')

/** "Sun by feed's shadow", "Measure the tilt axis with a level" */
export function worthHead(mount: MountRecord, step: WorthStepJson): string {
  switch (step.kind) {
    case 'sighting':
      return `${bodyWord(step.target)} by ${METHOD_WORDS[step.method]}`
    case 'mark':
      return `Read the mark “${safeText(step.mark)}” again`
    case 'clock':
      return 'Check the clock'
    case 'level':
      switch (step.what) {
        case 'mast-lean':
          return 'Measure the mast’s lean with a level'
        case 'dish-elevation':
          return 'Measure the dish’s elevation with a level'
        default:
          return `Measure the ${axisName(mount, step.what === 'lower-axis-elevation' ? 'lower' : 'upper')} axis with a level`
      }
  }
}

/** When, and where to point: "today 14:30 UTC, low in the south-east". Null where any time does. */
export function worthWhere(mount: MountRecord, step: WorthStepJson, now: number): string | null {
  if (step.kind === 'sighting') {
    const ms = instantMs(step.utc)
    const day =
      utcDate(ms) === utcDate(now) ? 'today' : utcDate(ms) === utcDate(now + DAY_MS) ? 'tomorrow' : utcDate(ms)
    const when = Math.abs(ms - now) < NOW_MS ? 'now' : `${day} ${utcAndLocal(ms)}`
    return `${when}, ${placeWords(step.azDeg, step.elDeg)}`
  }
  if (step.kind !== 'level' || step.what === 'mast-lean' || step.what === 'lower-axis-elevation') return null
  const at = (axis: 'lower' | 'upper') => {
    const shown = mount[axis].readout.type === 'degrees' ? Math.round(step[axis] * 10) / 10 : Math.round(step[axis])
    return `${axisName(mount, axis)} ${keptReading(mount, axis, shown)}`
  }
  return step.what === 'dish-elevation' ? `at about ${at('lower')}, ${at('upper')}` : `at about ${at('lower')}`
}

/** "From 2.5 dB to 0.4 dB on your own echoes. About 5 min." No figure beyond what a parabola can say. */
export function worthBrings(w: WorthJson): string {
  const minutes = `About ${w.minutes}${NBSP}min.`
  if (w.step.kind === 'clock')
    return `A clock not compared may cost up to ${decibels(w.beforeDb - w.afterDb)} more. ${minutes}`
  return `${fromTo(w)} ${minutes}`
}

/** "From 2.5 dB to 0.4 dB on your own echoes." */
export function fromTo(w: Pick<WorthJson, 'beforeDb' | 'afterDb' | 'beforeDeg' | 'afterDeg'>): string {
  if (!isBeamOffTarget(w.beforeDb)) return `From ${decibels(w.beforeDb)} to ${decibels(w.afterDb)} on your own echoes.`
  if (!isBeamOffTarget(w.afterDb))
    return `Then the beam finds the Moon: less than ${decibels(w.afterDb)} lost on your own echoes.`
  if (w.afterDeg > ANYWHERE_DEG) return 'As entered the beam may point anywhere. This shows for the first time where.'
  if (w.beforeDeg > ANYWHERE_DEG)
    return `As entered the beam may point anywhere. This brings the error to ${roughDegrees(w.afterDeg)}.`
  return `Brings the error from ${roughDegrees(w.beforeDeg)} to ${roughDegrees(w.afterDeg)}.`
}

/** The address of the screen that does it; a sighting by signal or tube is made on Sight's first screen. */
export function worthWay(step: WorthStepJson, storm?: string): readonly string[] {
  switch (step.kind) {
    case 'level':
      return ['mount', 'measure', step.what]
    case 'mark':
      return ['mount', 'mark']
    case 'clock':
      return ['mount', 'clock']
    case 'sighting':
      if (storm !== undefined && step.target === 'sun' && step.method === 'signal-peak')
        return ['sight', 'storm', 'more', storm]
      return step.method === 'shadow'
        ? ['sight', 'noon']
        : step.method === 'drift-scan'
          ? ['sight', 'drift', 'new']
          : ['sight']
  }
}

/** What must be decided before measuring more is worth the time; null where nothing is in the way. */
export function settleFirst(whyNot: readonly WhyNot[]): { head: string; way: readonly string[] } | null {
  const [why] = whyNot
  if (why?.kind === 'suspect')
    return { head: `Settle what looks wrong: ${SUSPECT_WORDS[why.suspect]}`, way: ['correct', 'suspects'] }
  if (why?.kind === 'most-aside' || why?.kind === 'all-aside')
    return { head: 'Look at the sightings that are set aside', way: ['correct', 'left'] }
  return null
}
