/**
 * Field books with one fault that nobody recorded, and the same kind of books without: drawn from the priors, 8 to 26
 * sightings, some with levels, marks, shadows, a recorded change, now and then a plain blunder. Degrees, as in records.
 */
import { EAST_WEST } from '../../src/core/fit/suspects/gross.ts'
import type {
  Axis,
  LevelRecord,
  ReferenceRecord,
  SightingRecord,
  StationRecord,
} from '../../src/core/records/fieldbook.ts'
import { reversedReadout } from '../../src/core/records/readouts.ts'
import type { SuspectKind } from '../../src/core/records/solution.ts'
import type { Chance } from './random.ts'
import {
  deviationSigma,
  drawScene,
  KINDS,
  type Mix,
  roundReading,
  type Scene,
  type SceneWish,
  START_MS,
  sightMany,
  spoil,
  truthAt,
  utcOf,
} from './simulate.ts'
import { dishLevels, trueLevelDeg } from './truelevels.ts'
import { readoutAngleDeg } from './truemount.ts'

const DAY = 86_400_000

export interface Book {
  seed: number
  scene: Scene
  record: StationRecord
  /** What was done to it: size in its own unit and in σ of a sighting. */
  size: number
  unit: string
  sigmas: number
  atMs: number
  axis?: Axis
}

export interface BookWish extends SceneWish {
  levels?: boolean
  marks?: boolean
  change?: boolean
  blunder?: boolean
  n?: number
  mix?: Mix
  clockErrorS?: number
  /** Levels are better where a clock is to be found. */
  levelSigmaDeg?: number
}

/** σ of a signal peak of this station. */
export const peakSigmaDeg = (record: StationRecord): number =>
  (0.1 * 70 * 299.792458) / record.feeds[0]!.frequencyMHz / record.dish.diameterM

/** Marks of both axes at three times, read with 0.05°. The reading is that of one true angle. */
function marksOf(scene: Scene, times: readonly number[]): ReferenceRecord[] {
  const { record, chance: c } = scene
  return (['lower', 'upper'] as const).flatMap(axis => {
    const { minReading, maxReading } = record.mount[axis]
    const paper = minReading + 0.1 * (maxReading - minReading)
    const angle = trueAngleDeg(scene, times[0]!, axis, paper)
    return times.map((ms, k) => {
      const reading = readingOf(scene, ms, axis, angle + c.normal(0.05), paper)
      return {
        id: `mark-${axis}-${k}`,
        utc: utcOf(ms),
        axis,
        mark: `${axis} line`,
        reading: roundReading(record, axis, reading),
        sigmaDeg: 0.05,
      }
    })
  })
}

const trueAngleDeg = (scene: Scene, ms: number, axis: Axis, reading: number): number => {
  const truth = truthAt(scene, ms)
  return (
    readoutAngleDeg(scene.record, axis, reading, truth) * (1 + (truth[`${axis}Scale`] ?? 0)) +
    (truth[`${axis}Zero`] ?? 0)
  )
}

/** The reading of a true angle, by Newton's method from near it. */
function readingOf(scene: Scene, ms: number, axis: Axis, angle: number, near: number): number {
  let x = near
  for (let k = 0; k < 30; k++) {
    const at = trueAngleDeg(scene, ms, axis, x)
    const slope = (trueAngleDeg(scene, ms, axis, x + 0.01) - at) / 0.01
    x -= (at - angle) / slope
  }
  return x
}

function levelsOf(scene: Scene, ms: number, sigmaDeg: number): LevelRecord[] {
  const { record, chance: c } = scene
  const { kind } = record.mount
  const truth = truthAt(scene, ms)
  const own: LevelRecord =
    kind === 'el-over-az'
      ? {
          id: 'lean',
          utc: utcOf(ms),
          what: 'mast-lean',
          northDeg: truth.leanNorth! + c.normal(sigmaDeg),
          eastDeg: truth.leanEast! + c.normal(sigmaDeg),
          sigmaDeg,
        }
      : {
          id: 'axis',
          utc: utcOf(ms),
          what: 'lower-axis-elevation',
          valueDeg: trueLevelDeg(scene, ms, 'lower-axis-elevation') + c.normal(sigmaDeg),
          sigmaDeg,
        }
  return [own, ...dishLevels(scene, ms, c.whole(2, 6), sigmaDeg)]
}

/** A truth that changes with a record that says so. */
function recordedChange(scene: Scene, ms: number): { what: string[] } {
  const { record, chance: c } = scene
  const before = truthAt(scene, ms)
  const after = { ...before }
  const what = c.one(['lower-axis', 'upper-zero', 'lower-zero', 'feed:a'])
  const ids = {
    'lower-axis': Object.keys(before).filter(k => /^(lean|pole|level)/.test(k)),
    'upper-zero': ['upperZero'],
    'lower-zero': ['lowerZero'],
    'feed:a': ['feedRight:a', 'feedUp:a'],
  }[what]!
  for (const id of ids) {
    const s = Math.min(8, deviationSigma(record, id.split(':')[0]!))
    after[id] = before[id]! + c.normal(s, 1.5)
  }
  scene.truths.push({ fromMs: ms, truth: after })
  return { what: [what] }
}

/** A sound book. @param disturb  changes the truth, unrecorded, before anything is sighted */
export function drawBook(
  seed: number,
  wish: BookWish = {},
  disturb: (scene: Scene, atMs: number, c: Chance) => void = () => {},
): Book | null {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]!, ...wish })
  const c = scene.chance
  const days = c.one([1, 3, 10, 21])
  const n = wish.n ?? c.whole(8, 26)
  const atMs = START_MS + days * DAY * c.between(0.35, 0.65)
  // The fault first: what is changed later, and recorded, is changed of a mount that has it.
  disturb(scene, atMs, c)
  const changes = (wish.change ?? c.next() < 0.2) ? [{ ms: START_MS + days * DAY * c.between(0.2, 0.8) }] : []
  const recorded = changes.map((x, k) => ({ id: `ch${k}`, utc: utcOf(x.ms), ...recordedChange(scene, x.ms) }))
  const methods = c.one([
    ['signal-peak', 'signal-peak', 'signal-peak', 'shadow'],
    ['signal-peak'],
    ['signal-peak', 'shadow', 'cross-scan'],
  ] as const)
  const sightings = sightMany(scene, n, {
    days,
    methods,
    play: c.next() < 0.3,
    clock: c.next() < 0.2,
    ...(wish.clockErrorS === undefined ? {} : { clockErrorS: wish.clockErrorS }),
    ...wish.mix,
  })
  if (sightings.length < n) return null
  const marked = wish.marks ?? c.next() < 0.3
  const levelled = wish.levels ?? c.next() < 0.4
  const times = [START_MS + 1000, START_MS + days * DAY * c.between(0.3, 0.7), START_MS + days * DAY + 3_600_000]
  const record: StationRecord = {
    ...scene.record,
    sightings,
    ...(recorded.length > 0 ? { changes: recorded } : {}),
    ...(marked ? { references: marksOf(scene, times) } : {}),
    ...(levelled ? { levels: levelsOf(scene, START_MS + 500, wish.levelSigmaDeg ?? c.between(0.1, 0.5)) } : {}),
  }
  if (wish.blunder ?? c.next() < 0.25) spoil(scene, sightings[c.whole(0, n - 1)]!)
  return { seed, scene, record, size: 0, unit: '', sigmas: 0, atMs }
}

const angleOf = (record: StationRecord, axis: Axis, reading: number): number => readoutAngleDeg(record, axis, reading)

/** Shifts what a counter shows, from an instant on: sightings, marks and levels alike. */
export function slip(record: StationRecord, axis: Axis, atMs: number, by: number): StationRecord {
  const isAfter = (utc: string) => Date.parse(utc) >= atMs
  const put = (x: number) => Number((x + by).toFixed(4))
  return {
    ...record,
    sightings: record.sightings.map(s =>
      isAfter(utcOf(Date.parse(s.utc) - 1000 * (s.clockOffsetS ?? 0))) ? { ...s, [axis]: put(s[axis]) } : s,
    ),
    ...(record.references
      ? {
          references: record.references.map(r =>
            r.axis === axis && isAfter(r.utc) ? { ...r, reading: put(r.reading) } : r,
          ),
        }
      : {}),
    ...(record.levels
      ? {
          levels: record.levels.map(l => (axis in l && isAfter(l.utc) ? { ...l, [axis]: put((l as never)[axis]) } : l)),
        }
      : {}),
  }
}

const logUniform = (c: Chance, from: number, to: number): number => from * (to / from) ** c.next()
const sides = (record: StationRecord, atMs: number): [number, number] => {
  const after = record.sightings.filter(s => Date.parse(s.utc) >= atMs).length
  return [record.sightings.length - after, after]
}
const isOutside = (record: StationRecord): boolean =>
  record.sightings.some(s => (['lower', 'upper'] as const).some(a => !Number.isFinite(angleOf(record, a, s[a]))))

/** Each fault by its kind: 200 books of each are drawn in the study. null: this draw will not do. */
export const FAULTS: Record<SuspectKind, (seed: number) => Book | null> = {
  'counter-step': seed => {
    const book = drawBook(seed, { change: false })
    if (book === null || Math.min(...sides(book.record, book.atMs)) < 3) return null
    const { record, scene } = book
    const c = scene.chance
    const axis = c.one(['lower', 'upper'] as const)
    const sigma = peakSigmaDeg(record)
    const sigmas = logUniform(c, 4, 40)
    const middle = (record.mount[axis].minReading + record.mount[axis].maxReading) / 2
    const slope = (angleOf(record, axis, middle + 0.5) - angleOf(record, axis, middle - 0.5)) / 1
    const by = roundReading(record, axis, (c.sign() * sigmas * sigma) / slope)
    const slipped = slip(record, axis, book.atMs, by)
    if (by === 0 || isOutside(slipped)) return null
    return { ...book, record: slipped, axis, size: by, unit: 'readings', sigmas }
  },
  'clock-or-longitude': seed => {
    const sizes = [120, 240, 480, 900, 1800]
    const size = sizes[Math.floor(seed / 4) % sizes.length]! * (seed % 8 < 4 ? 1 : -1)
    const book = drawBook(seed, { clockErrorS: size, levels: true, levelSigmaDeg: 0.15, change: false })
    if (book === null) return null
    const truth = book.scene.truths[0]!.truth
    // A level sees the boresight, a peak the beam: without a measured feed their difference hides an hour angle.
    const priors = ['feedRight', 'feedUp', 'squintRight', 'squintUp'].map(id => ({
      id,
      value: truth[`${id}:a`]! + book.scene.chance.normal(id.startsWith('feed') ? 1 : 0.03),
      sigma: id.startsWith('feed') ? 1 : 0.03,
      measured: true,
    }))
    return { ...book, record: { ...book.record, priors }, size, unit: 's', sigmas: 0 }
  },
  'reading-sense': seed => {
    const axis = (['lower', 'upper'] as const)[Math.floor(seed / 4) % 2]!
    const kind = KINDS[seed % 4]!
    // In degrees the axis that tells east from west is the other fault.
    const counted = kind === 'az-over-el' ? 'jack' : 'linear-counts'
    const isEastWest = EAST_WEST[kind] === axis
    const book = drawBook(
      seed,
      isEastWest ? { [axis]: counted, marks: false, wild: false } : { marks: false, wild: false },
    )
    if (book === null) return null
    return turnedAbout(book, axis)
  },
  'east-west-swapped': seed => {
    const kind = KINDS[seed % 4]!
    const axis = EAST_WEST[kind]
    const book = drawBook(seed, { [axis]: 'degrees', marks: false, wild: false })
    return book === null ? null : turnedAbout(book, axis)
  },
  'readings-swapped': seed => {
    const book = drawBook(seed, { lower: 'degrees', upper: 'degrees', marks: false, levels: false })
    if (book === null) return null
    const sightings = book.record.sightings.map(s => ({ ...s, lower: s.upper, upper: s.lower }))
    return { ...book, record: { ...book.record, sightings }, unit: '' }
  },
  'wrong-body': seed => {
    const book = drawBook(seed, { blunder: false })
    if (book === null) return null
    const c = book.scene.chance
    const able = book.record.sightings.filter(s => s.method !== 'shadow')
    const suns = able.filter(s => s.target.type === 'sun')
    const moons = able.filter(s => s.target.type === 'moon')
    const [from, count] = c.one([
      [able, 1],
      [able, 2],
      [suns, suns.length],
      [moons, moons.length],
    ] as const)
    const which = new Set<SightingRecord>()
    while (which.size < Math.min(count, from.length)) which.add(c.one(from))
    if (which.size === 0) return null
    const sightings = book.record.sightings.map(s =>
      which.has(s) ? { ...s, target: { type: s.target.type === 'sun' ? ('moon' as const) : ('sun' as const) } } : s,
    )
    return { ...book, record: { ...book.record, sightings }, size: which.size, unit: 'sightings' }
  },
  'lost-motion': seed => {
    const axis = (['lower', 'upper'] as const)[Math.floor(seed / 4) % 2]!
    let size = 0
    const book = drawBook(seed, { mix: { play: true }, change: false }, (scene, _, c) => {
      size = logUniform(c, 2, 6)
      scene.truths[0]!.truth[`${axis}Play`] = size
    })
    return book === null ? null : { ...book, axis, size, unit: 'deg', sigmas: size / peakSigmaDeg(book.record) }
  },
  'feed-moved': seed => {
    let size = 0
    let sigmas = 0
    const mix: Mix = seed % 2 ? { methods: ['signal-peak', 'shadow'] } : {}
    const book = drawBook(seed, { change: false, mix }, (scene, atMs, c) => {
      const { record } = scene
      const sigma = peakSigmaDeg(record)
      sigmas = logUniform(c, 4, 20)
      const fMm = record.dish.focalRatio * record.dish.diameterM * 1000
      size = Math.min(80, (sigmas * sigma * fMm * Math.PI) / 180 / 0.8)
      const way = c.between(0, 2 * Math.PI)
      const before = scene.truths[0]!.truth
      scene.truths.push({
        fromMs: atMs,
        truth: {
          ...before,
          'feedRight:a': before['feedRight:a']! + size * Math.cos(way),
          'feedUp:a': before['feedUp:a']! + size * Math.sin(way),
        },
      })
    })
    if (book === null || Math.min(...sides(book.record, book.atMs)) < 3) return null
    return { ...book, size, unit: 'mm', sigmas }
  },
  'scale-far': seed => {
    const axis = (['lower', 'upper'] as const)[Math.floor(seed / 4) % 2]!
    let size = 0
    const book = drawBook(seed, { marks: false }, (scene, _, c) => {
      const { truth } = scene.truths[0]!
      if (scene.record.mount[axis].readout.type === 'jack') {
        size = c.sign() * logUniform(c, 25, 60)
        truth[`${axis}${c.one(['Base', 'Rod'])}Arm`] = size
      } else {
        const paper = deviationSigma(scene.record, `${axis}Scale`)
        size = c.sign() * logUniform(c, 3.5, 5.5) * paper
        truth[`${axis}Scale`] = size
      }
    })
    return book === null ? null : { ...book, axis, size, unit: 'ratio or mm' }
  },
  'marked-always': seed => {
    const book = drawBook(seed, { blunder: false })
    if (book === null) return null
    const wrong = book.scene.chance.one(book.record.sightings)
    spoil(book.scene, wrong)
    wrong.use = 'always'
    return { ...book, size: 1, unit: 'sightings' }
  },
  'two-halves': seed => {
    const book = drawBook(
      seed,
      { change: false, marks: false, levels: false, n: 14 + (seed % 13) },
      (scene, atMs, c) => {
        const before = scene.truths[0]!.truth
        const truth = { ...before }
        for (const id of Object.keys(truth))
          if (/^(lean|pole|heading|level|squareness|upperZero|lowerZero)/.test(id))
            truth[id] = truth[id]! + c.sign() * c.between(3, 8)
        scene.truths.push({ fromMs: atMs, truth })
      },
    )
    return book === null || Math.min(...sides(book.record, book.atMs)) < 6 ? null : { ...book, unit: 'deg' }
  },
}

/** The book of somebody whose axis counts the other way from what the mount's record says. */
function turnedAbout(book: Book, axis: Axis): Book | null {
  const { record } = book
  const { readout } = record.mount[axis]
  const reversed = reversedReadout(readout)
  if (reversed !== null)
    return {
      ...book,
      axis,
      record: { ...record, mount: { ...record.mount, [axis]: { ...record.mount[axis], readout: reversed } } },
    }
  const about = record.mount.kind === 'el-over-az' && axis === 'lower' ? 360 : 0
  const put = (x: number) => Number((about - x).toFixed(2))
  return {
    ...book,
    axis,
    record: {
      ...record,
      sightings: record.sightings.map(s => ({ ...s, [axis]: put(s[axis]) })),
      ...(record.levels
        ? { levels: record.levels.map(l => (axis in l ? { ...l, [axis]: put((l as never)[axis]) } : l)) }
        : {}),
    },
  }
}
