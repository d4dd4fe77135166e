/**
 * The intake: a station's records become the core's own shapes, degrees become radians here and nowhere else.
 * The book has been checked before (schema.ts); what cannot be here throws as a mistake in our code.
 */

import { beamDeviationFactor, beamwidth } from '../dish/optics.ts'
import { type MountModel, modelOf } from '../mount/asbuilt.ts'
import type { Site, Target } from '../sky/place.ts'
import { airFrom } from '../sky/refraction.ts'
import { type Rad, radFromDeg, type UtcMs } from '../units.ts'
import type { AxisRecord, FeedRecord, StationRecord, TargetRecord } from './fieldbook.ts'
import { instantMs } from './instant.ts'
import { readoutFromRecord } from './readouts.ts'

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
  /** Sorted by azimuth; empty when there is none. */
  mask: { az: Rad; el: Rad }[]
}

/**
 * The feed of that id. Where none is named, or one that the station does not have, the first: the door refuses an unknown
 * one before, and an answer names the feed that it is for.
 */
export const feedOf = (station: Station, id: string | undefined): Feed =>
  station.feeds.find(f => f.id === id) ?? station.feeds[0]!

/** The feed with the narrowest beam: what is good enough for it is good enough for all. */
export const narrowestFeed = (station: Station): Feed =>
  station.feeds.reduce((least, f) => (f.hpbw < least.hpbw ? f : least))

export const msFromUtc = (utc: string): UtcMs => {
  const ms = instantMs(utc)
  if (!Number.isFinite(ms)) throw new RangeError(`msFromUtc: expected an ISO 8601 instant with Z, got ${utc}`)
  return ms
}

const axisFromRecord = (r: AxisRecord) => ({
  readout: readoutFromRecord(r.readout),
  minReading: r.minReading,
  maxReading: r.maxReading,
})

export const feedFromRecord = (r: FeedRecord, diameterM: number): Feed => ({
  id: r.id,
  name: r.name,
  frequencyMHz: r.frequencyMHz,
  hpbw: r.beamwidthDeg === undefined ? beamwidth(r.frequencyMHz, diameterM) : radFromDeg(r.beamwidthDeg),
  systemTemperatureK: r.systemTemperatureK ?? null,
  hearsMoonEchoes: r.hearsMoonEchoes ?? false,
})

export function targetFromRecord(r: TargetRecord): Target {
  switch (r.type) {
    case 'geostationary':
      return { type: 'geostationary', lon: radFromDeg(r.lonDeg) }
    case 'landmark':
      return { type: 'landmark', az: radFromDeg(r.azDeg), el: radFromDeg(r.elDeg) }
    default:
      return r
  }
}

export function stationFromRecord(record: StationRecord): Station {
  const { site, dish, mount, tolerance } = record
  return {
    record,
    site: {
      lat: radFromDeg(site.latDeg),
      lon: radFromDeg(site.lonDeg),
      heightM: site.heightM,
      air: airFrom(site.heightM, site.air),
    },
    model: modelOf({
      kind: mount.kind,
      heading: radFromDeg(mount.headingDeg ?? 0),
      latitude: radFromDeg(site.latDeg),
      offset: mount.kind === 'az-over-el' ? radFromDeg(mount.boresightOffsetDeg ?? 0) : 0,
      lower: axisFromRecord(mount.lower),
      upper: axisFromRecord(mount.upper),
      focalLength: dish.focalRatio * dish.diameterM * 1000,
      bdf: beamDeviationFactor(dish.focalRatio),
    }),
    diameterM: dish.diameterM,
    focalRatio: dish.focalRatio,
    feeds: record.feeds.map(f => feedFromRecord(f, dish.diameterM)),
    tolerance: {
      echoLossDb: tolerance?.echoLossDb ?? 0.5,
      minElevation: tolerance?.minElevationDeg === undefined ? null : radFromDeg(tolerance.minElevationDeg),
      floor: tolerance?.floorDeg === undefined ? null : radFromDeg(tolerance.floorDeg),
    },
    mask: (record.horizonMask ?? [])
      .map(p => ({ az: radFromDeg(p.azDeg), el: radFromDeg(p.elDeg) }))
      .sort((a, b) => a.az - b.az),
  }
}

/** The same station with its upper reading counting the other way. */
export const withUpperReversed = (station: Station): Station => ({
  ...station,
  model: modelOf({ ...station.model, upperSense: station.model.upperSense === -1 ? 1 : -1 }),
})

/** The mask's elevation at an azimuth: linear between the points, round the circle; -π/2 without a mask. */
export function maskAt(mask: Station['mask'], az: Rad): Rad {
  if (mask.length === 0) return -Math.PI / 2
  const TURN = 2 * Math.PI
  const a = az - TURN * Math.floor(az / TURN)
  let i = mask.findIndex(p => p.az > a)
  if (i < 0) i = 0
  const next = mask[i]!
  const before = mask[(i + mask.length - 1) % mask.length]!
  const span = (((next.az - before.az) % TURN) + TURN) % TURN
  const into = (((a - before.az) % TURN) + TURN) % TURN
  return span === 0 ? before.el : before.el + ((next.el - before.el) * into) / span
}

/** The lowest elevation worth pointing at: the person's, else the larger of 8° and 1.2 HPBW. */
export const lowestElevation = (station: Station, feed: Feed): Rad =>
  station.tolerance.minElevation ?? Math.max(radFromDeg(8), 1.2 * feed.hpbw)

/** True where a direction is above the mask and the floor. */
export const isHighEnough = (station: Station, feed: Feed, az: Rad, el: Rad): boolean =>
  el >= Math.max(lowestElevation(station, feed), maskAt(station.mask, az))
