/**
 * A mount of each kind taken through its whole alignment: clock compared, levelled, marked, calibrated, sighted on two spans of days. Its
 * truth is as entered but for what a test says. Invented; degrees, counts, millimetres.
 */

import type { AxisRecord, MountKind, StationRecord } from '../../src/core/records/fieldbook.ts'
import { chance } from './random.ts'
import { degreesAxis, type Scene, START_MS, sightMany, utcOf } from './simulate.ts'
import { trueLevelDeg } from './truelevels.ts'
import type { Truth } from './truemount.ts'

const HOUR = 3_600_000
const DAY = 24 * HOUR
/** Everything before the first sighting is done then. */
export const GROUND_MS = START_MS - 2 * DAY
/** From when on the sightings are those of other days, and when it is asked. */
export const PROOF_MS = START_MS + 24 * DAY
export const NOW_MS = START_MS + 30 * DAY
export const NOW = utcOf(NOW_MS)

const counted = (from: number, to: number): AxisRecord => ({
  readout: { type: 'linear-counts', zeroCounts: 4000, countsPerDeg: 40 },
  minReading: 4000 + 40 * from,
  maxReading: 4000 + 40 * to,
})

/** The way of each axis, wide enough for the Moon; the upper one of each counts. */
const AXES: Readonly<Record<MountKind, { lower: AxisRecord; upper: AxisRecord }>> = {
  'el-over-az': { lower: degreesAxis(0, 360), upper: counted(0, 90) },
  'ha-dec': { lower: degreesAxis(-100, 100), upper: counted(-40, 40) },
  'az-over-el': { lower: degreesAxis(-10, 100), upper: counted(-80, 80) },
  'x-y': { lower: degreesAxis(-85, 85), upper: counted(-85, 85) },
}

/** With what three answers say alone; of a station that nobody has measured. */
export const bare = (kind: MountKind, more: Partial<StationRecord> = {}): StationRecord => ({
  id: 'st',
  name: 'Sluice',
  site: { latDeg: 48, lonDeg: 9, heightM: 400 },
  dish: { diameterM: 3, focalRatio: 0.4 },
  feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296 }],
  mount: { kind, ...(kind === 'az-over-el' || kind === 'x-y' ? { headingDeg: 180 } : {}), ...AXES[kind] },
  guesses: {
    'mount.lower.readout': true,
    'mount.upper.readout': true,
    ...(kind === 'az-over-el' || kind === 'x-y' ? { 'mount.headingDeg': true as const } : {}),
  },
  sightings: [],
  ...more,
})

/** Taken through all of it, but for the numbers carried over. */
export function aligned(kind: MountKind, truth: Truth = {}, seed = 7): StationRecord {
  const { guesses: _, ...record } = bare(kind)
  const scene: Scene = { record, chance: chance(seed), truths: [{ fromMs: -Infinity, truth }] }
  const level = (what: 'lower-axis-elevation' | 'upper-axis-elevation', lower: number) => ({
    utc: utcOf(GROUND_MS),
    sigmaDeg: 0.05,
    valueDeg: Number(trueLevelDeg(scene, GROUND_MS, what, { lower, upper: 0 }).toFixed(3)),
  })
  const carrying = kind === 'el-over-az' ? 90 : 20
  // Few visits, of some hours each: has it moved looks at every one of them.
  const visit = (n: number, fromMs: number, prefix: string) =>
    sightMany(
      scene,
      n,
      { fromMs: fromMs + 6 * HOUR, days: 0.4, sigmaDeg: 0.12, methods: ['signal-peak', 'signal-peak', 'shadow'] },
      prefix,
    )
  const sightings = [
    ...[0, 7, 19].flatMap(day => visit(6, START_MS + day * DAY, `s${day}-`)),
    ...[0, 3].flatMap(day => visit(4, PROOF_MS + day * DAY, `p${day}-`)),
  ].map(s => ({ ...s, clockOffsetS: 0 }))
  return {
    ...record,
    dish: {
      ...record.dish,
      measured: {
        utc: utcOf(GROUND_MS),
        rims: [
          {
            utc: utcOf(GROUND_MS),
            feed: 'a',
            seenFrom: 'front',
            distances: [0, 3, 6, 9].map(clock => ({ clock, mm: 1668 })),
          },
        ],
      },
    },
    mount: {
      ...record.mount,
      upper: { ...record.mount.upper, calibration: { utc: utcOf(GROUND_MS), pairs: [] } },
      lower: { ...record.mount.lower, calibration: { utc: utcOf(GROUND_MS), pairs: [] } },
    },
    priors: [
      ...(['lower', 'upper'] as const).flatMap(axis => [
        ...(axis === 'lower' && kind === 'el-over-az'
          ? []
          : [{ id: `${axis}Zero`, value: 0, sigma: 0.05, measured: true }]),
        { id: `${axis}Scale`, value: 0, sigma: 0.001, measured: true },
      ]),
      { id: 'feedRight', feed: 'a', value: 0, sigma: 0.7, measured: true },
      { id: 'feedUp', feed: 'a', value: 0, sigma: 0.7, measured: true },
    ],
    levels: [
      ...(kind === 'el-over-az'
        ? [
            {
              id: 'mast',
              utc: utcOf(GROUND_MS),
              what: 'mast-lean' as const,
              sigmaDeg: 0.05,
              northDeg: truth.leanNorth ?? 0,
              eastDeg: truth.leanEast ?? 0,
            },
          ]
        : [{ id: 'lower', what: 'lower-axis-elevation' as const, ...level('lower-axis-elevation', 0) }]),
      {
        id: 'upper',
        what: 'upper-axis-elevation' as const,
        lower: carrying,
        ...level('upper-axis-elevation', carrying),
      },
    ],
    references: [0, 5].map(hours => ({
      id: `mark-${hours}`,
      utc: utcOf(GROUND_MS + hours * HOUR),
      axis: 'upper' as const,
      mark: 'inner stop',
      reading: 4010,
      sigmaDeg: 0.02,
    })),
    clockChecks: [{ id: 'clock', utc: utcOf(NOW_MS - HOUR), offsetS: 0.4, sigmaS: 0.1, by: 'taps' }],
    sightings,
  }
}
