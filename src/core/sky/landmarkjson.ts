/** A landmark by its coordinates, at the door: degrees. */
import { degFromRad, radFromDeg } from '../units.ts'
import { sightline } from './landmark.ts'
import type { Site } from './place.ts'

export interface LandmarkWish {
  latDeg: number
  lonDeg: number
  /** Of the landmark's top, above sea level. */
  heightM: number
  /** Of this dish, where it is another than the station's own. */
  dishHeightM?: number
}

export type LandmarkJson =
  | {
      kind: 'sightline'
      azDeg: number
      distanceKm: number
      radioElDeg: number
      opticalElDeg: number
      airlessElDeg: number
    }
  | { kind: 'too-near' | 'too-far' }

export function landmarkJson(site: Site, wish: LandmarkWish): LandmarkJson {
  const from = { lat: site.lat, lon: site.lon, heightM: wish.dishHeightM ?? site.heightM }
  const seen = sightline(from, { lat: radFromDeg(wish.latDeg), lon: radFromDeg(wish.lonDeg), heightM: wish.heightM })
  if (seen.kind !== 'sightline') return seen
  return {
    kind: 'sightline',
    azDeg: degFromRad(seen.az),
    distanceKm: seen.distanceM / 1000,
    radioElDeg: degFromRad(seen.radioEl),
    opticalElDeg: degFromRad(seen.opticalEl),
    airlessElDeg: degFromRad(seen.airlessEl),
  }
}
