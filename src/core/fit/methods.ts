/**
 * What each sighting method sees: its line of the dish, its refraction, its usual σ. Apart from the sky, so that a screen
 * can ask without carrying an almanac.
 */
import type { Line } from '../mount/asbuilt.ts'
import type { Method, SightingRecord } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Band } from '../sky/place.ts'
import { type Mm, type Rad, radFromDeg } from '../units.ts'

export const lineOf = (method: Method): Line =>
  method === 'shadow' ? 'shadow' : method === 'optical' ? 'tube' : 'beam'

export const bandOf = (method: Method): Band => (method === 'shadow' || method === 'optical' ? 'optical' : 'radio')

/** How well the middle of a shadow is read on the face, 1 σ each way. */
export const SHADOW_READ: Mm = 8

/** Sighting methods' σ when the person states none. */
export function defaultSigma(method: Method, station: Station, feed: Feed): Rad {
  switch (method) {
    case 'shadow':
      return SHADOW_READ / station.model.focalLength
    case 'optical':
      return radFromDeg(0.1)
    default:
      return 0.1 * feed.hpbw
  }
}

/** σ that this station's sightings of a method usually have: the median of those stated, else what is given. */
export function usualSigma(sightings: readonly SightingRecord[], method: Method, otherwise: Rad): Rad {
  const stated = sightings.filter(s => s.method === method && s.sigmaDeg !== undefined).map(s => s.sigmaDeg!)
  const middle = stated.sort((a, b) => a - b)[stated.length >> 1]
  return middle === undefined ? otherwise : radFromDeg(middle)
}
