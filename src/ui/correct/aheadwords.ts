/** Sightings to come, in words: what today's bring together, when more no longer pays, when to come back. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { CampaignJson, CampaignStepJson } from '../../core/plan/campaignjson.ts'
import { instantMs } from '../../core/records/instant.ts'
import { allowedDecibels, countOf, decibels, NBSP, roughDegrees, utcDate } from '../kit/format.ts'
import { capital } from '../kit/phrases.ts'

/** "leaves 0.6 dB"; in degrees where the beam still misses. */
export const leavesShort = ({ afterDb, afterDeg }: Pick<CampaignStepJson, 'afterDb' | 'afterDeg'>): string =>
  isBeamOffTarget(afterDb) ? `leaves ${roughDegrees(afterDeg)}` : `leaves ${decibels(afterDb)}`

const within = (db: number): string => `within the ${allowedDecibels(db)} that you allow`

/** Whether today's are enough. */
export const enoughWords = (c: CampaignJson): string =>
  c.isEnough ? `${capital(within(c.allowedDb))}.` : `Not yet ${within(c.allowedDb)}.`

/** "After these 3 sightings own echoes should lose less than" */
export const afterWords = (c: CampaignJson): string =>
  `After ${c.today.length === 1 ? 'this sighting' : `these ${c.today.length} sightings`} own echoes should lose less than`

/** When more of them no longer pays. */
export const paysWords = (c: CampaignJson): string | null =>
  c.today.length > 0 && c.isAllToday ? 'More sightings in the next 24 hours would not improve it noticeably.' : null

/** When to come back, and why; null where nothing is to be said. */
export function backWords(c: CampaignJson): string[] | null {
  if (c.isEnough) return null
  if (c.back === null)
    return [
      'No sighting in the next half-year would improve it noticeably.',
      'What is left is for a level, a mark or a better method: see “Worth doing next”.',
    ]
  const { steps, isEnough } = c.back
  const [first, last] = [steps[0]!, steps.at(-1)!]
  const bodies = [...new Set(steps.map(s => s.step.target))]
  const what = `${countOf(steps.length, 'sighting')} of the ${bodies.map(b => (b === 'sun' ? 'Sun' : 'Moon')).join(` and the${NBSP}`)}`
  const left = isBeamOffTarget(last.afterDb) ? roughDegrees(last.afterDeg) : decibels(last.afterDb, c.allowedDb)
  return [
    `Come back on ${utcDate(instantMs(first.step.utc))}: then ${what} ${steps.length === 1 ? 'brings' : 'bring'} it to ${left}${isEnough ? `, ${within(c.allowedDb)}` : ''}.`,
    ...(bodies.includes('sun')
      ? ['In one day the Sun keeps to nearly one declination: another day shows what this one cannot.']
      : []),
    ...(isEnough ? [] : [`Sightings alone do not bring it ${within(c.allowedDb)} soon: see “Worth doing next”.`]),
  ]
}
