/** The sightings of the coming days as JSON: degrees, dB, readings, UTC text. */
import { echoLossDb } from '../dish/optics.ts'
import type { Solved } from '../fit/solved.ts'
import { utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { type CampaignStep, campaignOf } from './campaign.ts'
import { type StepJson, stepJson } from './stepjson.ts'

export type SightingStepJson = StepJson & { kind: 'sighting' }

export interface CampaignStepJson {
  step: SightingStepJson
  /** Nine chances in ten that 95 % of the Moon time loses less once it is made; beyond 6.02 no figure holds. */
  afterDeg: number
  afterDb: number
}

export interface CampaignJson {
  feed: string
  nowDb: number
  nowDeg: number
  allowedDb: number
  /** Three days of each body where it can be sighted; `share`: of the open mean square error that one sighting there takes off, 0 to 1. */
  paths: {
    target: 'sun' | 'moon'
    spots: { utc: string; azDeg: number; elDeg: number; share: number }[]
  }[]
  /** The best of each body and day, each by itself; the most first. */
  ranked: CampaignStepJson[]
  /** Of the coming 24 hours, in order of time: one after the other the best, up to where more would not show. */
  today: CampaignStepJson[]
  /** Whether one more today would not show; false where as many were chosen as are looked at. */
  isAllToday: boolean
  /** Whether today's are enough for the tolerance; true with none where it is reached already. */
  isEnough: boolean
  /** When to come back where they are not; null: not needed, or no day within half a year brings anything that shows. */
  back: { steps: CampaignStepJson[]; isEnough: boolean } | null
}

export function campaignJson(solved: Solved, feed: Feed, now: UtcMs): CampaignJson {
  const found = campaignOf(solved, feed, now)
  const step = ({ step: s, p95After }: CampaignStep): CampaignStepJson => ({
    step: stepJson(s) as SightingStepJson,
    afterDeg: degFromRad(p95After),
    afterDb: echoLossDb(p95After, feed.hpbw),
  })
  return {
    feed: feed.id,
    nowDb: echoLossDb(found.p95, feed.hpbw),
    nowDeg: degFromRad(found.p95),
    allowedDb: solved.station.tolerance.echoLossDb,
    paths: found.paths.map(p => ({
      target: p.target,
      spots: p.spots.map(s => ({
        utc: utcFromMs(s.utcMs),
        azDeg: degFromRad(s.az),
        elDeg: degFromRad(s.el),
        share: s.share,
      })),
    })),
    ranked: found.ranked.map(step),
    today: found.today.map(step),
    isAllToday: found.isAllToday,
    isEnough: found.isEnoughToday,
    back: found.back && {
      steps: found.back.steps.map(step),
      isEnough: found.back.isEnough,
    },
  }
}
