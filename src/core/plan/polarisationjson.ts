/** Polarisation over a pass, as JSON: degrees and dB. */
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { siteFrame } from '../sky/earthfixed.ts'
import { airlessElevation } from '../sky/refraction.ts'
import { lifterOf } from '../sky/targets.ts'
import { targetTrack } from '../sky/targettrack.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { azElFromEnu } from '../vectors.ts'
import { dialRows, evenTimes } from './dialrows.ts'
import { type PlaceJson, partnerSite } from './partner.ts'
import { rollOf, spatialOffset } from './polarisation.ts'

export interface PolarisationWish {
  target: TargetRecord
  fromUtc: string
  /** Above 0; `count` rows. */
  stepS: number
  count: number
  /** The other end of a contact, at sea level. */
  partner?: PlaceJson
}

export interface PolarisationRow {
  utc: string
  azDeg: number
  elDeg: number
  /** Within both limits, above mask and floor. */
  reachable: boolean
  /** How far the UP mark is rolled from the vertical, + clockwise as seen from behind the dish; null: no pose. */
  rollDeg: number | null
  /**
   * From the own vertical to the other's as the target sees them, through east on the sky, -90 to 90; what two feeds of one linear
   * polarisation lose by it one way, at most 60 dB; whether the target is up there. Null without a partner.
   */
  partner: { offsetDeg: number; lossDb: number; isUp: boolean } | null
}

/** The loss reported at most, dB: between crossed feeds it would be infinite. */
const MOST_DB = 60

export function polarisationJson(solved: Solved, feed: Feed, now: UtcMs, wish: PolarisationWish): PolarisationRow[] {
  const { station } = solved
  const { site } = station
  const { built } = builtFor(solved, now, feed)
  const fromMs = msFromUtc(wish.fromUtc)
  const times = evenTimes(fromMs, 1000 * wish.stepS, wish.count)
  const track = targetTrack(targetFromRecord(wish.target), fromMs, times[times.length - 1] ?? fromMs)
  const frame = siteFrame(site)
  const lifted = lifterOf(wish.target, site.air, 'radio')
  const other = wish.partner && partnerSite(wish.partner)
  const otherFrame = other && siteFrame(other)
  const at = (utcMs: UtcMs) => {
    const { direction: airless } = track.from(frame, utcMs)
    const direction = lifted(airless)
    return { direction, ...azElFromEnu(direction), airless, utcMs }
  }
  return dialRows(station, feed, built, at, times, seen => seen).map(row => {
    const roll = row.lower === null || row.upper === null ? null : rollOf(station, built, row.lower, row.upper)
    let partner: PolarisationRow['partner'] = null
    if (other && otherFrame) {
      const airless = track.from(otherFrame, row.utcMs).direction
      const offset = spatialOffset({ airless: row.airless, lat: site.lat }, { airless, lat: other.lat })
      partner = {
        offsetDeg: degFromRad(offset),
        lossDb: Math.min(MOST_DB, Math.max(0, -20 * Math.log10(Math.abs(Math.cos(offset))))),
        isUp: azElFromEnu(airless).el >= airlessElevation(0, other.air, 'radio'),
      }
    }
    return {
      utc: utcFromMs(row.utcMs),
      azDeg: row.azDeg,
      elDeg: row.elDeg,
      reachable: row.reachable,
      rollDeg: roll === null ? null : degFromRad(roll),
      partner,
    }
  })
}
