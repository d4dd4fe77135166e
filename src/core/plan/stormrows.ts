/**
 * Measurements since a storm against the mount as it was: each as whitened rows by parameter and by what a storm can move, and the pass
 * over them that adds up what they say of every move, the uncertainty of the mount as it was taken into account. Radians inside.
 */
import { type Level, type Reference, referenceFromRecord, sightingFromRecord } from '../fit/observations.ts'
import { CLAMPING_SIGMA_DEG } from '../fit/parameters.ts'
import { builtAt, levelRows, referenceRow, whitenedRows } from '../fit/residuals.ts'
import type { Sighting } from '../fit/sighting.ts'
import type { Solved } from '../fit/solved.ts'
import { AXES } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, onPaper, SLOT, SLOTS } from '../mount/slots.ts'
import { feedOf } from '../records/feeds.ts'
import type { LevelRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { isLevelFitted } from '../records/levelkinds.ts'
import type { Feed } from '../records/station.ts'
import { radFromDeg, type UtcMs } from '../units.ts'
import { type MoveByWay, READING, WAY_COUNT } from './stormmoves.ts'

export type Measured =
  | { kind: 'sighting'; id: string; sighting: Sighting; isOwnFeed: boolean }
  /** `clampingSigma`: what a clamping unknown before the storm adds, radians. */
  | { kind: 'level'; id: string; level: Level; clampingSigma: number }
  | { kind: 'mark'; id: string; reference: Reference }

/** Everything measured from an instant on to the next change, ready to be compared; times as the phone had them. */
export function measuredSince(solved: Solved, record: StationRecord, feed: Feed, since: UtcMs): Measured[] {
  const { station, parameters } = solved
  // A change noted at the start of the check is its own result.
  const changes = (record.changes ?? []).map(c => msFromUtc(c.utc)).filter(ms => ms > since + 1000)
  const until = Math.min(Infinity, ...changes)
  const isSince = (r: { utc: string }): boolean => msFromUtc(r.utc) >= since && msFromUtc(r.utc) < until
  const out: Measured[] = []
  for (const s of record.sightings) {
    if (!isSince(s) || s.use === 'never') continue
    const sighting = sightingFromRecord(station, parameters, s)
    // Without a tube known before there is nothing to compare an optical sighting with.
    if (sighting.line === 'tube' && sighting.slots[SLOT.tubeRight]! < 0) continue
    out.push({ kind: 'sighting', id: s.id, sighting, isOwnFeed: feedOf(station, s.feed).id === feed.id })
  }
  for (const l of record.levels ?? []) {
    if (!isSince(l) || !isLevelFitted(station.model.kind, l.what)) continue
    const clamping = l.clamping === undefined ? -1 : parameters.clampingIndex(l.clamping)
    const slots = parameters.slotsAt(msFromUtc(l.utc), feed.id)
    out.push({
      kind: 'level',
      id: l.id,
      level: { record: l, slots, clamping, sigma: Math.max(1e-7, radFromDeg(l.sigmaDeg)) },
      clampingSigma: l.clamping !== undefined && clamping < 0 ? radFromDeg(CLAMPING_SIGMA_DEG) : 0,
    })
  }
  for (const r of record.references ?? []) {
    if (!isSince(r) || parameters.markIndex(r.axis, r.mark) < 0) continue
    if (trueAngle(station.model, onPaper(), r.axis, r.reading).kind !== 'angle') continue
    out.push({ kind: 'mark', id: r.id, reference: referenceFromRecord(station, parameters, r) })
  }
  return out
}

/** One whitened row: data = bySlot · (parameters - as they were) + byWay · move + noise of variance `noise`. */
export interface WhitenedRow {
  data: number
  slots: Int16Array
  bySlot: Float64Array
  shared: number
  perShared: number
  byWay: Float64Array
  noise: number
}

const FEED_SLOTS = [SLOT.feedRight, SLOT.feedUp, SLOT.feedDroop, SLOT.squintRight, SLOT.squintUp]

/** The rows of a measurement with a move made already; null where a jack's triangle does not close then. */
export function rowsOf(solved: Solved, m: Measured, move: MoveByWay): WhitenedRow[] | null {
  const { model } = solved.station
  const { values } = solved.fit
  const slots = m.kind === 'sighting' ? m.sighting.slots : m.kind === 'level' ? m.level.slots : m.reference.slots
  const built = builtAt(values, slots)
  for (let k = 0; k < SLOTS; k++) if (!isOthersFeed(m, k)) built[k]! += move[k]!
  const shift = (r: { lower: number; upper: number }) => ({
    lower: r.lower + move[READING.lower]!,
    upper: r.upper + move[READING.upper]!,
  })
  if (m.kind === 'sighting') {
    const record = { ...m.sighting.record, ...shift(m.sighting.record) }
    const partials = new Float64Array(2 * SLOTS)
    const r = whitenedRows(model, { ...m.sighting, record }, built, partials)
    if (r === null) return null
    return [0, 1].map(i =>
      rowOf(solved, m, move, built, record, slots, r[i]!, partials.slice(i * SLOTS, (i + 1) * SLOTS), 1),
    )
  }
  if (m.kind === 'mark') {
    const { record } = m.reference
    const reading = record.reading + move[READING[record.axis]]!
    const at = { lower: Number.NaN, upper: Number.NaN, [record.axis]: reading }
    const row = referenceRow(
      model,
      { ...m.reference, record: { ...record, reading } },
      built,
      values[m.reference.mark]!,
    )
    return row === null
      ? null
      : [rowOf(solved, m, move, built, at, slots, row.residual, row.bySlot, 1, row.shared, row.perShared)]
  }
  const given = m.level.record
  const readings = 'lower' in given ? given : null
  const at = readings === null ? null : { lower: readings.lower, upper: 'upper' in given ? given.upper : 0 }
  const shifted = at && shift(at)
  const record =
    shifted === null
      ? given
      : ({ ...given, lower: shifted.lower, ...('upper' in given && { upper: shifted.upper }) } as LevelRecord)
  const rows = levelRows(model, { ...m.level, record }, built)
  if (rows === null) return null
  const extra = (m.clampingSigma / m.level.sigma) ** 2
  return rows.map(row => {
    const residual = row.shared >= 0 ? row.residual + row.perShared * values[row.shared]! : row.residual
    return rowOf(solved, m, move, built, shifted, slots, residual, row.bySlot, 1 + extra, row.shared, row.perShared)
  })
}

const isOthersFeed = (m: Measured, slot: number): boolean =>
  m.kind === 'sighting' && !m.isOwnFeed && FEED_SLOTS.includes(slot as never)

function rowOf(
  solved: Solved,
  m: Measured,
  move: MoveByWay,
  built: Built,
  at: { lower: number; upper: number } | null,
  slots: Int16Array,
  residual: number,
  bySlot: Float64Array,
  noise: number,
  shared = -1,
  perShared = 0,
): WhitenedRow {
  const { model } = solved.station
  const byWay = new Float64Array(WAY_COUNT)
  for (let k = 0; k < SLOTS; k++) if (!isOthersFeed(m, k)) byWay[k] = bySlot[k]!
  if (at !== null)
    for (const axis of AXES) {
      const per = bySlot[axis === 'lower' ? SLOT.lowerZero : SLOT.upperZero]!
      if (per === 0 || Number.isNaN(at[axis])) continue
      const t = trueAngle(model, built, axis, at[axis])
      byWay[READING[axis]] = t.kind === 'angle' ? per * t.perReading : 0
    }
  // Modelled minus measured is `residual` with the move made: without it the data asks for that much less of it.
  let data = -residual
  for (let k = 0; k < WAY_COUNT; k++) data += byWay[k]! * move[k]!
  return { data, slots, bySlot, shared, perShared, byWay, noise }
}

/** What the rows say: χ² with nothing moved, and of every move the half gradient and the information. */
export interface Evidence {
  n: number
  chi2: number
  g: Float64Array
  /** WAY_COUNT × WAY_COUNT. */
  F: Float64Array
}

const EVERY_WAY: readonly number[] = Array.from({ length: WAY_COUNT }, (_, k) => k)

/** The mount's parameters while rows are taken in, one after the other; in σ of their priors. */
export interface Pass extends Evidence {
  /** The moves that are asked about: g, F and follows know of no others. */
  ways: readonly number[]
  /** Covariance, estimate, and how the estimate follows an unknown move (n × WAY_COUNT). */
  C: Float64Array
  x: Float64Array
  follows: Float64Array
}

export function beginPass(solved: Solved, ways = EVERY_WAY): Pass {
  const { covariance } = solved.fit
  const n = covariance.n
  return {
    ways,
    n: 0,
    chi2: 0,
    g: new Float64Array(WAY_COUNT),
    F: new Float64Array(WAY_COUNT * WAY_COUNT),
    C: Float64Array.from(covariance.a, c => c * solved.sigmaScale ** 2),
    x: new Float64Array(n),
    follows: new Float64Array(n * WAY_COUNT),
  }
}

export const copyOf = (p: Pass): Pass => ({
  ways: p.ways,
  n: p.n,
  chi2: p.chi2,
  g: p.g.slice(),
  F: p.F.slice(),
  C: p.C.slice(),
  x: p.x.slice(),
  follows: p.follows.slice(),
})

/** What one more row would be: its own sensitivity to moves once the parameters have followed, its surprise and its variance. */
export function innovation(
  solved: Solved,
  p: Pass,
  row: WhitenedRow,
): { h: Float64Array; nu: number; v: number; Cb: Float64Array } {
  const { priorSigma } = solved.problem
  const n = p.x.length
  const h = row.byWay.slice()
  const Cb = new Float64Array(n)
  let nu = row.data
  let v = row.noise
  const list: [number, number][] = []
  for (let k = 0; k < SLOTS; k++) {
    const i = row.slots[k]!
    if (i >= 0 && row.bySlot[k] !== 0) list.push([i, row.bySlot[k]! * priorSigma[i]!])
  }
  if (row.shared >= 0 && row.perShared !== 0) list.push([row.shared, row.perShared * priorSigma[row.shared]!])
  for (const [i, b] of list) {
    nu -= b * p.x[i]!
    for (const k of p.ways) h[k]! -= b * p.follows[i * WAY_COUNT + k]!
    for (let j = 0; j < n; j++) Cb[j]! += p.C[j * n + i]! * b
  }
  for (const [i, b] of list) v += b * Cb[i]!
  return { h, nu, v, Cb }
}

/** Takes a row in. */
export function take(solved: Solved, p: Pass, row: WhitenedRow): void {
  const { h, nu, v, Cb } = innovation(solved, p, row)
  const n = p.x.length
  p.n++
  p.chi2 += (nu * nu) / v
  for (const k of p.ways) {
    const hk = h[k]! / v
    if (hk === 0) continue
    p.g[k]! += hk * nu
    for (const l of p.ways) p.F[k * WAY_COUNT + l]! += hk * h[l]!
  }
  for (let i = 0; i < n; i++) {
    const gain = Cb[i]! / v
    if (gain === 0) continue
    p.x[i]! += gain * nu
    for (const k of p.ways) p.follows[i * WAY_COUNT + k]! += gain * h[k]!
    for (let j = 0; j < n; j++) p.C[i * n + j]! -= gain * Cb[j]!
  }
}

/**
 * All measurements, linear about a move; null where a triangle does not close with it.
 * @param ways  the moves that will be asked about; all of them where none are named
 */
export function passOver(
  solved: Solved,
  list: readonly Measured[],
  move: MoveByWay,
  ways?: readonly number[],
): Pass | null {
  const p = beginPass(solved, ways)
  for (const m of list) {
    const rows = rowsOf(solved, m, move)
    if (rows === null) return null
    for (const row of rows) take(solved, p, row)
  }
  return p
}
