/**
 * The steps of the alignment under the sky: first search, sightings, solution, bolts, proof, and what was carried over to the tracking
 * program. Radians.
 */
import { adviceFor } from '../export/advice.ts'
import { boltsOf } from '../export/bolts.ts'
import { lineOf } from '../fit/methods.ts'
import { isFound } from '../fit/nextbest.ts'
import type { Sighting } from '../fit/sighting.ts'
import { offsetAtReadings } from '../fit/skyerror.ts'
import { solutionJson } from '../fit/solution.ts'
import { carriedOverChange } from '../level/carryover.ts'
import { aimer, midRange } from '../mount/aim.ts'
import { unitOf } from '../mount/parameters.ts'
import { onPaper, slotOf } from '../mount/slots.ts'
import { hasMovedOf } from '../plan/hasmoved.ts'
import { knownAdjusters } from '../records/adjusters.ts'
import { alignmentOf, type CarriedNumbers, lastCarried } from '../records/alignment.ts'
import type { ChangeRecord, PriorRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { sightedBefore } from './ground.ts'
import { carriedLimit } from './limits.ts'
import { type AlignmentCase, openState, type StepFinding, type StepState, undoneBy, type Value } from './step.ts'

/** The sightings that took part, oldest first. */
const usedOf = ({ answered: { solved } }: AlignmentCase): Sighting[] =>
  solved.problem.sightings
    .filter((_, k) => solved.fit.kept[k] === 1)
    .sort((a, b) => msFromUtc(a.record.utc) - msFromUtc(b.record.utc))

/** Changes until now that restart something, the latest first. */
const changesOf = ({ record, now }: AlignmentCase): ChangeRecord[] =>
  (record.changes ?? []).filter(c => msFromUtc(c.utc) <= now).sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))

const since = (sightings: readonly Sighting[], change: ChangeRecord | null): Sighting[] =>
  change === null ? [...sightings] : sightings.filter(s => msFromUtc(s.record.utc) >= msFromUtc(change.utc))

/**
 * The first time that anything is heard. Done by a sighting by signal while the beam has stayed sure to find the Sun; not needed where
 * it would be found at once.
 */
export function firstSearchStep(c: AlignmentCase): StepFinding {
  const { answered, budget } = c
  const { sky, feed } = answered
  const isSure = sky.points.length > 0 && isFound(sky.after.p95, feed)
  const heard = usedOf(c).filter(s => lineOf(s.record.method) === 'beam' && (s.record.feed ?? feed.id) === feed.id)
  const value: Value = {
    of: 'search',
    value: sky.points.length === 0 ? null : sky.after.p95,
    sigma: null,
    unit: 'rad',
    tolerance: budget.hpbw,
    inside: isSure ? 'inside' : 'outside',
    sigmaWanted: null,
    utc: heard.at(-1)?.record.utc ?? null,
  }
  const values = value.value === null ? [] : [value]
  if (heard.length > 0 && isSure) return { state: { kind: 'done', utc: value.utc }, needs: [], values }
  if (isSure) return { state: { kind: 'covered' }, needs: [], values }
  const change = changesOf(c)[0] ?? null
  const after = since(heard, change)
  const had = change === null ? null : (heard.filter(s => !after.includes(s)).at(-1)?.record.utc ?? null)
  // Heard, but too few to be sure of the next one: the search is over, the sightings have begun.
  if (after.length > 0) return { state: { kind: 'done', utc: after.at(-1)!.record.utc }, needs: [], values }
  return { state: openState(false, change, had), needs: [{ what: 'signal', n: 1 }], values }
}

/** What is measured of a station counts as expected: it needs no sighting to be found. */
const measuredOf = (priors: readonly PriorRecord[] | undefined): PriorRecord[] =>
  (priors ?? []).filter(p => p.measured === true)

/** How many sightings are still wanted, and since which change; nothing where they suffice. */
function wanted(c: AlignmentCase): { n: number; change: ChangeRecord | null } {
  const { record } = c
  const used = usedOf(c)
  const begun = {
    change: null,
    n: carriedOverChange(record, ['all'], measuredOf(record.priors)).sightingsNeeded - used.length,
  }
  return changesOf(c)
    .map(change => ({
      change,
      n: carriedOverChange(record, change.what, change.expect).sightingsNeeded - since(used, change).length,
    }))
    .reduce<{ n: number; change: ChangeRecord | null }>((a, b) => (b.n > a.n ? b : a), begun)
}

/** Enough sightings that what is open can be found, and one that is wrong would show. */
export function sightingsStep(c: AlignmentCase): StepFinding {
  const used = usedOf(c)
  const { n, change } = wanted(c)
  const utc = used.at(-1)?.record.utc ?? null
  const values: Value[] = used.length === 0 ? [] : [plain('sightings', used.length, 'sightings', utc)]
  if (c.whyNot.length === 0 || (n <= 0 && used.length > 0)) return { state: { kind: 'done', utc }, needs: [], values }
  const begun = since(used, change).length > 0
  return {
    state: openState(begun, begun ? null : change, sightedBefore(c, change)),
    needs: [{ what: 'sighting', n }],
    values,
  }
}

const plain = (of: 'sightings', value: number, unit: 'sightings', utc: string | null): Value => ({
  of,
  value,
  sigma: null,
  unit,
  tolerance: null,
  inside: null,
  sigmaWanted: null,
  utc,
})

/** An error that is stated with nine chances in ten needs no σ to lie on one side. */
const errorValue = (of: 'error' | 'as-entered' | 'unseen', error: Rad, limit: Rad, utc: string | null): Value => ({
  of,
  value: error,
  sigma: null,
  unit: 'rad',
  tolerance: limit,
  inside: error <= limit ? 'inside' : 'outside',
  sigmaWanted: null,
  utc,
})

/** The last change, where nothing that shows its effect was sighted since. */
function untold(c: AlignmentCase): { change: ChangeRecord; was: string } | null {
  const { change, n } = wanted(c)
  const was = sightedBefore(c, change)
  return change !== null && n > 0 && was !== null ? { change, was } : null
}

/** The solution: done when its loss is within the tolerance, and no suspect stands. */
export function solveStep(c: AlignmentCase): StepFinding {
  const used = usedOf(c)
  const { sky } = c.answered
  const utc = used.at(-1)?.record.utc ?? null
  const values =
    used.length === 0 || sky.points.length === 0 ? [] : [errorValue('error', sky.after.p95, sky.tolerance, utc)]
  if (c.whyNot.length === 0) return { state: { kind: 'done', utc }, needs: [], values }
  if (used.length === 0 && c.whyNot[0]?.kind !== 'all-aside')
    return { state: { kind: 'not-begun' }, needs: [{ what: 'step', step: 'sightings', n: null }], values }
  const gone = untold(c)
  const state: StepState = gone ? { kind: 'undone', by: undoneBy(gone.change), was: gone.was } : { kind: 'needs' }
  return { state, needs: c.whyNot.map(whyNot => ({ what: 'verdict', whyNot, n: null })), values }
}

/** What a spanner can correct: nothing is needed where a program with the entered numbers would do, or where it has the solution's. */
export function boltsStep(c: AlignmentCase): StepFinding {
  const { answered, record, now } = c
  const { sky } = answered
  if (c.whyNot.length > 0)
    return { state: { kind: 'not-begun' }, needs: [{ what: 'step', step: 'solve', n: null }], values: [] }
  const value = errorValue('as-entered', sky.before.p95, sky.tolerance, null)
  if (value.inside === 'inside') return { state: { kind: 'done', utc: null }, needs: [], values: [value] }
  if (carryStep(c).state.kind === 'done') return { state: { kind: 'covered' }, needs: [], values: [value] }
  const nowUtc = utcFromMs(now)
  const adjusters = knownAdjusters(record.adjusters)
  const turns =
    adjusters.length > 0
      ? boltsOf(answered, adjusters, nowUtc).turn.length
      : solutionJson(answered, nowUtc).parameters.filter(
          p =>
            adviceFor(p, { kind: record.mount.kind, latDeg: record.site.latDeg }).kind === 'move' &&
            (p.feed === undefined || p.feed === answered.feed.id),
        ).length
  // Nothing left that a spanner reaches: what remains is for the program.
  if (turns === 0)
    return { state: { kind: 'done', utc: null }, needs: [], values: [{ ...value, inside: null, tolerance: null }] }
  return { state: { kind: 'needs' }, needs: [{ what: 'turn', n: turns }], values: [value] }
}

/** The proof: sightings of another day, in which a move that matters would have shown, and none did. */
export function verifyStep(c: AlignmentCase): StepFinding {
  const { answered, record, now } = c
  if (c.whyNot.length > 0)
    return { state: { kind: 'not-begun' }, needs: [{ what: 'step', step: 'solve', n: null }], values: [] }
  const { verdict, since: from, split, visits } = hasMovedOf(answered.solved, record, answered.feed, now)
  const utc = from === null ? null : utcFromMs(from.firstMs)
  const values = split === null ? [] : [errorValue('unseen', split.check.atMost, split.check.tolerance, utc)]
  if (verdict === 'holds') return { state: { kind: 'done', utc }, needs: [], values }
  if (verdict === 'moved') return { state: { kind: 'off', utc }, needs: [], values: [] }
  return {
    state: { kind: visits > 1 ? 'needs' : 'not-begun' },
    needs: [{ what: 'visit', n: 1 }],
    values: values.map(v => ({ ...v, inside: 'cannot-tell' })),
  }
}

/** The tracking program has the numbers: the person says so, until the mount is altered or the solution has moved away from them. */
export function carryStep(c: AlignmentCase): StepFinding {
  const { answered, record, now } = c
  const last = lastCarried(alignmentOf(record.alignment), answered.feed.id, now)
  if (last === null)
    return {
      state: { kind: 'not-begun' },
      needs: [c.whyNot.length > 0 ? { what: 'step', step: 'solve', n: null } : { what: 'carry', n: 1 }],
      values: [],
    }
  const since = carriedSince(c, last.numbers)
  const values: Value[] =
    since === null
      ? []
      : [
          {
            of: 'carried',
            value: since,
            sigma: null,
            unit: 'rad',
            tolerance: carriedLimit(c),
            inside: since <= carriedLimit(c) ? 'inside' : 'outside',
            sigmaWanted: null,
            utc: last.utc,
          },
        ]
  const again = { needs: [{ what: 'carry' as const, n: 1 }], values }
  const change = changesOf(c).find(x => msFromUtc(x.utc) > msFromUtc(last.utc))
  if (change) return { state: { kind: 'undone', by: undoneBy(change), was: last.utc }, ...again }
  if (values[0]?.inside === 'outside')
    return { state: { kind: 'undone', by: { kind: 'numbers' }, was: last.utc }, ...again }
  return { state: { kind: 'done', utc: last.utc }, needs: [], values }
}

/** How far the beam now misses the Moon where the program has the numbers as carried: 95 % of the path stays below, rad. Null: not known. */
function carriedSince({ answered }: AlignmentCase, numbers: CarriedNumbers | undefined): Rad | null {
  const { built, feed, sky, solved } = answered
  const { station } = solved
  const { model } = station
  if (numbers === undefined || sky.points.length === 0) return null
  const then = onPaper()
  for (const { id, feed: of, value } of numbers) {
    const slot = slotOf(id, model.kind)
    if (slot === null || (of !== undefined && of !== feed.id)) continue
    then[slot] = unitOf(id) === 'deg' ? radFromDeg(value) : value
  }
  const onto = aimer(model, then, 'beam')
  const mid = midRange(model, then)
  const apart = sky.points
    .map(({ moon }) => {
      const reach = onto(moon.direction, mid)
      const off = reach && offsetAtReadings(station, built, moon, reach)
      return off ? Math.hypot(...off) : Math.PI
    })
    .sort((a, b) => a - b)
  return apart[Math.ceil(0.95 * apart.length) - 1]!
}
