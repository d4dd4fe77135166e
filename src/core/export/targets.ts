/**
 * The target table: where a target stands and the readings that put the feed's beam on it, as CSV (RFC 4180, CRLF).
 * Degrees to four decimals, counts to two.
 */
import type { Built } from '../mount/slots.ts'
import { type DialRow, dialRows } from '../plan/dialrows.ts'
import type { Axis, TargetRecord } from '../records/fieldbook.ts'
import { utcFromMs } from '../records/instant.ts'
import type { Feed, Station } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { textFromTarget } from '../records/targetname.ts'
import { apparentPlace } from '../sky/targets.ts'
import { HOUR_S, type UtcMs } from '../units.ts'
import { csvField, csvLines, plainFixed } from './csv.ts'

/** Rows at from + k · step, as long as k · step < hours. */
export function targetRows(
  station: Station,
  feed: Feed,
  built: Built,
  target: TargetRecord,
  fromMs: UtcMs,
  hours: number,
  stepS: number,
): DialRow[] {
  const core = targetFromRecord(target)
  // 1e-9: 1.1 h is a little more than 3960 s in binary, and that would be a row too many.
  const count = Math.ceil((hours * HOUR_S) / stepS - 1e-9)
  const times = Array.from({ length: count }, (_, k) => fromMs + Math.round(k * stepS * 1000))
  const at = (utcMs: UtcMs) => apparentPlace(core, utcMs, station.site, 'radio')
  return dialRows(station, feed, built, at, times, () => ({}))
}

/** Azimuth stays below 360 when rounding would carry it there. */
const azimuthText = (azDeg: number): string => {
  const text = plainFixed(azDeg, 4)
  return text === '360.0000' ? '0.0000' : text
}

/**
 * The table as text. A row that is not reachable has no readings: a program that follows the rows and ignores the last column must
 * not run into a stop.
 * @param allReadings true: readings also outside the limits and below mask and floor, as far as there are any
 */
export function targetCsv(
  station: Station,
  target: TargetRecord,
  rows: readonly DialRow[],
  allReadings = false,
): string {
  const readingText = (axis: Axis, r: DialRow): string => {
    const reading = r.reachable || allReadings ? r[axis] : null
    return reading === null ? '' : plainFixed(reading, station.model[axis].readout.type === 'degrees' ? 4 : 2)
  }
  const name = csvField(textFromTarget(target))
  const lines = rows.map(r =>
    [
      utcFromMs(r.utcMs),
      name,
      azimuthText(r.azDeg),
      plainFixed(r.elDeg, 4),
      readingText('lower', r),
      readingText('upper', r),
      String(r.reachable),
    ].join(','),
  )
  return csvLines(['utc,target,azDeg,elDeg,lower,upper,reachable', ...lines])
}
