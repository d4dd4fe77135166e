/**
 * A station as the core knows it: radians, the mount as a model, what is allowed. Made from its record in stationintake.ts.
 */
import { type MountModel, modelOf } from '../mount/asbuilt.ts'
import { type HorizonMask, maskAt } from '../sky/horizonmask.ts'
import type { Site } from '../sky/place.ts'
import { type Rad, radFromDeg } from '../units.ts'
import type { StationRecord } from './fieldbook.ts'

export interface Feed {
  id: string
  name: string
  frequencyMHz: number
  hpbw: Rad
  systemTemperatureK: number | null
  hearsMoonEchoes: boolean
}

export interface Tolerance {
  echoLossDb: number
  /** Null: the larger of 8° and 1.2 HPBW of the feed in use. */
  minElevation: Rad | null
  floor: Rad | null
}

/** A station in radians, without its measurements. */
export interface Station {
  record: StationRecord
  site: Site
  model: MountModel
  diameterM: number
  focalRatio: number
  feeds: Feed[]
  tolerance: Tolerance
  mask: HorizonMask
}

/** The feed with the narrowest beam: what is good enough for it is good enough for all. */
export const narrowestFeed = (station: Station): Feed =>
  station.feeds.reduce((least, f) => (f.hpbw < least.hpbw ? f : least))

/** The same station with its upper reading counting the other way. */
export const withUpperReversed = (station: Station): Station => ({
  ...station,
  model: modelOf({ ...station.model, upperSense: station.model.upperSense === -1 ? 1 : -1 }),
})

/** The lowest elevation worth pointing at: the person's, else the larger of 8° and 1.2 HPBW. */
export const lowestElevation = (station: Station, feed: Feed): Rad =>
  station.tolerance.minElevation ?? Math.max(radFromDeg(8), 1.2 * feed.hpbw)

/** True where a direction is above the mask and the floor. */
export const isHighEnough = (station: Station, feed: Feed, az: Rad, el: Rad): boolean =>
  el >= Math.max(lowestElevation(station, feed), maskAt(station.mask, az))
