/**
 * What an error costs on one's own echoes, in words: both ways, one way, and the place where the parabola no longer holds and
 * there is no figure to give. Decibels of echoes, both ways.
 */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { decibels, degrees, NBSP, safeText } from './format.ts'
import { firstWhyNot, whyNotWords } from './whynotwords.ts'

export const MISSES = 'the beam misses the Moon'

/** "0.4 dB", or that the beam misses the Moon. @param limitDb what it is held to */
export const lossWords = (echoDb: number, limitDb?: number): string =>
  isBeamOffTarget(echoDb) ? MISSES : decibels(echoDb, limitDb)

/** A loss one way, alone: "0.2 dB", or that the beam misses. */
export const oneWayLoss = (db: number): string => (isBeamOffTarget(2 * db) ? MISSES : decibels(db))

/** "0.2 dB one way" */
export const oneWay = (echoDb: number): string => `${decibels(echoDb / 2)} one way`

const SHARE = `95${NBSP}%`
const SURE = `90${NBSP}%`

export const LOSS = {
  feed: 'Feed in use',
  /** Before the figure on the first screen. */
  lead: 'Own echoes lose less than',
  /** Under it. */
  meant: `for ${SHARE} of Moon time, with ${SURE} confidence`,
  allowed: (db: string) => `allowed ${db}`,
  misses: `As far as is known, ${MISSES}.`,
  missesWhy: (p95Deg: number, hpbwDeg: number) =>
    `For 5${NBSP}% of your Moon time or more it may be up to ${degrees(p95Deg, 1)} off. Half a beamwidth is ${degrees(hpbwDeg / 2, 1)}; beyond that there is no figure. More measurements will show.`,
  good: 'Good: within what you allow.',
  lookOut: 'Look out: more than you allow.',
  help: [
    `${SHARE} of Moon time: all of the Moon’s path within reach in the coming month but its worst twentieth, with the corrections applied. The path ends at the mount’s limits, the horizon and the minimum elevation.`,
    `${SURE} confidence: of ten mounts with sightings like yours, nine lose less than this. The worst is meant the same way.`,
    'The loss is that of your own echoes, which lose it twice, out and back; to hear others, or to be heard, it is half that, the figure one way. One beam for transmitting and receiving is assumed.',
    `Beyond half a beamwidth, 3${NBSP}dB one way, the beam’s shape is no longer known well enough for a figure: then ${MISSES}.`,
  ],
} as const

/** The line under the figure: the weightiest reason. @param where  as in whyNotWords */
export function verdictWords(solution: Solution, where?: string): string {
  const why = firstWhyNot(solution)
  return why === null ? LOSS.good : whyNotWords(why, LOSS.lookOut, where)
}

/** "Feed: 23 cm ring feed", where there are several. */
export const throughFeed = ({ feeds }: StationRecord, id: string): string | null => {
  const feed = feeds.length > 1 ? feeds.find(f => f.id === id) : undefined
  return feed === undefined ? null : `Through feed “${safeText(feed.name)}”`
}

/** Further off than this it is not known where the beam points, and a figure would mean nothing. Degrees. */
export const ANYWHERE_DEG = 60

/** What the usual error is made of. */
export const madeOf = ({ openDeg, floorDeg }: { openDeg: number; floorDeg: number }): string =>
  openDeg > ANYWHERE_DEG
    ? 'As entered the beam may point anywhere: the first sightings will show.'
    : `Error left: ${degrees(openDeg, 2)} from too few sightings, ${degrees(floorDeg, 2)} from counts and play.`

/** The figure without its unit, for a large number: "0.7", "<0.1". */
export const lossDigits = (echoDb: number, limitDb: number): string =>
  decibels(echoDb, limitDb).replace(`${NBSP}dB`, '').replace(`under${NBSP}`, '<')

/** "The worst of it, half-way up in the west: 1.4 dB." @param place  where the worst is */
export const worstWords = ({ sky }: Solution, allowedDb: number, place: string): string =>
  `The worst of it, ${place}: ${lossWords(sky.echoLossWorstDb, allowedDb)}.`
