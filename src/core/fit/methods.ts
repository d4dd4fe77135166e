/**
 * The sighting methods, an entry each: its line of the dish, its refraction, its usual σ. Kept apart from the sky, so that
 * a screen can ask without loading the almanac. What a form asks of a method is in `ui/kit/sighting/`.
 */
import type { Line } from '../mount/asbuilt.ts'
import type { Method } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Band } from '../sky/place.ts'
import { type Mm, type Rad, radFromDeg } from '../units.ts'

interface MethodFacts {
  /** What it looks along. */
  line: Line
  band: Band
  /** σ where the person states none. */
  sigma(station: Station, feed: Feed): Rad
  /** Made from levels along a track or an arm, which give its σ. */
  isScan: boolean
}

/** How well the middle of a shadow is read on the face, 1 σ each way: its edge is soft. */
export const SHADOW_READ: Mm = 8

const bySignal = (isScan: boolean): MethodFacts => ({
  line: 'beam',
  band: 'radio',
  sigma: (_, feed) => 0.1 * feed.hpbw,
  isScan,
})

const METHODS: Readonly<Record<Method, MethodFacts>> = {
  'signal-peak': bySignal(false),
  'cross-scan': bySignal(true),
  'drift-scan': bySignal(true),
  shadow: {
    line: 'shadow',
    band: 'optical',
    sigma: station => SHADOW_READ / station.model.focalLength,
    isScan: false,
  },
  optical: { line: 'tube', band: 'optical', sigma: () => radFromDeg(0.1), isScan: false },
}

export const lineOf = (method: Method): Line => METHODS[method].line

export const bandOf = (method: Method): Band => METHODS[method].band

export const isScanMethod = (method: Method): boolean => METHODS[method].isScan

/** Sighting methods' σ when the person states none. */
export const methodSigma = (method: Method, station: Station, feed: Feed): Rad => METHODS[method].sigma(station, feed)

/**
 * σ that this station's sightings of a method usually have: the median of those stated, else the method's own.
 *
 * @param share  of the method's own, where several are taken as one
 */
export function usualSigma(method: Method, station: Station, feed: Feed, share = 1): Rad {
  const stated = station.record.sightings
    .filter(s => s.method === method && s.sigmaDeg !== undefined)
    .map(s => s.sigmaDeg!)
  const middle = stated.sort((a, b) => a - b)[stated.length >> 1]
  return middle === undefined ? share * methodSigma(method, station, feed) : radFromDeg(middle)
}
