/**
 * The steps of the alignment before anything is heard: clock, marks, readouts, rough heading, feed. Radians, readings, millimetres,
 * seconds.
 */
import { feedCheckOf } from '../check/feed.ts'
import { splitPriorId } from '../fit/parameters.ts'
import { compareMark } from '../level/marks.ts'
import { AXES } from '../mount/names.ts'
import { entryOf, type ParameterId } from '../mount/parameters.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import { SLOTS, slotOf } from '../mount/slots.ts'
import { alignmentOf, lastAct } from '../records/alignment.ts'
import { checkAt, clockChecksOf } from '../records/clockchecks.ts'
import type { Axis, PriorRecord, ReferenceRecord } from '../records/fieldbook.ts'
import { isGuess, isOffsetFed } from '../records/guesses.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { insideOf, ONE_IN_TWENTY, settlingSigma } from './budget.ts'
import { clockLimit, gravityAxes, HEADED_BY, headingLimit, inReadings, isCounted, zeroLimit } from './limits.ts'
import {
  type AlignmentCase,
  lastChange,
  latest,
  type Need,
  openState,
  type StepFinding,
  spanOf,
  toldByValues,
  type Value,
} from './step.ts'

/**
 * The clock. A check counts for a day; where every sighting that counts was made with its clock known, nothing is missing though the
 * check has aged.
 */
export function clockCheckStep(c: AlignmentCase): StepFinding {
  const { record, now, answered } = c
  const checks = clockChecksOf(record)
  // Checks are dated by the phone's clock, `now` is the true time: with a phone that is ahead the last check seems to lie in the future.
  const phoneNow = now + 1000 * Math.max(0, checks[0]?.offsetS ?? 0) + 1000
  const fresh = checkAt(record, utcFromMs(phoneNow))
  const check = fresh ?? checks[0] ?? null
  const tolerance = clockLimit(c)
  const values: Value[] =
    check === null
      ? []
      : [
          {
            of: 'clock',
            value: check.offsetS,
            sigma: check.sigmaS,
            unit: 's',
            tolerance,
            // The offset itself is corrected: what is left is how well it is known.
            inside: insideOf(0, check.sigmaS, tolerance),
            sigmaWanted: ONE_IN_TWENTY * check.sigmaS > tolerance ? tolerance / ONE_IN_TWENTY : null,
            utc: check.utc,
          },
        ]
  const needs: Need[] = [{ what: 'clock-check', n: 1 }]
  if (check === null) return { state: { kind: 'not-begun' }, needs, values }
  const counted = answered.solved.problem.sightings.map(s => s.record)
  const isKnown = (s: (typeof counted)[number]): boolean =>
    s.clockOffsetS !== undefined || checkAt(record, s.utc) !== null
  if (fresh !== null || (counted.length > 0 && counted.every(isKnown))) return toldByValues(values)
  return { state: { kind: 'undone', by: { kind: 'age' }, was: check.utc }, needs, values }
}

/** Between two readings of a mark this far apart the axis was driven: common practice, no source. ms */
const DRIVEN_MS = 600_000

/** Marks of the axes that count: each read, and read again after the axis was driven, so that a lost count would have shown. */
export function referencesStep(c: AlignmentCase): StepFinding {
  const { record, now } = c
  const counted = AXES.filter(axis => isCounted(c, axis))
  if (counted.length === 0) return { state: { kind: 'not-for', why: 'no-counts' }, needs: [], values: [] }
  const values: Value[] = []
  const needs: Need[] = []
  let undone: { change: ReturnType<typeof lastChange>; had: string } | null = null
  for (const axis of counted) {
    const zero: ParameterId = `${axis}Zero`
    const change = lastChange(record, [zero], null, now, true)
    const { since, before } = spanOf(
      (record.references ?? []).filter(r => r.axis === axis),
      change,
    )
    const proof = proven(since)
    if (proof === null) {
      needs.push({
        what: 'mark',
        axis,
        mark: since.at(-1)?.mark ?? before.at(-1)?.mark ?? null,
        again: since.length > 0,
        n: 1,
      })
      if (since.length === 0 && before.length > 0) undone = { change, had: before.at(-1)!.utc }
      continue
    }
    const said = compareMark(record, proof)
    if (said.kind !== 'agrees' && said.kind !== 'differs') continue
    const tolerance = inReadings(c, axis, zeroLimit(c, axis), proof.reading)
    values.push({
      of: 'mark',
      axis,
      mark: proof.mark,
      value: said.difference,
      sigma: said.sigma,
      unit: 'reading',
      tolerance,
      inside:
        said.kind === 'differs'
          ? 'outside'
          : tolerance === null
            ? null
            : insideOf(said.difference, said.sigma, tolerance),
      sigmaWanted:
        tolerance !== null &&
        said.kind === 'agrees' &&
        insideOf(said.difference, said.sigma, tolerance) === 'cannot-tell'
          ? settlingSigma(said.difference, tolerance)
          : null,
      utc: proof.utc,
    })
  }
  if (values.some(v => v.inside === 'outside')) return { ...toldByValues(values), needs }
  if (needs.length === 0) return toldByValues(values)
  const begun = values.length > 0 || needs.some(n => n.what === 'mark' && n.again)
  return { state: openState(begun, undone?.change ?? null, undone?.had ?? null), needs, values }
}

/** The last reading of a mark that was read before with time to drive in between. @param readings  oldest first */
function proven(readings: readonly ReferenceRecord[]): ReferenceRecord | null {
  for (const r of [...readings].reverse())
    if (readings.some(o => o.mark === r.mark && msFromUtc(o.utc) <= msFromUtc(r.utc) - DRIVEN_MS)) return r
  return null
}

/** Everything known of a parameter by hand at an instant: the prior that holds, from the station or from its last change. */
function givenFor(c: AlignmentCase, id: ParameterId): PriorRecord | null {
  const change = lastChange(c.record, [id], null, c.now)
  const given = change === null ? (c.record.priors ?? []) : (change.expect ?? [])
  return given.filter(p => splitPriorId(p).id === id).at(-1) ?? null
}

/** How well a parameter is known now against what it began with. */
function sigmasOf(c: AlignmentCase, slot: number): { sigma: number; prior: number } | null {
  const { solved, covariance, feed } = c.answered
  const index = solved.parameters.slotsAt(c.now, feed.id)[slot]!
  if (index < 0) return null
  return {
    sigma: Math.sqrt(Math.max(0, covariance[slot * SLOTS + slot]!)),
    prior: solved.parameters.list[index]!.prior.sigma,
  }
}
/** Below this share of the prior's σ, measurements have determined something. */
const TOLD = 0.5

/** 1 σ of an axis's angle, the worst of three readings over its way; null where a triangle does not close. */
function angleSigma(c: AlignmentCase, axis: Axis): Rad | null {
  const { built, covariance: C } = c.answered
  const { model } = c.answered.solved.station
  const slots = AXIS_SLOTS[axis]
  const { minReading, maxReading } = model[axis]
  let worst: Rad | null = null
  for (const share of [0.1, 0.5, 0.9]) {
    const at = trueAngle(model, built, axis, minReading + share * (maxReading - minReading))
    if (at.kind !== 'angle') continue
    const g: readonly (readonly [slot: number, per: number])[] = [
      [slots.zero, 1],
      [slots.scale, at.perScale],
      [slots.base, at.perBase],
      [slots.rod, at.perRod],
    ]
    let sum = 0
    for (const [a, x] of g) for (const [b, y] of g) sum += x * y * C[a * SLOTS + b]!
    const sigma = Math.sqrt(Math.max(0, sum))
    worst = worst === null ? sigma : Math.max(worst, sigma)
  }
  return worst
}

/** The angle that each axis turns through for its readings. Gravity does not show that of an upright lower axis; the sky does. */
export function readoutsStep(c: AlignmentCase): StepFinding {
  const { record } = c
  const values: Value[] = []
  const needs: Need[] = []
  let undone: { change: ReturnType<typeof lastChange>; had: string } | null = null
  for (const axis of AXES) if (isGuess(record, `mount.${axis}.readout`)) needs.push({ what: 'readout', axis, n: 1 })
  for (const axis of gravityAxes(c)) {
    if (isGuess(record, `mount.${axis}.readout`)) continue
    const zero: ParameterId = `${axis}Zero`
    const change = lastChange(record, [zero], null, c.now)
    const { calibration } = record.mount[axis]
    const isFresh =
      calibration !== undefined && (change === null || msFromUtc(calibration.utc) >= msFromUtc(change.utc))
    const known = sigmasOf(c, AXIS_SLOTS[axis].zero)
    const isTold = known !== null && known.sigma < TOLD * known.prior
    const sigma = angleSigma(c, axis)
    if (!isFresh && !isTold && givenFor(c, zero)?.measured !== true) {
      needs.push({ what: 'calibration', axis, n: 1 })
      const had = calibration?.utc ?? sightedBefore(c, change)
      if (had !== null) undone = { change, had }
      continue
    }
    const tolerance = zeroLimit(c, axis)
    const isFine = sigma !== null && ONE_IN_TWENTY * sigma <= tolerance
    values.push({
      of: 'readout',
      axis,
      value: null,
      sigma,
      unit: 'rad',
      tolerance,
      inside: isFine ? 'inside' : 'cannot-tell',
      sigmaWanted: isFine ? null : tolerance / ONE_IN_TWENTY,
      utc: isFresh ? calibration.utc : null,
    })
  }
  if (needs.length === 0) return toldByValues(values)
  return { state: openState(values.length > 0, undone?.change ?? null, undone?.had ?? null), needs, values }
}

/** With this many sightings before a change the mount was known by them. */
const KNOWN_BY = 4

/** When the mount was last sighted before a change, where it was known by its sightings. */
export function sightedBefore(c: AlignmentCase, change: ReturnType<typeof lastChange>): string | null {
  if (change === null) return null
  const { before } = spanOf(
    c.answered.solved.problem.sightings.map(s => s.record),
    change,
  )
  return before.length < KNOWN_BY ? null : before.at(-1)!.utc
}

/**
 * The rough heading: good enough when the beam finds the Sun without a search. Set by the Sun's line it rests on the person's word; what has
 * been sighted since confirms it.
 */
export function headingStep(c: AlignmentCase): StepFinding {
  const { record, now } = c
  const { kind } = c.answered.solved.station.model
  const id = HEADED_BY[kind]
  const slot = slotOf(id, kind)!
  const known = sigmasOf(c, slot)!
  const change = lastChange(record, [id], null, now)
  const changeMs = change === null ? -Infinity : msFromUtc(change.utc)
  const usual = entryOf(id)
  const given = givenFor(c, id)
  const word = lastAct(alignmentOf(record.alignment), 'set', 'heading', now)
  const isWord = word !== null && msFromUtc(word.utc) >= changeMs
  const isGiven =
    given !== null || (change === null && usual.family === 'heading' && !isGuess(record, 'mount.headingDeg'))
  const tolerance = headingLimit(c)
  const { since, before } = spanOf(
    c.answered.solved.problem.sightings.map(s => s.record),
    change,
  )
  const isSighted = since.length > 0 && known.sigma < TOLD * known.prior
  const isFine = ONE_IN_TWENTY * known.sigma <= tolerance
  const value: Value = {
    of: 'heading',
    value:
      usual.family === 'heading' && (isGiven || isSighted)
        ? radFromDeg(record.mount.headingDeg ?? 0) + c.answered.built[slot]!
        : null,
    sigma: isGiven || isSighted ? known.sigma : null,
    unit: 'rad',
    tolerance,
    inside: isFine && (isGiven || isSighted) ? 'inside' : 'cannot-tell',
    sigmaWanted: isFine ? null : tolerance / ONE_IN_TWENTY,
    utc: isSighted ? since.at(-1)!.utc : isWord ? word.utc : null,
  }
  if (isSighted && isFine) return { state: { kind: 'done', utc: value.utc }, needs: [], values: [value] }
  if (isWord || isGiven || isSighted) return { state: { kind: 'entered', utc: value.utc }, needs: [], values: [value] }
  const had = before.at(-1)?.utc ?? word?.utc ?? null
  return { state: openState(false, change, had), needs: [{ what: 'heading', n: 1 }], values: [] }
}

/** The feed on the axis: by the tape from the rim, and by its shadow. */
export function feedStep(c: AlignmentCase): StepFinding {
  const { record, now, answered } = c
  const { feed, solved } = answered
  if (isOffsetFed(record)) return { state: { kind: 'not-for', why: 'offset-fed' }, needs: [], values: [] }
  const change = lastChange(record, ['feedRight'], feed.id, now)
  const rims = spanOf(
    (record.dish.measured?.rims ?? []).filter(r => r.feed === feed.id),
    change,
  )
  const shadows = spanOf(
    solved.problem.sightings.map(s => s.record).filter(s => s.method === 'shadow' && (s.feed ?? feed.id) === feed.id),
    change,
  )
  const needs: Need[] = []
  if (rims.since.length === 0) needs.push({ what: 'rim', n: 1 })
  if (shadows.since.length === 0) needs.push({ what: 'shadow', n: 1 })
  const utcs = [...rims.since, ...shadows.since].map(r => ({ utc: r.utc }))
  const values: Value[] = []
  const has = utcs.length > 0
  if (has) {
    const check = feedCheckOf(solved, feed, now)
    const sigma = Math.max(check.sigmaRight, check.sigmaUp)
    const inside = insideOf(check.size, sigma, c.budget.feed)
    values.push({
      of: 'feed',
      value: check.size,
      sigma,
      unit: 'mm',
      tolerance: c.budget.feed,
      inside,
      sigmaWanted: inside === 'cannot-tell' ? settlingSigma(check.size, c.budget.feed) : null,
      utc: latest(utcs),
    })
    if (check.verdict === 'not-as-noted') values[0]!.inside = 'outside'
  }
  if (needs.length === 0) return toldByValues(values)
  const had = latest([...rims.before, ...shadows.before].map(r => ({ utc: r.utc })))
  return { state: openState(has, has ? null : change, had), needs, values }
}
