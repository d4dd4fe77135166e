/**
 * The sightings of the coming days: what each along the paths of Sun and Moon would take off the error over the Moon's path, which of
 * today's together bring most and when one more no longer shows, and, where today's sky cannot finish (the Sun keeps to one declination),
 * on which day to come back. Each sighting is taken into the fit's covariance as worth.ts does. Radians, UTC ms.
 */
import { errorForEchoLoss } from '../dish/optics.ts'
import { isFound } from '../fit/nextbest.ts'
import type { Solved } from '../fit/solved.ts'
import type { Feed } from '../records/station.ts'
import { DAY_MS, HOUR_MS, type Rad, type UtcMs } from '../units.ts'
import { type Candidate, type MeasurementStep, sightingsToCome } from './measurements.ts'
import { outlookOf } from './outlook.ts'
import type { Pass } from './stormrows.ts'
import { isSeen, waysOf } from './worth.ts'

export type SightingStep = MeasurementStep & { kind: 'sighting' }

/** A place on a path; `share`: what one sighting there takes off the mean square error that is open, 0 to 1. */
export interface PathSpot {
  utcMs: UtcMs
  az: Rad
  el: Rad
  share: number
}

/** One sighting of a campaign, p95 over the Moon's path once it and those before it are made. */
export interface CampaignStep {
  step: SightingStep
  p95After: Rad
}

export interface Campaign {
  /** Nine chances in ten that 95 % of the Moon time has less: as it stands, and what is wanted. */
  p95: Rad
  tolerance: Rad
  /** The coming three days of each body, in order of time; only where it is in reach and can be sighted. */
  paths: { target: 'sun' | 'moon'; spots: PathSpot[] }[]
  /** The best of each body and day, each by itself; the most first. */
  ranked: CampaignStep[]
  /** Of the coming 24 hours, in order of time: one after the other the best, up to where the rest of eight together would not show. */
  today: CampaignStep[]
  /** Today's reach the tolerance; true with none where it is reached already. */
  isEnoughToday: boolean
  /** Whether one more today would not show; false where as many were chosen as are looked at. */
  isAllToday: boolean
  /**
   * Where today's do not reach the tolerance: the first day whose sightings do so after today's, else the first that brings nearly as much
   * as any. Null: not needed, or none within half a year on which they show.
   */
  back: { steps: CampaignStep[]; isEnough: boolean } | null
}

const SLOT_MS = HOUR_MS / 2
const DAYS = 3
const MOST_TODAY = 8
const MOST_BACK = 4
/** An earlier sighting is as good if it brings this share of the best. */
const AS_GOOD = 0.7
/** Days from now on which coming back is tried: closely at first, then as the Sun's declination moves. */
const LATER = [1, 2, 3, 4, 5, 6, 7, 10, 14, 18, 22, 26, 30, 36, 42, 50, 60, 75, 90, 120, 150, 180] as const

/** @param now  from when on sightings can be made; empty where the Moon is never reached */
export function campaignOf(solved: Solved, feed: Feed, now: UtcMs): Campaign {
  const tolerance = errorForEchoLoss(solved.station.tolerance.echoLossDb, feed.hpbw)
  const outlook = outlookOf(solved, feed, now)
  if (outlook === null)
    return { p95: 0, tolerance, paths: [], ranked: [], today: [], isEnoughToday: true, isAllToday: true, back: null }
  const { built, begin, p95, withOne, openOf, p95Of } = outlook
  // All that can be done once the beam finds the Moon; whether it does is checked when one is chosen. A drift keeps the dish for half
  // an hour: it is offered as a single next step, not within a series.
  const ways = waysOf(solved, feed, built, 0).filter(w => w.method !== 'drift-scan')
  const sightingsFrom = (startMs: UtcMs, days: number, stepMs: number) =>
    sightingsToCome(
      solved,
      feed,
      built,
      ways,
      Array.from({ length: Math.round((days * DAY_MS) / stepMs) }, (_, k) => startMs + k * stepMs),
    )
  const needsFound = ({ target, method }: SightingStep) => target === 'moon' && method === 'signal-peak'
  const canDo = (k: Candidate, error: Rad) => isFound(error, feed) || !needsFound(sightingOf(k))

  /** The best of a list one after the other, up to the point where the rest together would not show; then in order of time. */
  function best(
    from: Pass,
    error: Rad,
    list: readonly Candidate[],
    most: number,
  ): { pass: Pass; steps: CampaignStep[] } {
    const chosen: { k: Candidate; after: Rad }[] = []
    const isTaken = (k: Candidate) =>
      chosen.some(
        c =>
          sightingOf(c.k).target === sightingOf(k).target &&
          Math.abs(sightingOf(c.k).utcMs - sightingOf(k).utcMs) < SLOT_MS,
      )
    let pass = from
    while (chosen.length < most) {
      let top: { k: Candidate; pass: Pass; open: number } | null = null
      for (const k of list) {
        if (!canDo(k, chosen.at(-1)?.after ?? error) || isTaken(k)) continue
        const next = withOne(pass, k)
        const open = openOf(next)
        if (top === null || open < top.open) top = { k, pass: next, open }
      }
      if (top === null) break
      pass = top.pass
      chosen.push({ k: top.k, after: p95Of(pass) })
    }
    const p95After = chosen.at(-1)?.after ?? error
    const shows = (p95Before: Rad) => isSeen({ p95Before, p95After }, feed.hpbw)
    const paying = chosen.filter((_, n) => shows(n === 0 ? error : chosen[n - 1]!.after))
    let sofar = from
    const steps = paying
      .map(({ k }) => k)
      .sort((a, b) => sightingOf(a).utcMs - sightingOf(b).utcMs)
      .map(k => {
        sofar = withOne(sofar, k)
        return { step: sightingOf(k), p95After: p95Of(sofar) }
      })
    return { pass: sofar, steps }
  }

  const soon = sightingsFrom(now, DAYS, SLOT_MS)
  const open = openOf(begin)
  const gains = soon
    .filter(k => canDo(k, p95))
    .map(k => ({ k, share: open === 0 ? 0 : 1 - openOf(withOne(begin, k)) / open }))
  const ranked = bestOfEachDay(gains, now)
    .map(k => ({ step: sightingOf(k), p95After: p95Of(withOne(begin, k)) }))
    .filter(({ p95After }) => isSeen({ p95Before: p95, p95After }, feed.hpbw))
    .sort((a, b) => a.p95After - b.p95After || a.step.utcMs - b.step.utcMs)
  const today = best(
    begin,
    p95,
    soon.filter(k => sightingOf(k).utcMs < now + DAY_MS),
    MOST_TODAY,
  )
  const p95Today = today.steps.at(-1)?.p95After ?? p95
  const isEnoughToday = p95Today <= tolerance

  const back = isEnoughToday ? null : comeBack()
  function comeBack(): Campaign['back'] {
    const days: { steps: CampaignStep[]; p95After: Rad }[] = []
    for (const day of LATER) {
      const { steps } = best(today.pass, p95Today, sightingsFrom(now + day * DAY_MS, 1, HOUR_MS), MOST_BACK)
      const last = steps.at(-1)
      if (last === undefined) continue
      const { p95After } = last
      if (p95After <= tolerance) return { steps, isEnough: true }
      days.push({ steps, p95After })
    }
    const least = Math.min(...days.map(d => d.p95After))
    const day = days.find(d => p95Today - d.p95After >= AS_GOOD * (p95Today - least))
    return day === undefined ? null : { steps: day.steps, isEnough: false }
  }
  const isAllToday = today.steps.length < MOST_TODAY
  return { p95, tolerance, paths: pathsOf(gains), ranked, today: today.steps, isEnoughToday, isAllToday, back }
}

const sightingOf = (k: Candidate): SightingStep => k.step as SightingStep

type Gain = { k: Candidate; share: number }

function bestOfEachDay(gains: readonly Gain[], now: UtcMs): Candidate[] {
  const top = new Map<string, Gain>()
  for (const g of gains) {
    const { target, utcMs } = sightingOf(g.k)
    const key = `${target} ${Math.floor((utcMs - now) / DAY_MS)}`
    if (!top.has(key) || g.share > top.get(key)!.share) top.set(key, g)
  }
  return [...top.values()].map(g => g.k)
}

/** Of several methods at one time the one that brings most. */
function pathsOf(gains: readonly Gain[]): Campaign['paths'] {
  return (['sun', 'moon'] as const).flatMap(target => {
    const at = new Map<UtcMs, PathSpot>()
    for (const { k, share } of gains) {
      const { utcMs, az, el, target: own } = sightingOf(k)
      if (own !== target || share <= (at.get(utcMs)?.share ?? -1)) continue
      at.set(utcMs, { utcMs, az, el, share: Math.max(0, share) })
    }
    return at.size === 0 ? [] : [{ target, spots: [...at.values()].sort((a, b) => a.utcMs - b.utcMs) }]
  })
}
