/** What is known of a target besides its position: how well it is heard, how far a satellite strays. Degrees and dB. */
import { pointingLossDb } from '../dish/optics.ts'
import { type Heard, heardOf } from '../noise/heard.ts'
import type { StationRecord, TargetRecord } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import { siteFrame } from '../sky/earthfixed.ts'
import { decimalYear } from '../sky/magnetic.ts'
import { BOX, satelliteBox } from '../sky/satellitebox.ts'
import { type Deg, degFromRad, radFromDeg, type UtcMs } from '../units.ts'

export interface SatelliteBoxJson {
  /** Half a side of the box in longitude and latitude. */
  halfDeg: Deg
  /** How far it strays from the middle of its box, to either side and in total. */
  azDeg: Deg
  elDeg: Deg
  mostDeg: Deg
  /** The largest of these in beamwidths, and what it loses one way while the dish stays on the middle. */
  beams: number
  lossDb: number
}

export interface AboutTarget {
  /** Null: nothing is known of its noise. */
  heard: Heard | null
  box: SatelliteBoxJson | null
}

export function aboutTargetOf(
  station: Station,
  record: StationRecord,
  feed: Feed,
  target: TargetRecord,
  now: UtcMs,
): AboutTarget {
  const heard = heardOf(record, record.feeds.find(f => f.id === feed.id)!, target, decimalYear(now))
  if (target.type !== 'geostationary') return { heard, box: null }
  const { az, el, most } = satelliteBox(radFromDeg(target.lonDeg), siteFrame(station.site))
  const box = {
    ...{ halfDeg: degFromRad(BOX), azDeg: degFromRad(az), elDeg: degFromRad(el), mostDeg: degFromRad(most) },
    ...{ beams: most / feed.hpbw, lossDb: pointingLossDb(most, feed.hpbw) },
  }
  return { heard, box }
}
