/**
 * The target table: where a target stands and the readings that put the feed's beam on it, as CSV (RFC 4180, CRLF).
 * Degrees to four decimals, counts to two.
 */
import { midRange, nearestReach, reachesOf, type TrueAngles } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import type { Axis, TargetRecord } from '../records/fieldbook.ts'
import { type Feed, isHighEnough, type Station, targetFromRecord } from '../records/station.ts'
import { textFromTarget } from '../records/targetname.ts'
import { apparentPlace } from '../sky/targets.ts'
import { degFromRad, type UtcMs } from '../units.ts'

export interface TargetRow {
  utcMs: UtcMs
  azDeg: number
  elDeg: number
  /** Null: no pose has such readings. */
  lower: number | null
  upper: number | null
  reachable: boolean
}

/** Rows at from + k · step, as long as k · step < hours. */
export function targetRows(
  station: Station,
  feed: Feed,
  built: Built,
  target: TargetRecord,
  fromMs: UtcMs,
  hours: number,
  stepS: number,
): TargetRow[] {
  const { model } = station
  const core = targetFromRecord(target)
  const rows: TargetRow[] = []
  let near: TrueAngles = midRange(model, built)
  // The hair: 1.1 h are a hair more than 3960 s in binary, and that would be a row too many.
  const count = Math.ceil((hours * 3600) / stepS - 1e-9)
  for (let k = 0; k < count; k++) {
    const utcMs = fromMs + Math.round(k * stepS * 1000)
    const place = apparentPlace(core, utcMs, station.site, 'radio')
    const reach = nearestReach(reachesOf(model, built, 'beam', place.direction, near.T), near)
    if (reach !== null) near = { T: reach.T, S: reach.S }
    rows.push({
      utcMs,
      azDeg: degFromRad(place.az),
      elDeg: degFromRad(place.el),
      lower: reach === null ? null : reach.lower,
      upper: reach === null ? null : reach.upper,
      reachable: reach?.inside === true && isHighEnough(station, feed, place.az, place.el),
    })
  }
  return rows
}

/** No digit that is not there: a negative nothing is nothing. */
function fixed(x: number, decimals: number): string {
  const text = x.toFixed(decimals)
  return Number(text) === 0 ? (0).toFixed(decimals) : text
}

/** Azimuth stays below 360 when rounding would carry it there. */
const azimuthText = (azDeg: number): string => {
  const text = fixed(azDeg, 4)
  return text === '360.0000' ? '0.0000' : text
}

/** UTC without a fraction when whole. */
export const utcText = (ms: UtcMs): string => new Date(ms).toISOString().replace('.000Z', 'Z')

/** A CSV field, quoted where RFC 4180 wants it. */
export const csvField = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)

/**
 * The table as text. A row that is not reachable has no readings: what follows the rows and ignores the last column must
 * not run into a stop.
 * @param allReadings true: readings also outside the limits and below mask and floor, as far as there are any
 */
export function targetCsv(
  station: Station,
  target: TargetRecord,
  rows: readonly TargetRow[],
  allReadings = false,
): string {
  const readingText = (axis: Axis, r: TargetRow): string => {
    const reading = r.reachable || allReadings ? r[axis] : null
    return reading === null ? '' : fixed(reading, station.model[axis].readout.type === 'degrees' ? 4 : 2)
  }
  const name = csvField(textFromTarget(target))
  const lines = rows.map(r =>
    [
      utcText(r.utcMs),
      name,
      azimuthText(r.azDeg),
      fixed(r.elDeg, 4),
      readingText('lower', r),
      readingText('upper', r),
      String(r.reachable),
    ].join(','),
  )
  return `${['utc,target,azDeg,elDeg,lower,upper,reachable', ...lines].join('\r\n')}\r\n`
}
