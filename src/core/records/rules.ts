/**
 * Rules between fields and between records: feeds that exist, triangles that close, covariances that are positive definite.
 * Every rule checks the types of its fields and says nothing when one is wrong, since the shape (schema.ts)
 * has reported that already: so one broken field does not hide another rule.
 */
import { AXES } from '../mount/names.ts'
import { CHANGE_NAMES, FEED_PARAMETERS, knownEntry, mostOf, type ParameterId, unitOf } from '../mount/parameters.ts'
import { closingReadings, includedAngle, type Jack } from '../readout/jack.ts'
import { findSource } from '../sky/sources.ts'
import type { FaultCollector } from './faultlist.ts'
import type { AnyList } from './kinds.ts'
import { isLoose, type Loose } from './loose.ts'
import { NOISE_OF } from './schemas/noise.ts'
import { SCAN_KINDS } from './schemas/scan.ts'
import { quoted } from './shown.ts'

const isNumber = (x: unknown): x is number => typeof x === 'number' && Number.isFinite(x)
const loose = (x: unknown): Loose => (isLoose(x) ? x : {})

/** What the rules of one station need to know of it. */
export interface StationFacts {
  kind: unknown
  /** Null when the list of feeds is itself broken: then names of feeds are not checked. */
  feedIds: ReadonlySet<string> | null
  jacks: { lower: Jack | null; upper: Jack | null }
}

function jackOf(axis: unknown): Jack | null {
  const r = loose(loose(axis).readout)
  const { baseArmMm, rodArmMm, lengthAtReadingZeroMm, countsPerMm } = r
  if (r.type !== 'jack') return null
  const positive = (x: unknown): x is number => isNumber(x) && x > 0
  if (!positive(baseArmMm) || !positive(rodArmMm) || !positive(lengthAtReadingZeroMm) || !positive(countsPerMm))
    return null
  return {
    type: 'jack',
    baseArm: baseArmMm,
    rodArm: rodArmMm,
    lengthAtReadingZero: lengthAtReadingZeroMm,
    countsPerMm,
    phiAtAngleZero: 0,
    direction: 1,
  }
}

export function factsOfStation(station: Loose): StationFacts {
  const mount = loose(station.mount)
  const feeds = Array.isArray(station.feeds) ? station.feeds.map(f => loose(f).id) : null
  return {
    kind: mount.kind,
    feedIds: feeds?.every(id => typeof id === 'string') ? new Set(feeds) : null,
    jacks: { lower: jackOf(mount.lower), upper: jackOf(mount.upper) },
  }
}

const shortest = (n: number): string => String(Number(n.toFixed(2)))

/** Null, or why no triangle closes at this reading. */
function outsideTriangle(jack: Jack, reading: number): string | null {
  const length = jack.lengthAtReadingZero + reading / jack.countsPerMm
  if (includedAngle(length, jack.baseArm, jack.rodArm) !== null) return null
  const [min, max] = closingReadings(jack)
  return (
    `reading ${reading} is outside the jack's triangle (length ${shortest(length)} mm, arms ${jack.baseArm} and ${jack.rodArm} mm): ` +
    `allowed are readings between ${shortest(min)} and ${shortest(max)} counts`
  )
}

function checkReading(
  facts: StationFacts,
  axis: 'lower' | 'upper',
  reading: unknown,
  path: string,
  faults: FaultCollector,
): void {
  const jack = facts.jacks[axis]
  if (jack === null || !isNumber(reading)) return
  const why = outsideTriangle(jack, reading)
  if (why !== null) faults.add(path, why)
}

/** The rules of mount and feeds. */
export function checkStationRules(station: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  const mount = loose(station.mount)
  if (
    (mount.kind === 'az-over-el' || mount.kind === 'x-y') &&
    mount.headingDeg === undefined &&
    isLoose(station.mount)
  ) {
    faults.add(`${path}.mount.headingDeg`, `headingDeg is missing: mount kind ${mount.kind} needs it, from 0 to 360`)
  }
  for (const axis of AXES) {
    const { minReading, maxReading } = loose(mount[axis])
    if (isNumber(minReading) && isNumber(maxReading) && !(minReading < maxReading)) {
      faults.add(
        `${path}.mount.${axis}.minReading`,
        `minReading must be below maxReading, got ${minReading} and ${maxReading}`,
      )
    }
    checkReading(facts, axis, minReading, `${path}.mount.${axis}.minReading`, faults)
    checkReading(facts, axis, maxReading, `${path}.mount.${axis}.maxReading`, faults)
  }
  if (Array.isArray(station.feeds) && station.feeds.length === 0)
    faults.add(`${path}.feeds`, 'feeds must hold at least one feed')
  checkRehearsal(station, path, faults)
}

/** A rehearsal has all that makes it, and no other station has any of it; what it copies is a valid station of that kind. */
function checkRehearsal(station: Loose, path: string, faults: FaultCollector): void {
  const { rehearsal, rehearsalSetup } = station
  if (rehearsal === true && rehearsalSetup === undefined)
    faults.add(
      `${path}.rehearsalSetup`,
      'rehearsalSetup is missing: a rehearsal needs its seed, difficulty, kind and start',
    )
  if (rehearsalSetup !== undefined && rehearsal !== true)
    faults.add(`${path}.rehearsal`, 'rehearsal must be true where there is a rehearsalSetup')
  const { paper, kind, deeds } = loose(rehearsalSetup)
  if (Array.isArray(deeds))
    for (const [i, { id }] of deeds.map(loose).entries())
      if (typeof id === 'string' && knownEntry(id.split(':')[0]!) === null)
        faults.add(`${path}.rehearsalSetup.deeds[${i}].id`, `there is no parameter ${quoted(id)} to alter`)
  if (!isLoose(paper)) return
  const copied = `${path}.rehearsalSetup.paper`
  const facts = factsOfStation(paper)
  checkStationRules(paper, facts, copied, faults)
  if (typeof kind === 'string' && typeof facts.kind === 'string' && kind !== facts.kind)
    faults.add(`${path}.rehearsalSetup.kind`, `kind must be that of the paper, ${facts.kind}`)
}

const listing = (facts: StationFacts): string => {
  const ids = [...(facts.feedIds ?? [])].slice(0, 10).map(id => quoted(id))
  return ids.length === 0 ? 'none' : ids.join(', ')
}

function checkFeedExists(facts: StationFacts, feed: unknown, path: string, faults: FaultCollector): void {
  if (facts.feedIds === null || typeof feed !== 'string' || facts.feedIds.has(feed)) return
  faults.add(path, `there is no feed ${quoted(feed)} at this station, whose feeds are ${listing(facts)}`)
}

/** Targets by name. */
function checkTargetRules(target: unknown, path: string, faults: FaultCollector): void {
  const { type, name } = loose(target)
  if (type === 'source' && typeof name === 'string' && name !== '' && findSource(name) === null) {
    faults.add(`${path}.name`, `there is no radio source ${quoted(name)} in the app's list`)
  }
}

function checkSighting(s: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  checkTargetRules(s.target, `${path}.target`, faults)
  checkReading(facts, 'lower', s.lower, `${path}.lower`, faults)
  checkReading(facts, 'upper', s.upper, `${path}.upper`, faults)
  if (s.feed !== undefined) checkFeedExists(facts, s.feed, `${path}.feed`, faults)
  else if (facts.feedIds !== null && facts.feedIds.size > 1 && typeof s.method === 'string' && s.method !== 'optical') {
    faults.add(
      `${path}.feed`,
      `feed is missing: the station has several, so a ${quoted(s.method)} sighting must name its own`,
    )
  }
  if (s.method === 'shadow') {
    if (s.shadow === undefined)
      faults.add(`${path}.shadow`, 'shadow is missing: a shadow sighting needs { rightMm, upMm }')
    const { type } = loose(s.target)
    if (typeof type === 'string' && type !== 'sun')
      faults.add(`${path}.target`, `a shadow sighting must target the sun, got ${quoted(type)}`)
  }
  const { rr, ru, uu } = loose(s.cov)
  if (isNumber(rr) && isNumber(ru) && isNumber(uu) && !(rr > 0 && uu > 0 && rr * uu - ru * ru > 0)) {
    faults.add(
      `${path}.cov`,
      `cov must be positive definite (rr > 0, uu > 0, rr·uu > ru²), got rr ${rr}, ru ${ru}, uu ${uu}`,
    )
  }
}

function checkLevel(level: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (level.what === 'lower-axis-elevation' && facts.kind === 'el-over-az') {
    faults.add(
      `${path}.what`,
      'lower-axis-elevation is not for an el-over-az mount: its lower axis is measured as mast-lean',
    )
  }
  if (level.what === 'upper-axis-elevation' || level.what === 'dish-elevation') {
    checkReading(facts, 'lower', level.lower, `${path}.lower`, faults)
  }
  if (level.what === 'dish-elevation') checkReading(facts, 'upper', level.upper, `${path}.upper`, faults)
}

function checkReference(reference: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (reference.axis === 'lower' || reference.axis === 'upper') {
    checkReading(facts, reference.axis, reference.reading, `${path}.reading`, faults)
  }
}

const UNIT_WORDS = { deg: ' degrees', mm: ' mm', ratio: '' } as const

function checkPriorValue(id: ParameterId, value: unknown, path: string, faults: FaultCollector): void {
  if (!isNumber(value)) return
  const most = mostOf(id)
  if (Math.abs(value) > most)
    faults.add(
      `${path}.value`,
      `value of ${id} must be from -${most} to ${most}${UNIT_WORDS[unitOf(id)]}, got ${value}`,
    )
}

function checkPrior(prior: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (typeof prior.id !== 'string') return
  const colon = prior.id.indexOf(':')
  const id = colon < 0 ? prior.id : prior.id.slice(0, colon)
  const feed = colon < 0 ? prior.feed : prior.id.slice(colon + 1)
  if (knownEntry(id) === null) {
    faults.add(
      `${path}.id`,
      `id must be a parameter of the mount as built (such as "heading" or "feedRight:a"), got ${quoted(prior.id)}`,
    )
    return
  }
  checkPriorValue(id as ParameterId, prior.value, path, faults)
  if (feed === undefined) return
  const at = colon < 0 ? `${path}.feed` : `${path}.id`
  if (FEED_PARAMETERS.has(id)) checkFeedExists(facts, feed, at, faults)
  else faults.add(at, `${id} belongs to the mount and not to a feed`)
  if (colon >= 0 && typeof prior.feed === 'string' && prior.feed !== feed) {
    faults.add(`${path}.feed`, `feed must be the one named in id, ${quoted(prior.id)}, got ${quoted(prior.feed)}`)
  }
}

function checkChange(change: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (Array.isArray(change.what)) {
    change.what.forEach((what: unknown, i) => {
      if (typeof what !== 'string' || CHANGE_NAMES.has(what) || faults.isFull()) return
      const at = `${path}.what[${i}]`
      if (what.startsWith('feed:')) checkFeedExists(facts, what.slice('feed:'.length), at, faults)
      else faults.add(at, `what[${i}] must be one of ${[...CHANGE_NAMES].join(', ')} or feed:ID, got ${quoted(what)}`)
    })
  }
  if (Array.isArray(change.expect)) {
    change.expect.forEach((prior: unknown, i) => {
      if (isLoose(prior) && !faults.isFull()) checkPrior(prior, facts, `${path}.expect[${i}]`, faults)
    })
  }
}

/** Noise of a kind that the program knows; entries of another program are left alone. */
function checkNoise(noise: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (noise.of === 'sun-row') checkFeedExists(facts, noise.feed, `${path}.feed`, faults)
  if (!(NOISE_OF as readonly unknown[]).includes(noise.of)) return
  checkFeedExists(facts, noise.feed, `${path}.feed`, faults)
  if ((noise.yDb === undefined) === (noise.levels === undefined))
    faults.add(`${path}.yDb`, 'a noise record has either yDb or levels { hot, cold, unit }, and not both')
  const { hot, cold, unit } = loose(noise.levels)
  if (unit === 'power' && isNumber(hot) && isNumber(cold) && !(hot > 0 && cold > 0))
    faults.add(`${path}.levels`, `levels in power must both be above 0, got ${hot} and ${cold}`)
  if (noise.of === 'sun' && noise.fluxSfu !== undefined && noise.fluxAt !== undefined)
    faults.add(`${path}.fluxSfu`, 'noise of the sun has either fluxSfu or fluxAt [{ frequencyMHz, sfu }], and not both')
}

/** A half sighting's target must exist. */
const checkHalf: RecordRule = (half, _, path, faults) => checkTargetRules(half.target, `${path}.target`, faults)

/** The feed whose numbers were carried over exists. */
const checkAlignment: RecordRule = (entry, facts, path, faults) => {
  if (entry.what === 'carried') checkFeedExists(facts, entry.feed, `${path}.feed`, faults)
}

/** A scan's readings are within the triangles, its feed and target exist, its gaps do not run backward. */
function checkScan(scan: Loose, facts: StationFacts, path: string, faults: FaultCollector): void {
  if (!(SCAN_KINDS as readonly unknown[]).includes(scan.what)) return
  checkTargetRules(scan.target, `${path}.target`, faults)
  checkFeedExists(facts, scan.feed, `${path}.feed`, faults)
  checkReading(facts, 'lower', scan.lower, `${path}.lower`, faults)
  checkReading(facts, 'upper', scan.upper, `${path}.upper`, faults)
  for (const list of ['samples', 'marks'] as const) {
    const items = scan[list]
    if (scan.what !== 'cross' || !Array.isArray(items)) continue
    items.forEach((s: unknown, i) => {
      if (faults.isFull()) return
      checkReading(facts, 'lower', loose(s).lower, `${path}.${list}[${i}].lower`, faults)
      checkReading(facts, 'upper', loose(s).upper, `${path}.${list}[${i}].upper`, faults)
    })
  }
  if (Array.isArray(scan.gaps)) {
    scan.gaps.forEach((gap: unknown, i) => {
      const { fromS, toS } = loose(gap)
      if (isNumber(fromS) && isNumber(toS) && !(fromS <= toS) && !faults.isFull())
        faults.add(`${path}.gaps[${i}]`, `fromS must not be after toS, got ${fromS} and ${toS}`)
    })
  }
}

type RecordRule = (record: Loose, facts: StationFacts, path: string, faults: FaultCollector) => void

/** The rule of each list's records, beyond their shape. */
export const RECORD_RULES: Partial<Record<AnyList, RecordRule>> = {
  priors: checkPrior,
  changes: checkChange,
  references: checkReference,
  sightings: checkSighting,
  levels: checkLevel,
  noise: checkNoise,
  scans: checkScan,
  halfSightings: checkHalf,
  alignment: checkAlignment,
}
