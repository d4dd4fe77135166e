/** The intake of a feed: its beam's width as measured, or from its frequency and the dish. By itself, so that it weighs little. */
import { beamwidth } from '../dish/optics.ts'
import { radFromDeg } from '../units.ts'
import type { FeedRecord } from './fieldbook.ts'
import type { Feed } from './station.ts'

export const feedFromRecord = (r: FeedRecord, diameterM: number): Feed => ({
  id: r.id,
  name: r.name,
  frequencyMHz: r.frequencyMHz,
  hpbw: r.beamwidthDeg === undefined ? beamwidth(r.frequencyMHz, diameterM) : radFromDeg(r.beamwidthDeg),
  systemTemperatureK: r.systemTemperatureK ?? null,
  hearsMoonEchoes: r.hearsMoonEchoes ?? false,
})
