/**
 * The unknowns of a station: each parameter of the mount as built, once per span between the changes that name it, and
 * the constants that measurements share (a mark's true angle, a clamping's constant). Priors included.
 * Radians, ratios and millimetres.
 */
import { AXES } from '../mount/names.ts'
import type { ParameterEntry } from '../mount/parameterentry.ts'
import {
  entryOf,
  familyOf,
  isRenewedBy,
  knownEntry,
  PARAMETER_IDS,
  type ParameterId,
  priorSigma,
  unitOf,
} from '../mount/parameters.ts'
import { SLOT, SLOTS, slotOf } from '../mount/slots.ts'
import { angleFromReading } from '../readout/readout.ts'
import type { Axis, ChangeRecord, PriorRecord } from '../records/fieldbook.ts'
import { guessSigma } from '../records/guesses.ts'
import { msFromUtc } from '../records/instant.ts'
import type { Station } from '../records/station.ts'
import { type Rad, radFromDeg } from '../units.ts'

/** 'reading': a counter's own unit, for a shift only; a shift is not reported as a parameter. */
export type ParameterUnit = ParameterEntry['unit'] | 'reading'

interface Prior {
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
  unit: ParameterUnit
  /** Valid from (inclusive) to (exclusive), UTC ms. */
  from: number
  to: number
  prior: Prior
}

/** Two unknowns that are the same to within σ, in their own unit. */
export interface Tie {
  a: number
  b: number
  sigma: number
}

export interface Parameters {
  list: Parameter[]
  /** What stood at a position of one name each time it was there, against the position's own value. */
  ties: Tie[]
  /**
   * Index of the mount parameter in each slot at an instant with a feed; -1 where the mount has none. The same array for
   * the same slots, so that it can key a cache of what is worked out for one setup; do not write to it.
   */
  slotsAt(utcMs: number, feed: string | null): Int16Array
  /** Index of a mark's true angle, and of a clamping's constant. */
  markIndex(axis: string, mark: string): number
  clampingIndex(clamping: string): number
}

const toCore = (id: ParameterId, x: number): number => (unitOf(id) === 'deg' ? radFromDeg(x) : x)

/** "feedRight:a" names a feed's parameter in one word. */
export function splitPriorId(prior: PriorRecord): { id: string; feed: string | null } {
  const colon = prior.id.indexOf(':')
  if (colon < 0) return { id: prior.id, feed: prior.feed ?? null }
  return { id: prior.id.slice(0, colon), feed: prior.id.slice(colon + 1) }
}

function priorFor(station: Station, given: PriorRecord[], id: ParameterId, feed: string | null): Prior {
  // The last match counts; one that names the feed goes before one that means every feed.
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
  // Never narrower than what is usual: the azimuth of an upright mount is open anyway.
  const sigma = Math.max(priorSigma(id, station.model), guessSigma(station.record, id) ?? 0)
  return { value: 0, sigma: toCore(id, sigma), measured: false }
}

/** Whether the station has a sighting tube: one was looked through, or something is known of it. */
export const hasTube = ({ record }: Station): boolean =>
  (record.priors ?? []).some(p => knownEntry(splitPriorId(p).id)?.family === 'tube') ||
  record.sightings.some(s => s.method === 'optical')

/** Which parameters this station has at all, each with its feed, in the order of the table. */
function idsOf(station: Station): { id: ParameterId; feed: string | null }[] {
  const { model, record } = station
  const has = (id: ParameterId): boolean => {
    if (slotOf(id, model.kind) === null) return false
    const { needs, axis } = entryOf(id)
    switch (needs) {
      case undefined:
        return true
      case 'jack':
        return model[axis!].readout.type === 'jack'
      case 'no-jack':
        return model[axis!].readout.type !== 'jack'
      case 'arrivals':
        return record.sightings.some(s => s.arrivedFrom?.[axis!] !== undefined)
      case 'tube':
        return hasTube(station)
    }
  }
  const out: { id: ParameterId; feed: string | null }[] = []
  const done = new Set<ParameterId>()
  for (const id of PARAMETER_IDS) {
    if (done.has(id) || !has(id)) continue
    const { ofFeed, family } = entryOf(id)
    if (!ofFeed) {
      out.push({ id, feed: null })
      continue
    }
    // A family stays together: feedRight, feedUp, feedDroop of one feed, then of the next.
    const members = PARAMETER_IDS.filter(other => entryOf(other).ofFeed && familyOf(other) === family && has(other))
    for (const member of members) done.add(member)
    for (const feed of station.feeds) for (const member of members) out.push({ id: member, feed: feed.id })
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

/** The unknown constant that levels of one clamping share, 1 σ, degrees. */
export const CLAMPING_SIGMA_DEG = 1

/** A constant that measurements share. @param sigmaDeg  of its prior about 0 */
const constant = (sigmaDeg: number): Omit<Parameter, 'index'> => ({
  id: null,
  feed: null,
  slot: -1,
  unit: 'deg',
  from: -Infinity,
  to: Infinity,
  prior: { value: 0, sigma: radFromDeg(sigmaDeg), measured: false },
})

/** Where a value starts again: at a change, and with what the person expects there. */
interface Start {
  ms: number
  given: PriorRecord[]
  change: ChangeRecord | null
}

/** A value while it stood at a position: the index of its start, and how well the position is met. */
interface Visit {
  start: number
  sigma: Rad
  /** True when the person said what to expect. */
  isGiven: boolean
}

/** How well a clamp or a stop is met again where the person says nothing, degrees: a scribed line (common practice, no source). */
const MET_AGAIN_DEG = 0.3

/** The visits to each named position, of one value. */
function positionsOf(starts: readonly Start[], id: ParameterId): Iterable<Visit[]> {
  const positions = new Map<string, Visit[]>()
  starts.forEach(({ change, given }, start) => {
    // What it stood at before its first change is named by that change.
    const name = change?.position?.name ?? starts[start + 1]?.change?.position?.before
    if (name === undefined) return
    const sigma = radFromDeg(change?.position?.sigmaDeg ?? MET_AGAIN_DEG)
    const isGiven = given.some(p => splitPriorId(p).id === id)
    positions.set(name, [...(positions.get(name) ?? []), { start, sigma, isGiven }])
  })
  return positions.values()
}

/** All unknowns of a station. */
export function parametersOf(station: Station): Parameters {
  const { record, model } = station
  const changes = [...(record.changes ?? [])].map(c => ({ ...c, ms: msFromUtc(c.utc) })).sort((a, b) => a.ms - b.ms)
  const list: Parameter[] = []
  const add = (p: Omit<Parameter, 'index'>) => {
    list.push({ ...p, index: list.length })
  }
  const spans = new Map<string, Parameter[]>()
  const visited: { visits: Visit[]; first: number }[] = []
  for (const { id, feed } of idsOf(station)) {
    const first = list.length
    const slot = slotOf(id, model.kind)!
    const starts: Start[] = [{ ms: -Infinity, given: record.priors ?? [], change: null }]
    for (const c of changes) {
      if (!c.what.some(w => isRenewedBy(w, id, feed))) continue
      if ((id === 'lowerZero' && isSlip(c, 'lower')) || (id === 'upperZero' && isSlip(c, 'upper'))) continue
      const last = starts[starts.length - 1]!
      // Two changes at one instant start one value; what either expects holds, the later one's first.
      if (last.ms === c.ms) {
        last.given = [...last.given, ...(c.expect ?? [])]
        if (c.position) last.change = c
      } else starts.push({ ms: c.ms, given: c.expect ?? [], change: c })
    }
    starts.forEach((s, i) => {
      const prior = priorFor(station, s.given, id, feed)
      add({ id, feed, slot, unit: unitOf(id), from: s.ms, to: starts[i + 1]?.ms ?? Infinity, prior })
    })
    if (unitOf(id) === 'deg')
      for (const visits of positionsOf(starts, id)) if (visits.length > 1) visited.push({ visits, first })
    spans.set(`${id}:${feed ?? ''}`, list.slice(first))
  }
  for (const axis of AXES) {
    const slot = axis === 'lower' ? SLOT.lowerShift : SLOT.upperShift
    const first = list.length
    // A counter that is set, or a zero that is found again, ends an earlier slip.
    const ends = changes.filter(c => c.what.some(w => isRenewedBy(w, `${axis}Zero`, null)))
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
    add(constant(360))
  }
  const clampings = new Map<string, number>()
  for (const l of record.levels ?? []) {
    if (l.clamping === undefined || l.what === 'mast-lean' || clampings.has(l.clamping)) continue
    clampings.set(l.clamping, list.length)
    add(constant(CLAMPING_SIGMA_DEG))
  }
  const ties: Tie[] = []
  for (const { visits, first } of visited) {
    const b = list.length
    add(constant(360))
    for (const { start, sigma, isGiven } of visits) {
      const { prior } = list[first + start]!
      // The prior counts once for the position, not once a visit.
      if (!isGiven) prior.sigma *= Math.sqrt(visits.length)
      ties.push({ a: first + start, b, sigma })
    }
  }
  const all = [...spans.values()]
  const setups = new Map<string, Int16Array>()
  return {
    list,
    ties,
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
