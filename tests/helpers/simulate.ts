/**
 * Invented stations with a known truth: mount, feeds, sightings of every method, levels, references, changes. The mount and its
 * deviations are the rehearsal's (core/rehearse, its own equations); the observer stays here, with the σ that is stated; the sky is the core's,
 * which is tested against outside sources elsewhere.
 * Truths are drawn from the default priors, cut at two σ. Degrees, ratios, millimetres, as in records.
 */
import { aim } from '../../src/core/mount/aim.ts'
import { MOUNT_KINDS } from '../../src/core/mount/names.ts'
import { type Built, onPaper, slotOf } from '../../src/core/mount/slots.ts'
import type {
  Axis,
  AxisRecord,
  Method,
  MountKind,
  ParameterId,
  ReadoutRecord,
  Side,
  SightingRecord,
  StationRecord,
  TargetRecord,
} from '../../src/core/records/fieldbook.ts'
import { lowestElevation, type Station } from '../../src/core/records/station.ts'
import { stationFromRecord, targetFromRecord } from '../../src/core/records/stationintake.ts'
import { deviationSigma, idsOfTruth } from '../../src/core/rehearse/faults.ts'
import { countsOver, degreesAxis, jackOver } from '../../src/core/rehearse/paper.ts'
import { maskAt } from '../../src/core/sky/horizonmask.ts'
import { moonPath } from '../../src/core/sky/moonpath.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import { type Chance, chance } from './random.ts'
import {
  type LineName,
  offsetDeg,
  readoutAngleDeg,
  type TrueMount,
  type Truth,
  trueMount,
  trueReadings,
} from './truemount.ts'

export const KINDS: readonly MountKind[] = MOUNT_KINDS
export const START_MS = Date.UTC(2026, 4, 1)
const DAY_MS = 86_400_000
const D = Math.PI / 180

export const utcOf = (ms: number): string => new Date(ms).toISOString().replace('.000Z', 'Z')

export { bookOf } from './stations.ts'

/** The core's flat array of the same deviations. */
export function builtFromTruth(record: StationRecord, truth: Truth, feed = record.feeds[0]!.id): Built {
  const built = onPaper()
  for (const [key, value] of Object.entries(truth)) {
    const [id, of] = key.split(':') as [ParameterId, string | undefined]
    if (of !== undefined && of !== feed) continue
    const slot = slotOf(id, record.mount.kind)
    if (slot === null) continue
    built[slot] = id.startsWith('feed') || id.endsWith('Arm') || id.endsWith('Scale') ? value : value * D
  }
  return built
}

// ---- the station -------------------------------------------------------------------------------------------------

/** A jack drawn more widely than a rehearsal's, with all its digits. */
export function jackAxis(c: Chance, fromDeg: number, toDeg: number): AxisRecord {
  const baseArmMm = Math.round(c.between(500, 900))
  const rodArmMm = Math.round(baseArmMm * c.between(0.55, 0.9))
  const direction = c.sign()
  const countsPerMm = Number(c.between(1.5, 8).toFixed(3))
  return jackOver({ baseArmMm, rodArmMm, countsPerMm, direction }, fromDeg, toDeg, 1)
}

export function linearAxis(c: Chance, fromDeg: number, toDeg: number, sense: 1 | -1 = c.sign()): AxisRecord {
  const countsPerDeg = sense * Number(c.between(6, 60).toFixed(2))
  return countsOver(countsPerDeg, c.whole(0, 5000), fromDeg, toDeg)
}

export { degreesAxis }

export type ReadoutKind = ReadoutRecord['type']

function axisOf(c: Chance, type: ReadoutKind, fromDeg: number, toDeg: number): AxisRecord {
  // A jack turns less than half a circle; a wide axis gets a chain and a counter instead.
  if (type === 'jack' && toDeg - fromDeg <= 130) return jackAxis(c, fromDeg, toDeg)
  return type === 'degrees' ? degreesAxis(fromDeg, toDeg) : linearAxis(c, fromDeg, toDeg)
}

export interface StationWish {
  kind?: MountKind
  lower?: ReadoutKind
  upper?: ReadoutKind
  feeds?: number
  latDeg?: number
  frequencyMHz?: number
  mask?: boolean
}

const READOUTS: readonly ReadoutKind[] = ['degrees', 'linear-counts', 'jack']

/** A station on paper, without measurements. */
export function drawStation(c: Chance, wish: StationWish = {}, id = 's'): StationRecord {
  const kind = wish.kind ?? c.one(KINDS)
  const lower = wish.lower ?? c.one(READOUTS)
  const upper = wish.upper ?? c.one(READOUTS)
  const latDeg = wish.latDeg ?? c.sign() * Number(c.between(15, 58).toFixed(3))
  const facing = latDeg >= 0 ? 180 : 0
  const ranges: Record<MountKind, [number, number, number, number]> = {
    'el-over-az': [-10, 370, 0, 95],
    'ha-dec': [-100, 100, -50, 50],
    'az-over-el': [0, 90, -65, 65],
    'x-y': [-80, 80, -80, 80],
  }
  const [l0, l1, u0, u1] = ranges[kind]
  const headed = kind === 'az-over-el' || kind === 'x-y'
  return {
    id,
    name: `Invented station ${id}`,
    site: {
      latDeg,
      lonDeg: Number(c.between(-175, 175).toFixed(3)),
      heightM: c.whole(0, 1500),
      ...(c.next() < 0.3 ? { air: { temperatureC: c.whole(-5, 30), humidityPct: c.whole(20, 90) } } : {}),
    },
    dish: { diameterM: Number(c.between(1.8, 5).toFixed(1)), focalRatio: Number(c.between(0.33, 0.6).toFixed(2)) },
    feeds: Array.from({ length: wish.feeds ?? 1 }, (_, k) => ({
      id: String.fromCharCode(97 + k),
      name: `feed ${k + 1}`,
      frequencyMHz: wish.frequencyMHz ?? c.one([1296, 2320, 3400, 5760]),
    })),
    mount: {
      kind,
      ...(headed ? { headingDeg: (facing + c.whole(-20, 20) + 360) % 360 } : {}),
      ...(kind === 'az-over-el' ? { boresightOffsetDeg: c.one([0, 0, -5, 10]) } : {}),
      lower: axisOf(c, lower, l0, l1),
      upper: axisOf(c, upper, u0, u1),
    },
    ...(wish.mask
      ? {
          horizonMask: [
            { azDeg: 10, elDeg: 12 },
            { azDeg: 120, elDeg: 4 },
            { azDeg: 250, elDeg: 20 },
          ],
        }
      : {}),
    sightings: [],
  }
}

// ---- the truth ---------------------------------------------------------------------------------------------------

export { deviationSigma, idsOfTruth }

/**
 * A truth from the priors. `wild`: heading or azimuth zero anywhere; else within 15° of paper. With `wild` on a headed
 * mount the paper heading is what is wrong (record.mount.headingDeg is rewritten), so that the dish still faces the sky.
 */
export function drawTruth(c: Chance, record: StationRecord, wild: boolean): Truth {
  const truth: Truth = {}
  for (const key of idsOfTruth(record)) {
    const id = key.split(':')[0]!
    const sigma = deviationSigma(record, id)
    // Zeros of counts are ± 30° by prior, but a mount turned so far off no longer sees its sky: half of that.
    const drawn = id.endsWith('Zero') && sigma === 30 ? 15 : sigma
    truth[key] = sigma === 180 ? (wild ? c.between(-180, 180) : c.normal(7, 2)) : c.normal(drawn, 2)
    if (id.endsWith('Play')) truth[key] = Math.abs(truth[key]!)
  }
  if (truth.heading !== undefined && record.mount.headingDeg !== undefined)
    record.mount.headingDeg = Number(((((record.mount.headingDeg - truth.heading) % 360) + 360) % 360).toFixed(3))
  return truth
}

// ---- sightings ---------------------------------------------------------------------------------------------------

/** A station, and what it really is at each time: each truth holds from its instant on. */
export interface Scene {
  record: StationRecord
  chance: Chance
  truths: { fromMs: number; truth: Truth }[]
  /** Set when the record's site or mount changes after the first use. */
  cache?: { station: Station; mounts: Map<Truth, TrueMount> }
}

export const truthAt = (scene: Scene, ms: number): Truth => {
  let now = scene.truths[0]!.truth
  for (const t of scene.truths) if (t.fromMs <= ms) now = t.truth
  return now
}

const cacheOf = (scene: Scene) => {
  scene.cache ??= { station: stationFromRecord(scene.record), mounts: new Map() }
  return scene.cache
}

/** The station on paper, read once. */
export const stationOf = (scene: Scene): Station => cacheOf(scene).station

export function mountAt(scene: Scene, ms: number): TrueMount {
  const { mounts } = cacheOf(scene)
  const truth = truthAt(scene, ms)
  let mount = mounts.get(truth)
  if (mount === undefined) {
    mount = trueMount(scene.record, truth)
    mounts.set(truth, mount)
  }
  return mount
}

export const lineOfMethod = (method: Method): LineName =>
  method === 'shadow' ? 'shadow' : method === 'optical' ? 'tube' : 'beam'

const hpbwDeg = (record: StationRecord, feed: string): number => {
  const f = record.feeds.find(x => x.id === feed)!
  return f.beamwidthDeg ?? (70 * 299.792458) / f.frequencyMHz / record.dish.diameterM
}

const isInside = (record: StationRecord, r: { lower: number; upper: number }): boolean =>
  (['lower', 'upper'] as const).every(a => r[a] >= record.mount[a].minReading && r[a] <= record.mount[a].maxReading)

export const roundReading = (record: StationRecord, axis: Axis, reading: number, fine = false): number =>
  record.mount[axis].readout.type !== 'degrees' ? Math.round(reading) : fine ? reading : Number(reading.toFixed(2))

export interface SightingWish {
  ms: number
  target: TargetRecord
  method: Method
  feed?: string
  /** Multiplies the noise: 0 for perfect sightings with unrounded readings. */
  noise?: number
  sigmaDeg?: number
  sides?: { lower?: Side; upper?: Side }
  /** Device minus true, written into the record. */
  clockOffsetS?: number
  /** An error of the clock that nobody knows of. */
  clockErrorS?: number
  /** Lowest elevation at which it is made, degrees. */
  lowestDeg?: number
  cov?: boolean
}

/** One sighting as an honest observer would write it down; null when the target cannot be reached then. */
export function sight(scene: Scene, wish: SightingWish, id: string): SightingRecord | null {
  const { record, chance: c } = scene
  const station = stationOf(scene)
  const feed = wish.feed ?? record.feeds[0]!.id
  const noise = wish.noise ?? 1
  const line = lineOfMethod(wish.method)
  const band = wish.method === 'shadow' || wish.method === 'optical' ? 'optical' : 'radio'
  const place = apparentPlace(targetFromRecord(wish.target), wish.ms, station.site, band)
  if (place.el < (wish.lowestDeg ?? 5) * D || place.el < maskAt(station.mask, place.az)) return null
  const mount = mountAt(scene, wish.ms)
  const guess = aim(
    station.model,
    builtFromTruth(record, mount.truth, feed),
    line === 'shadow' ? 'shadow' : line,
    place.direction,
  )
  if (guess === null || !guess.inside) return null

  const fMm = record.dish.focalRatio * record.dish.diameterM * 1000
  const sigmaDeg =
    wish.sigmaDeg ??
    (wish.method === 'shadow' ? 8 / fMm / D : wish.method === 'optical' ? 0.1 : 0.1 * hpbwDeg(record, feed))
  let planned: [number, number] = [0, 0]
  let shadow: { rightMm: number; upMm: number } | undefined
  let cov: { rr: number; ru: number; uu: number } | undefined
  let error: [number, number] = [c.normal(sigmaDeg), c.normal(sigmaDeg)]
  if (wish.method === 'shadow') {
    // The Sun at offset (x, y) throws the shadow the other way: by the parabola about its focus, 2f tan(θ/2).
    planned = [c.normal(0.8, 2), c.normal(0.8, 2)]
    const angle = Math.hypot(planned[0], planned[1]) * D
    const mm = angle === 0 ? 0 : (2 * fMm * Math.tan(angle / 2)) / (angle / D)
    shadow = { rightMm: -planned[0] * mm, upMm: -planned[1] * mm }
  } else if (wish.cov || wish.method === 'cross-scan' || wish.method === 'drift-scan') {
    const a = sigmaDeg * c.between(0.6, 1)
    const b = sigmaDeg * c.between(1.2, 3)
    const turn = c.between(0, Math.PI)
    const [s, k] = [Math.sin(turn), Math.cos(turn)]
    cov = { rr: k * k * a * a + s * s * b * b, ru: s * k * (a * a - b * b), uu: s * s * a * a + k * k * b * b }
    const [p, q] = [c.normal(a), c.normal(b)]
    error = [k * p - s * q, s * p + k * q]
    planned = [c.normal(0.5, 2), c.normal(0.5, 2)]
  }
  const sides = wish.sides ?? {}
  const at = trueReadings(
    mount,
    line,
    feed,
    place.direction,
    [planned[0] + noise * error[0], planned[1] + noise * error[1]],
    guess,
    sides,
  )
  if (at === null || !isInside(record, at)) return null
  return {
    id,
    utc: utcOf(wish.ms + 1000 * ((wish.clockOffsetS ?? 0) + (wish.clockErrorS ?? 0))),
    ...(wish.clockOffsetS === undefined ? {} : { clockOffsetS: wish.clockOffsetS }),
    target: wish.target,
    lower: noise === 0 ? at.lower : roundReading(record, 'lower', at.lower),
    upper: noise === 0 ? at.upper : roundReading(record, 'upper', at.upper),
    ...(wish.sides === undefined ? {} : { arrivedFrom: wish.sides }),
    method: wish.method,
    ...(wish.method === 'optical' ? {} : { feed }),
    ...(shadow === undefined ? {} : { shadow }),
    ...(cov === undefined ? {} : { offset: { rightDeg: planned[0], upDeg: planned[1] }, cov }),
    ...(cov === undefined && wish.sigmaDeg !== undefined ? { sigmaDeg: wish.sigmaDeg } : {}),
  }
}

/** The arc from where a sighting was measured to where its target really stood, in degrees. */
export function trueMissDeg(scene: Scene, s: SightingRecord): number {
  const station = stationOf(scene)
  const ms = Date.parse(s.utc) - 1000 * (s.clockOffsetS ?? 0)
  const band = s.method === 'shadow' || s.method === 'optical' ? 'optical' : 'radio'
  const place = apparentPlace(targetFromRecord(s.target), ms, station.site, band)
  const pose = mountAt(scene, ms).pose(s.lower, s.upper, lineOfMethod(s.method), s.feed, s.arrivedFrom)
  const [x, y] = offsetDeg(pose, place.direction)
  const shadowAngle = (mm: number) => -mm / (focalMm(scene) * D)
  const measured: [number, number] = s.shadow
    ? [shadowAngle(s.shadow.rightMm), shadowAngle(s.shadow.upMm)]
    : [s.offset?.rightDeg ?? 0, s.offset?.upDeg ?? 0]
  return Math.hypot(x - measured[0], y - measured[1])
}
const focalMm = (scene: Scene): number => scene.record.dish.focalRatio * scene.record.dish.diameterM * 1000

export interface Mix {
  /** Days over which the sightings are spread. */
  days?: number
  methods?: readonly Method[]
  noise?: number
  sigmaDeg?: number
  play?: boolean
  clock?: boolean
  clockErrorS?: number
  fromMs?: number
  feeds?: readonly string[]
  sources?: boolean
  fixed?: boolean
}

/** n sightings of Sun and Moon (and what else the mix has) at times that can be, in order of time. */
export function sightMany(scene: Scene, n: number, mix: Mix = {}, prefix = 'm'): SightingRecord[] {
  const c = scene.chance
  const methods = mix.methods ?? ['signal-peak', 'signal-peak', 'signal-peak', 'shadow']
  const feeds = mix.feeds ?? scene.record.feeds.map(f => f.id)
  const out: SightingRecord[] = []
  for (let tries = 0; out.length < n && tries < 400 * n; tries++) {
    const ms = 1000 * Math.round(((mix.fromMs ?? START_MS) + c.between(0, (mix.days ?? 21) * DAY_MS)) / 1000)
    const method = c.one(methods)
    let target: TargetRecord = { type: method === 'shadow' || c.next() < 0.5 ? 'sun' : 'moon' }
    if (mix.sources && method === 'signal-peak' && c.next() < 0.2)
      target = { type: 'source', name: c.one(['Cassiopeia A', 'Cygnus A', 'Taurus A', 'Virgo A']) }
    if (mix.fixed && method === 'signal-peak' && c.next() < 0.2)
      target = { type: 'geostationary', lonDeg: Number((scene.record.site.lonDeg + c.between(-40, 40)).toFixed(1)) }
    if (mix.fixed && method === 'optical' && c.next() < 0.4)
      target = { type: 'landmark', azDeg: c.whole(0, 359), elDeg: c.whole(6, 20) }
    if (target.type === 'geostationary' && Math.abs(target.lonDeg) > 180) continue
    const made = sight(
      scene,
      {
        ms,
        target,
        method,
        feed: c.one(feeds),
        ...(mix.noise === undefined ? {} : { noise: mix.noise }),
        ...(mix.sigmaDeg === undefined ? {} : { sigmaDeg: mix.sigmaDeg }),
        ...(mix.play
          ? { sides: { lower: c.next() < 0.5 ? '+' : '-', upper: c.next() < 0.5 ? '+' : '-' } as const }
          : {}),
        ...(mix.clock ? { clockOffsetS: c.whole(-200, 200) } : {}),
        ...(mix.clockErrorS === undefined ? {} : { clockErrorS: mix.clockErrorS }),
      },
      `${prefix}${String(out.length + 1).padStart(3, '0')}`,
    )
    if (made !== null) out.push(made)
  }
  out.sort((a, b) => Date.parse(a.utc) - Date.parse(b.utc))
  out.forEach((s, k) => {
    s.id = `${prefix}${String(k + 1).padStart(3, '0')}`
  })
  return out
}

/** Makes a sighting plain wrong: a reading off (8 to 60 σ, at most 40°), or a clock wrong by 45 minutes to three hours. */
export function spoil(scene: Scene, s: SightingRecord): void {
  const c = scene.chance
  const { record: station } = scene
  const f = focalMm(scene)
  const sigma =
    s.sigmaDeg ??
    (s.cov
      ? Math.sqrt(Math.max(s.cov.rr, s.cov.uu) * 2)
      : s.method === 'shadow'
        ? 8 / f / D
        : s.method === 'optical'
          ? 0.1
          : 0.1 * hpbwDeg(station, s.feed ?? station.feeds[0]!.id))
  const honest = { lower: s.lower, upper: s.upper, utc: s.utc }
  for (let tries = 0; tries < 500; tries++) {
    Object.assign(s, honest)
    if (c.next() < 0.25) {
      s.utc = utcOf(Date.parse(honest.utc) + c.sign() * 1000 * c.whole(2700, 10_800))
    } else {
      const axis: Axis = c.next() < 0.5 ? 'lower' : 'upper'
      const here = readoutAngleDeg(station, axis, honest[axis])
      const slope = readoutAngleDeg(station, axis, honest[axis] + 0.01) - here
      const wrong = honest[axis] + (c.sign() * c.between(8, 60) * sigma * 0.01) / slope
      s[axis] = roundReading(station, axis, wrong)
    }
    const miss = trueMissDeg(scene, s)
    if (miss >= 8.5 * sigma && miss < Math.max(40, 12 * sigma) && isInside(station, s)) return
  }
  throw new RangeError(`spoil: found no way to spoil sighting ${s.id}`)
}

/** The sky by which a fit is judged: the Moon's path, thinned; what the true mount reaches. */
export function checkSky(scene: Scene, nowMs: number, every = 4) {
  const station = stationOf(scene)
  const feed = station.feeds[0]!
  const lowest = lowestElevation(station, feed)
  const built = builtFromTruth(scene.record, truthAt(scene, nowMs))
  return moonPath(station.site, nowMs).filter(
    (p, k) =>
      k % every === 0 &&
      p.el >= lowest &&
      p.el >= maskAt(station.mask, p.az) &&
      aim(station.model, built, 'beam', p.direction)?.inside === true,
  )
}

// ---- a whole scene -----------------------------------------------------------------------------------------------

export interface SceneWish extends StationWish {
  wild?: boolean
}

/** A station and its truth, redrawn until it reaches a fair share of the Moon's path. */
export function drawScene(seed: number, wish: SceneWish = {}): Scene {
  const c = chance(seed)
  for (let tries = 0; tries < 200; tries++) {
    const record = drawStation(c, wish)
    const truth = drawTruth(c, record, wish.wild ?? c.next() < 0.3)
    const scene: Scene = { record, chance: c, truths: [{ fromMs: -Infinity, truth }] }
    if (checkSky(scene, START_MS, 16).length >= 16) return scene
  }
  throw new RangeError('drawScene: no station reaches its sky')
}
