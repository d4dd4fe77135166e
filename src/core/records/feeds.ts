/**
 * One feed of a station, as a record and as the core knows it: which one is meant, and its beam's width as measured, or from
 * its frequency and the dish. In a file of its own, so that a page that needs it loads little.
 */
import { beamwidth } from '../dish/optics.ts'
import { radFromDeg } from '../units.ts'
import type { FeedRecord } from './fieldbook.ts'
import type { Feed } from './station.ts'

/**
 * The feed of that id. Where none is named, or one that the station does not have, the first: the door refuses an unknown
 * one before, and an answer names the feed that it is for.
 */
export const feedOf = <F extends { id: string }>(station: { feeds: readonly F[] }, id: string | undefined): F =>
  station.feeds.find(f => f.id === id) ?? station.feeds[0]!

export const feedFromRecord = (r: FeedRecord, diameterM: number): Feed => ({
  id: r.id,
  name: r.name,
  frequencyMHz: r.frequencyMHz,
  hpbw: r.beamwidthDeg === undefined ? beamwidth(r.frequencyMHz, diameterM) : radFromDeg(r.beamwidthDeg),
  systemTemperatureK: r.systemTemperatureK ?? null,
  hearsMoonEchoes: r.hearsMoonEchoes ?? false,
})
