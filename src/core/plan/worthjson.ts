/** What is worth doing next as JSON: degrees, dB, readings, UTC text. */
import { echoLossDb } from '../dish/optics.ts'
import type { Solved } from '../fit/solved.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { type StepJson, stepJson } from './stepjson.ts'
import { worthDoing } from './worth.ts'

export type WorthStepJson = StepJson | { kind: 'clock' }

export interface WorthJson {
  step: WorthStepJson
  minutes: number
  /** Nine chances in ten that 95 % of the Moon time has less than this: as it stands, and once it is done. */
  beforeDeg: number
  afterDeg: number
  /** The same on one's own echoes; beyond 6.02 no figure holds. */
  beforeDb: number
  afterDb: number
}

export interface WorthDoingJson {
  feed: string
  hpbwDeg: number
  /** Best first, at most five. */
  steps: WorthJson[]
}

export function worthJson(solved: Solved, feed: Feed, now: UtcMs): WorthDoingJson {
  return {
    feed: feed.id,
    hpbwDeg: degFromRad(feed.hpbw),
    steps: worthDoing(solved, feed, now).steps.map(({ step, minutes, p95Before, p95After }) => ({
      step: step.kind === 'clock' ? step : stepJson(step),
      minutes: Math.round(minutes),
      beforeDeg: degFromRad(p95Before),
      afterDeg: degFromRad(p95After),
      beforeDb: echoLossDb(p95Before, feed.hpbw),
      afterDb: echoLossDb(p95After, feed.hpbw),
    })),
  }
}
