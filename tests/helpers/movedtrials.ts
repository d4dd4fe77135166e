/**
 * Stations that are sighted for three weeks, and then, after a storm that moved something or nothing, on three more visits: what is said of
 * all of it together, and what is true.
 */

import { solveStation } from '../../src/core/fit/solution.ts'
import { type HasMoved, hasMovedOf } from '../../src/core/plan/hasmoved.ts'
import type { MountKind, SightingRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { chance } from './random.ts'
import { calmStation, drawStorm, STORM_MS, type Storm, since } from './stormtrials.ts'
import { readoutAngleDeg } from './truemount.ts'

const DAY_MS = 86_400_000
const STEP_MS = 90 * 60_000
/** Days after the storm on which somebody goes out, and how many peaks are taken then. */
const DAYS = [0, 1, 3]
const PEAKS = 2

export interface MovedTrial {
  kind: MountKind
  storm: Storm
  found: HasMoved
}

/**
 * @param share   σ of a peak in beamwidths
 * @param hasSlip  one of the later sightings has an axis misread by 4 to 15° on the sky
 * @returns null: no Sun within reach afterwards
 */
export function movedTrial(
  seed: number,
  kind: MountKind,
  isStill: boolean,
  { share = 0.05, hasSlip = false } = {},
): MovedTrial | null {
  const calm = calmStation(seed, kind, share)
  const c = chance(seed + 77)
  const storm = drawStorm(c, calm, isStill)
  const sigmaDeg = share * calm.hpbwDeg
  const later: SightingRecord[] = []
  for (const day of DAYS) {
    let peaks = 0
    for (let k = 0; k < 16 && peaks < PEAKS; k++) {
      const ms = STORM_MS + day * DAY_MS + k * STEP_MS
      const made = since(calm, storm, [{ ms, target: 'sun', method: 'signal-peak', sigmaDeg }], `v${day}-${k}-`)
      later.push(...made)
      peaks += made.length
    }
  }
  if (later.length < 3) return null
  if (hasSlip) {
    const k = c.whole(0, later.length - 1)
    const axis = c.one(['lower', 'upper'] as const)
    const s = later[k]!
    const at = (reading: number) => readoutAngleDeg(calm.scene.record, axis, reading)
    const perReading = Math.abs(at(s[axis] + 1) - at(s[axis]))
    const { minReading, maxReading } = calm.scene.record.mount[axis]
    const by = (c.sign() * c.between(4, 15)) / perReading
    const slipped = Math.round(Math.max(minReading, Math.min(maxReading, s[axis] + by)))
    later[k] = { ...s, [axis]: slipped }
  }
  const record = { ...calm.scene.record, sightings: [...calm.scene.record.sightings, ...later] }
  const solved = solveStation(stationFromRecord(record))
  const now = STORM_MS + 5 * DAY_MS
  return { kind, storm, found: hasMovedOf(solved, record, solved.station.feeds[0]!, now) }
}

/** Whether what is named first, or as its rival, is what moved. A mast that turned and an azimuth zero that slipped are one thing. */
export function isNamed({ kind, storm, found }: MovedTrial): 'first' | 'among' | 'part' | 'no' {
  const wanted = [...storm.kinds].sort().join()
  const list = found.split?.check.explanations ?? []
  const is = (kinds: readonly string[]) => {
    const got = [...kinds].sort().join()
    return got === wanted || (kind === 'el-over-az' && wanted === 'mount' && got === 'lower-zero')
  }
  if (list[0] && is(list[0].kinds)) return 'first'
  if (list.some(e => is(e.kinds))) return 'among'
  return storm.kinds.length > 1 && list.some(e => e.kinds.some(k => storm.kinds.includes(k))) ? 'part' : 'no'
}

export { STORM_MS }
