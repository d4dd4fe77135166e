/**
 * A target in one word, as a person types it: `moon`, `sun`, `source:NAME`, `geostationary:LON`, `landmark:AZ,EL`; degrees,
 * east longitude and azimuth through east positive.
 */
import { findSource, SOURCE_NAMES } from '../sky/sources.ts'
import { type Answer, no, yes } from './answer.ts'
import type { TargetRecord } from './fieldbook.ts'
import { quoted } from './shown.ts'

const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)$/

const degrees = (text: string, lo: number, hi: number): number | null => {
  const n = DECIMAL.test(text) ? Number(text) : Number.NaN
  return n >= lo && n <= hi ? n : null
}

/**
 * The target that a text names. The path of the fault tells its kind: `type` and `name` for a name nobody knows,
 * `lonDeg`, `azDeg`, `elDeg` for a value that is not one.
 */
export function targetFromText(text: string): Answer<TargetRecord> {
  const colon = text.indexOf(':')
  const type = colon < 0 ? text : text.slice(0, colon)
  const rest = colon < 0 ? null : text.slice(colon + 1)
  if (rest === null && (type === 'moon' || type === 'sun')) return yes({ type })
  if (rest !== null && type === 'source') {
    // The name stays as typed: the table's `target` column then repeats what was asked for.
    if (findSource(rest) !== null) return yes({ type, name: rest })
    return no('name', `there is no radio source ${quoted(rest)}; known are ${SOURCE_NAMES.join(', ')}`)
  }
  if (rest !== null && type === 'geostationary') {
    const lonDeg = degrees(rest, -180, 180)
    if (lonDeg === null)
      return no('lonDeg', `geostationary:LON needs an east longitude from -180 to 180, got ${quoted(rest)}`)
    return yes({ type: 'geostationary', lonDeg })
  }
  if (rest !== null && type === 'landmark') {
    const [az = '', el = '', ...more] = rest.split(',')
    const azDeg = degrees(az, 0, 360)
    const elDeg = degrees(el, -90, 90)
    if (azDeg === null || more.length > 0)
      return no('azDeg', `landmark:AZ,EL needs an azimuth from 0 to 360, got ${quoted(rest)}`)
    if (elDeg === null) return no('elDeg', `landmark:AZ,EL needs an elevation from -90 to 90, got ${quoted(rest)}`)
    return yes({ type, azDeg, elDeg })
  }
  return no(
    'type',
    `there is no target ${quoted(text)}; targets are moon, sun, source:NAME, geostationary:LON, landmark:AZ,EL`,
  )
}

/** The inverse of `targetFromText`: the column `target` of a table. */
export function textFromTarget(target: TargetRecord): string {
  switch (target.type) {
    case 'source':
      return `source:${target.name}`
    case 'geostationary':
      return `geostationary:${target.lonDeg}`
    case 'landmark':
      return `landmark:${target.azDeg},${target.elDeg}`
    default:
      return target.type
  }
}
