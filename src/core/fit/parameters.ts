/**
 * The unknowns of a station: each parameter of the mount as built, once per span between the changes that name it, and
 * the constants that measurements share (a mark's true angle, a clamping's constant). Priors included.
 * Radians, ratios and millimetres.
 */

import { lowerAxisIds, SLOT, SLOTS, slotOf } from '../mount/slots.ts'
import { angleFromReading, type Readout } from '../readout/readout.ts'
import {
  type Axis,
  type ChangeRecord,
  FEED_PARAMETERS,
  PARAMETER_IDS,
  type ParameterId,
  type PriorRecord,
} from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import type { Station } from '../records/station.ts'
import { radFromDeg } from '../units.ts'

/** 'reading': a counter's own, of a shift alone; it is not told as a parameter. */
export type Unit = 'deg' | 'mm' | 'ratio' | 'reading'

export interface Prior {
  value: number
  sigma: number
  /** True when the person measured it. */
  measured: boolean
}

export interface Parameter {
  index: number
  /** Null for a constant that measurements share. */
  id: ParameterId | null
  feed: string | null
  slot: number
  unit: Unit
  /** Valid from (inclusive) to (exclusive), UTC ms. */
  from: number
  to: number
  prior: Prior
}

export interface Parameters {
  list: Parameter[]
  /**
   * Index of the mount parameter in each slot at an instant with a feed; -1 where the mount has none. The same array for
   * the same slots, so that what is worked out for one setup is found again by it; not to be written to.
   */
  slotsAt(utcMs: number, feed: string | null): Int16Array
  /** Index of a mark's true angle, and of a clamping's constant. */
  markIndex(axis: string, mark: string): number
  clampingIndex(clamping: string): number
}

export const unitOf = (id: ParameterId): Exclude<Unit, 'reading'> =>
  id.startsWith('feed') || id.endsWith('Arm') ? 'mm' : id.endsWith('Scale') ? 'ratio' : 'deg'

const toCore = (id: ParameterId, x: number): number => (unitOf(id) === 'deg' ? radFromDeg(x) : x)

/** Which parameters a change of `what` starts anew. */
export function isNamedBy(what: string, id: ParameterId, feed: string | null): boolean {
  switch (what) {
    case 'all':
      return true
    case 'lower-axis':
      return ['leanNorth', 'leanEast', 'poleEast', 'poleUp', 'heading', 'level'].includes(id)
    case 'lower-zero':
      return id === 'lowerZero'
    case 'upper-zero':
      return id === 'upperZero'
    case 'lower-readout':
      return ['lowerZero', 'lowerScale', 'lowerBaseArm', 'lowerRodArm'].includes(id)
    case 'upper-readout':
      return ['upperZero', 'upperScale', 'upperBaseArm', 'upperRodArm'].includes(id)
    case 'dish':
      return ['collimation', 'squareness', 'sag'].includes(id)
    case 'tube':
      return id === 'tubeRight' || id === 'tubeUp'
    default:
      return feed !== null && what === `feed:${feed}`
  }
}

/** The default prior's σ, in degrees, mm or ratio. */
function defaultSigma(station: Station, id: ParameterId): number {
  const kind = station.model.kind
  const readout: Readout = id.startsWith('upper') ? station.model.upper.readout : station.model.lower.readout
  switch (id) {
    case 'leanNorth':
    case 'leanEast':
    case 'poleEast':
    case 'poleUp':
      return 5
    case 'level':
      return 3
    case 'heading':
      return 180
    case 'lowerZero':
    case 'upperZero':
      if (id === 'lowerZero' && kind === 'el-over-az') return 180
      return readout.type === 'degrees' ? 10 : 30
    case 'lowerScale':
    case 'upperScale':
      return readout.type === 'degrees' ? 0.02 : 0.1
    case 'lowerBaseArm':
    case 'lowerRodArm':
    case 'upperBaseArm':
    case 'upperRodArm':
      return 5
    case 'squareness':
      return 0.5
    case 'collimation':
      return kind === 'az-over-el' ? 1.5 : 0.5
    case 'sag':
      return 0.3
    case 'feedRight':
    case 'feedUp':
      return 10
    case 'feedDroop':
      return 3
    case 'squintRight':
    case 'squintUp':
      return 0.2
    case 'tubeRight':
    case 'tubeUp':
      return 0.7
    case 'lowerPlay':
    case 'upperPlay':
      return 0.5
  }
}

/** "feedRight:a" names a feed's parameter in one word. */
export function splitPriorId(prior: PriorRecord): { id: string; feed: string | null } {
  const colon = prior.id.indexOf(':')
  if (colon < 0) return { id: prior.id, feed: prior.feed ?? null }
  return { id: prior.id.slice(0, colon), feed: prior.id.slice(colon + 1) }
}

function priorFor(station: Station, given: PriorRecord[], id: ParameterId, feed: string | null): Prior {
  // The last one that fits counts, and one that names the feed before one that means every feed.
  let found: PriorRecord | undefined
  let foundNamed = false
  for (const p of given) {
    const named = splitPriorId(p)
    if (named.id !== id || (named.feed !== null && named.feed !== feed)) continue
    if (foundNamed && named.feed === null) continue
    found = p
    foundNamed = named.feed !== null
  }
  if (found)
    return { value: toCore(id, found.value), sigma: toCore(id, found.sigma), measured: found.measured ?? false }
  return { value: 0, sigma: toCore(id, defaultSigma(station, id)), measured: false }
}

/** Which parameters this station has at all, each with its feed, in the order of the table. */
function idsOf(station: Station): { id: ParameterId; feed: string | null }[] {
  const { model, record } = station
  const axisIds = lowerAxisIds(model.kind)
  const hasPrior = (id: string) => (record.priors ?? []).some(p => splitPriorId(p).id === id)
  const arrives = (axis: 'lower' | 'upper') => record.sightings.some(s => s.arrivedFrom?.[axis] !== undefined)
  const has = (id: ParameterId): boolean => {
    if (slotOf(id, model.kind) === null) return false
    switch (id) {
      case 'lowerScale':
      case 'upperScale':
        return model[id === 'lowerScale' ? 'lower' : 'upper'].readout.type !== 'jack'
      case 'lowerBaseArm':
      case 'lowerRodArm':
        return model.lower.readout.type === 'jack'
      case 'upperBaseArm':
      case 'upperRodArm':
        return model.upper.readout.type === 'jack'
      case 'tubeRight':
      case 'tubeUp':
        return hasPrior('tubeRight') || hasPrior('tubeUp') || record.sightings.some(s => s.method === 'optical')
      case 'lowerPlay':
        return arrives('lower')
      case 'upperPlay':
        return arrives('upper')
      default:
        return axisIds.includes(id) || !['leanNorth', 'leanEast', 'poleEast', 'poleUp', 'heading', 'level'].includes(id)
    }
  }
  const isOfFeed = (id: ParameterId) => (FEED_PARAMETERS as readonly string[]).includes(id)
  const out: { id: ParameterId; feed: string | null }[] = []
  let done = ''
  for (const id of PARAMETER_IDS) {
    if (!has(id)) continue
    if (!isOfFeed(id)) {
      out.push({ id, feed: null })
      continue
    }
    // A row of the table holds its parameters together: feedRight, feedUp, feedDroop of one feed, then of the next.
    const row = id.startsWith('feed')
      ? (['feedRight', 'feedUp', 'feedDroop'] as const)
      : (['squintRight', 'squintUp'] as const)
    if (done.includes(row[0])) continue
    done += row[0]
    for (const feed of station.feeds) for (const member of row) out.push({ id: member, feed: feed.id })
  }
  return out
}

/** σ of the prior of what a counter slipped by, in readings: 30° in the middle of the axis's range, as a zero in counts. */
export function slipSigma(station: Station, axis: Axis): number {
  const { readout, minReading, maxReading } = station.model[axis]
  const at = angleFromReading(readout, (minReading + maxReading) / 2)
  return radFromDeg(30) / Math.abs(at.kind === 'angle' ? at.perReading : radFromDeg(1))
}

const isSlip = (change: ChangeRecord, axis: Axis): boolean =>
  change.slipped === true && change.what.includes(`${axis}-zero`)

/** All unknowns of a station. */
export function parametersOf(station: Station): Parameters {
  const { record, model } = station
  const changes = [...(record.changes ?? [])].map(c => ({ ...c, ms: msFromUtc(c.utc) })).sort((a, b) => a.ms - b.ms)
  const list: Parameter[] = []
  const add = (p: Omit<Parameter, 'index'>) => {
    list.push({ ...p, index: list.length })
  }
  const spans = new Map<string, Parameter[]>()
  for (const { id, feed } of idsOf(station)) {
    const first = list.length
    const slot = slotOf(id, model.kind)!
    const starts: { ms: number; given: PriorRecord[] }[] = [{ ms: -Infinity, given: record.priors ?? [] }]
    for (const c of changes) {
      if (!c.what.some(w => isNamedBy(w, id, feed))) continue
      if ((id === 'lowerZero' && isSlip(c, 'lower')) || (id === 'upperZero' && isSlip(c, 'upper'))) continue
      const last = starts[starts.length - 1]!
      // Two changes at one instant start one value; what either expects holds, the later one's first.
      if (last.ms === c.ms) last.given = [...last.given, ...(c.expect ?? [])]
      else starts.push({ ms: c.ms, given: c.expect ?? [] })
    }
    starts.forEach((s, i) => {
      const prior = priorFor(station, s.given, id, feed)
      add({ id, feed, slot, unit: unitOf(id), from: s.ms, to: starts[i + 1]?.ms ?? Infinity, prior })
    })
    spans.set(`${id}:${feed ?? ''}`, list.slice(first))
  }
  for (const axis of ['lower', 'upper'] as const) {
    const slot = axis === 'lower' ? SLOT.lowerShift : SLOT.upperShift
    const first = list.length
    // A counter that is set, or a zero that is found anew, ends what an earlier slip was.
    const ends = changes.filter(c => c.what.some(w => isNamedBy(w, `${axis}Zero`, null)))
    ends.forEach((c, k) => {
      if (!isSlip(c, axis)) return
      const prior = { value: 0, sigma: slipSigma(station, axis), measured: false }
      add({ id: null, feed: null, slot, unit: 'reading', from: c.ms, to: ends[k + 1]?.ms ?? Infinity, prior })
    })
    if (list.length > first) spans.set(`${axis}Shift:`, list.slice(first))
  }
  const marks = new Map<string, number>()
  for (const r of record.references ?? []) {
    const key = `${r.axis} ${r.mark}`
    if (marks.has(key)) continue
    marks.set(key, list.length)
    add({
      id: null,
      feed: null,
      slot: -1,
      unit: 'deg',
      from: -Infinity,
      to: Infinity,
      prior: { value: 0, sigma: radFromDeg(360), measured: false },
    })
  }
  const clampings = new Map<string, number>()
  for (const l of record.levels ?? []) {
    if (l.clamping === undefined || l.what === 'mast-lean' || clampings.has(l.clamping)) continue
    clampings.set(l.clamping, list.length)
    add({
      id: null,
      feed: null,
      slot: -1,
      unit: 'deg',
      from: -Infinity,
      to: Infinity,
      prior: { value: 0, sigma: radFromDeg(1), measured: false },
    })
  }
  const all = [...spans.values()]
  const setups = new Map<string, Int16Array>()
  return {
    list,
    slotsAt(utcMs, feed) {
      const out = new Int16Array(SLOTS).fill(-1)
      for (const span of all) {
        if (span[0]!.feed !== null && span[0]!.feed !== feed) continue
        const valid = span.find(p => utcMs >= p.from && utcMs < p.to)
        if (valid) out[valid.slot] = valid.index
      }
      const key = out.join()
      const known = setups.get(key)
      if (known !== undefined) return known
      setups.set(key, out)
      return out
    },
    markIndex: (axis, mark) => marks.get(`${axis} ${mark}`) ?? -1,
    clampingIndex: clamping => clampings.get(clamping) ?? -1,
  }
}
