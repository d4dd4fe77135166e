/**
 * The demo station: an invented scenario with a known truth, so that every screen has something to show. A horn on a 3 m dish,
 * tilt and swing by two jacks; the base is turned once and the swing counter loses counts once, which nobody has noted: the
 * suspect. `tests/demo.test.ts` writes it to public/demo.fieldbook.json.
 */
import type { FieldBook, LevelRecord, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import type { ScanRecord } from '../../src/core/records/scans.ts'
import { stationFromRecord, targetFromRecord } from '../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import { chance } from './random.ts'
import { mountAt, type Scene, sight, sightMany, spoil, utcOf } from './simulate.ts'
import { trueLevelDeg } from './truelevels.ts'
import { offsetDeg, type Truth } from './truemount.ts'

const DAY = 86_400_000
const at = (utc: string): number => Date.parse(utc)
/** Where the clock is put: Sun and Moon both stand well up then. */
export const DEMO_UTC = '2026-05-13T08:40:00Z'
const TURNED = '2026-04-24T09:00:00Z'
const SLIPPED = '2026-05-06T12:00:00Z'
/** What the swing counter lost. */
export const LOST_COUNTS = 16

const BEFORE: Truth = {
  heading: 3.1,
  level: -1.3,
  lowerZero: 1.4,
  upperZero: -0.9,
  lowerBaseArm: 3,
  lowerRodArm: -2,
  upperBaseArm: -2,
  upperRodArm: 3,
  collimation: 0.4,
  'feedRight:a': 6,
  'feedUp:a': -4,
  sag: 0.1,
}
const AFTER: Truth = { ...BEFORE, heading: 0.7, level: 0.3 }

const station = (): StationRecord => ({
  id: 'demo-heron-meadow',
  name: 'Heron meadow (demo)',
  notes: 'An invented station to look around in. Nothing here was measured.',
  demo: true,
  demoUtc: DEMO_UTC,
  site: { latDeg: 48.72, lonDeg: 13.21, heightM: 415 },
  dish: {
    diameterM: 3,
    focalRatio: 0.4,
    surfaceRmsMm: 3,
    feedDiameterMm: 180,
    measured: {
      utc: '2026-04-10T08:00:00Z',
      diameterMm: 3004,
      depthMm: 470,
      rims: [
        {
          utc: '2026-04-10T08:20:00Z',
          feed: 'a',
          seenFrom: 'behind',
          distances: [
            { clock: 12, mm: 1676 },
            { clock: 3, mm: 1667 },
            { clock: 6, mm: 1669 },
            { clock: 9, mm: 1677 },
          ],
        },
      ],
      strings: [
        { utc: '2026-04-10T08:40:00Z', pair: 'upright', seenFrom: 'behind', firstInFrontMm: 3, firstBehindMm: 0 },
        { utc: '2026-04-10T08:45:00Z', pair: 'diagonal', seenFrom: 'behind', firstInFrontMm: 2, firstBehindMm: 1 },
      ],
    },
  },
  feeds: [{ id: 'a', name: '23 cm horn', frequencyMHz: 1296, systemTemperatureK: 75, hearsMoonEchoes: true }],
  mount: {
    kind: 'az-over-el',
    headingDeg: 175,
    boresightOffsetDeg: 0,
    lower: {
      readout: {
        type: 'jack',
        baseArmMm: 820,
        rodArmMm: 480,
        lengthAtReadingZeroMm: 560,
        countsPerMm: 2.4,
        phiAtAngleZeroDeg: 40,
        direction: 1,
      },
      minReading: 10,
      maxReading: 1500,
    },
    upper: {
      readout: {
        type: 'jack',
        baseArmMm: 700,
        rodArmMm: 420,
        lengthAtReadingZeroMm: 505,
        countsPerMm: 1.9,
        phiAtAngleZeroDeg: 88,
        direction: 1,
      },
      minReading: 0,
      maxReading: 1000,
    },
  },
  tolerance: { echoLossDb: 0.5, minElevationDeg: 8 },
  horizonMask: [
    { azDeg: 90, elDeg: 9 },
    { azDeg: 140, elDeg: 4 },
    { azDeg: 220, elDeg: 5 },
    { azDeg: 265, elDeg: 14 },
  ],
  adjusters: [
    { id: 'west screw', name: 'West screw', turns: 'level', by: 'screw', armMm: 420, pitchMm: 2, plus: 'clockwise' },
  ],
  changes: [
    { id: 'demo-change-1', utc: TURNED, what: ['lower-axis'], note: 'base clamp turned, shim under the left end' },
  ],
  references: [],
  sightings: [],
  levels: [],
})

/** A Gaussian beam's response in dB over cold sky. @param y  how much louder the hot source is, as a ratio */
const heardDb = (apart: number, beam: number, y: number): number =>
  10 * Math.log10(1 + (y - 1) * Math.exp(-4 * Math.LN2 * (apart / beam) ** 2))
const BEAM = 5.4
const SUN_Y = 10 ** 0.84

function sunOff(scene: Scene, ms: number, lower: number, upper: number): [number, number] {
  const { direction } = apparentPlace(
    targetFromRecord({ type: 'sun' }),
    ms,
    stationFromRecord(scene.record).site,
    'radio',
  )
  return offsetDeg(mountAt(scene, ms).pose(lower, upper, 'beam', 'a'), direction)
}
const level2 = (x: number): number => Number((-60.4 + x).toFixed(2))

/** The dish parked where the Sun will be; a reading every 90 s. */
function drift(scene: Scene): ScanRecord {
  const peakMs = at('2026-05-04T09:30:00Z')
  const parked = sight(scene, { ms: peakMs, target: { type: 'sun' }, method: 'signal-peak', sigmaDeg: 0.05 }, 'x')!
  const beganMs = peakMs - 36 * 60_000
  return {
    id: 'demo-drift-1',
    utc: utcOf(beganMs),
    what: 'drift',
    target: { type: 'sun' },
    feed: 'a',
    scale: 'dB',
    how: 'typed',
    lower: parked.lower,
    upper: parked.upper,
    samples: Array.from({ length: 49 }, (_, k) => {
      const [x, y] = sunOff(scene, beganMs + 90_000 * k, parked.lower, parked.upper)
      return { s: 90 * k, level: level2(heardDb(Math.hypot(x, y), BEAM, SUN_Y) + scene.chance.normal(0.04)) }
    }),
    gaps: [],
    expect: { peakUtc: utcOf(peakMs + 40_000), widthS: 1420 },
  } as ScanRecord
}

/** Both axes stepped across the Sun in half beamwidths. */
function cross(scene: Scene): ScanRecord {
  const beganMs = at('2026-05-05T09:00:00Z')
  const on = sight(scene, { ms: beganMs, target: { type: 'sun' }, method: 'signal-peak', sigmaDeg: 0.1 }, 'x')!
  const samples = (['lower', 'upper'] as const).flatMap((axis, a) =>
    Array.from({ length: 7 }, (_, k) => {
      const s = 40 * (7 * a + k)
      const lower = on.lower + (axis === 'lower' ? 34 * (k - 3) : 0)
      const upper = on.upper + (axis === 'upper' ? 20 * (k - 3) : 0)
      const [x, y] = sunOff(scene, beganMs + 1000 * s, lower, upper)
      const level = level2(heardDb(Math.hypot(x, y), BEAM, SUN_Y) + scene.chance.normal(0.05))
      return { s, axis, lower, upper, level, from: '+' as const }
    }),
  )
  return {
    id: 'demo-cross-1',
    utc: utcOf(beganMs),
    what: 'cross',
    target: { type: 'sun' },
    feed: 'a',
    scale: 'dB',
    samples,
    plan: { points: 7, step: 0.5, from: '+', axes: ['lower', 'upper'], both: false },
  } as ScanRecord
}

const taken = (utc: string, deg: number) => ({
  utc,
  source: 'orientation' as const,
  stepDeg: 0.1,
  rateHz: 60,
  noiseDeg: 0.03,
  spreadDeg: 0.08,
  up: [0, Number(Math.sin((deg * Math.PI) / 180).toFixed(6)), Number(Math.cos((deg * Math.PI) / 180).toFixed(6))] as [
    number,
    number,
    number,
  ],
})

function levels(scene: Scene): LevelRecord[] {
  const ms = at('2026-04-24T10:00:00Z')
  const lower = trueLevelDeg(scene, ms, 'lower-axis-elevation')
  const dish = { lower: 560, upper: 480 }
  const own = 0.38
  const shown = Number((lower + scene.chance.normal(0.1)).toFixed(2))
  return [
    {
      id: 'demo-level-1',
      utc: '2026-04-24T10:00:00Z',
      what: 'lower-axis-elevation',
      valueDeg: shown,
      sigmaDeg: 0.2,
      instrument: 'Phone, long edge',
      raw: {
        end: 'top',
        firstDeg: Number((shown + own).toFixed(2)),
        secondDeg: Number((-shown + own).toFixed(2)),
        taken: [taken('2026-04-24T10:00:00Z', shown + own), taken('2026-04-24T10:01:10Z', -shown + own)],
      },
    },
    {
      id: 'demo-level-2',
      utc: '2026-04-24T10:12:00Z',
      what: 'dish-elevation',
      ...dish,
      valueDeg: Number((trueLevelDeg(scene, ms, 'dish-elevation', dish) + scene.chance.normal(0.2)).toFixed(1)),
      sigmaDeg: 0.3,
      instrument: 'Box level',
    },
    {
      id: 'demo-level-3',
      utc: '2026-04-10T07:30:00Z',
      what: 'mast-lean',
      northDeg: 0.2,
      eastDeg: -0.4,
      sigmaDeg: 0.15,
      raw: {
        around: [
          { headingDeg: 0, readingDeg: 0.5 },
          { headingDeg: 120, readingDeg: -0.1 },
          { headingDeg: 240, readingDeg: 0.6 },
        ],
      },
    },
  ] as LevelRecord[]
}

/** From the slip on the counter shows less. */
const withSlip = (s: SightingRecord): SightingRecord =>
  at(s.utc) < at(SLIPPED) ? s : { ...s, upper: s.upper - LOST_COUNTS }

export function demoBook(): FieldBook {
  const record = station()
  const scene: Scene = {
    record,
    chance: chance(4711),
    truths: [
      { fromMs: -Infinity, truth: BEFORE },
      { fromMs: at(TURNED), truth: AFTER },
    ],
  }
  const mix = { methods: ['signal-peak', 'signal-peak', 'shadow'] as const }
  const all = [
    ...sightMany(scene, 6, { ...mix, fromMs: at('2026-04-11T05:00:00Z'), days: 12, sigmaDeg: 0.3 }, 'p'),
    ...sightMany(scene, 12, { ...mix, fromMs: at('2026-04-24T12:00:00Z'), days: 11, sigmaDeg: 0.3 }, 'q'),
    ...sightMany(scene, 7, { ...mix, fromMs: at(SLIPPED) + 0.2 * DAY, days: 4.2, sigmaDeg: 0.3 }, 'r'),
  ]
  spoil(scene, all[9]!)
  Object.assign(all[13]!, { use: 'never', note: 'gusty, dish moving', wind: 'gusts' })
  record.sightings = all.map((s, k) => ({ ...withSlip(s), id: `demo-sighting-${k + 1}` }))
  record.levels = levels(scene)
  record.references = [
    { id: 'demo-ref-1', utc: '2026-04-11T07:40:00Z', axis: 'upper', mark: 'inner stop', reading: 12 },
    { id: 'demo-ref-2', utc: '2026-05-04T08:50:00Z', axis: 'upper', mark: 'inner stop', reading: 12 },
  ]
  record.scans = [drift(scene), cross(scene)]
  record.noise = [
    {
      id: 'demo-noise-1',
      utc: '2026-04-12T10:10:00Z',
      feed: 'a',
      of: 'sun',
      yDb: 8.4,
      sigmaDb: 0.1,
      fluxSfu: 62,
      air: { zenithDb: 0.04, elDeg: 46 },
    },
    {
      id: 'demo-noise-2',
      utc: '2026-05-04T11:00:00Z',
      feed: 'a',
      of: 'sun',
      yDb: 8.6,
      sigmaDb: 0.1,
      fluxSfu: 66,
      air: { zenithDb: 0.04, elDeg: 56 },
    },
  ] as NonNullable<StationRecord['noise']>
  record.clockChecks = [
    {
      id: 'demo-clock-1',
      utc: '2026-05-13T08:10:00Z',
      offsetS: 0.3,
      sigmaS: 0.1,
      by: 'taps',
      pips: 'second',
      wholeS: 0,
      tapsMs: [0.31, 1.28, 2.33, 3.29, 4.3].map(s => at('2026-05-13T08:09:50Z') + Math.round(1000 * s)),
      note: 'short wave',
    },
  ] as NonNullable<StationRecord['clockChecks']>
  record.instruments = [
    {
      id: 'demo-phone-long',
      name: 'Phone, long edge',
      type: 'phone',
      edge: 'long',
      bias: { utc: '2026-04-24T10:01:10Z', biasDeg: 0.38, sigmaDeg: 0.11, atDeg: 1, about: 'x' },
    },
    { id: 'demo-box-level', name: 'Box level', type: 'inclinometer', shows: 'quarter', stepDeg: 0.1 },
  ] as NonNullable<StationRecord['instruments']>
  record.halfSightings = [
    { id: 'demo-half-1', utc: '2026-05-10T18:05:40Z', time: 'stamped', target: { type: 'sun' } },
  ] as NonNullable<StationRecord['halfSightings']>
  // After a blow in the last days of April: one peak, one shadow in the same pose.
  const stormMs = at('2026-04-29T09:40:00Z')
  const storm = (['signal-peak', 'shadow'] as const).map((method, k) =>
    sight(
      scene,
      { ms: stormMs + 20_000 * k, target: { type: 'sun' }, method, sigmaDeg: method === 'shadow' ? undefined! : 0.2 },
      `demo-storm-${method}`,
    ),
  )
  record.sightings.push(...(storm as SightingRecord[]))
  record.sightings.sort((a, b) => at(a.utc) - at(b.utc))
  record.checks = [
    { id: 'demo-storm-1', utc: utcOf(stormMs), kind: 'storm', feed: 'a', peak: storm[0]!.id, shadow: storm[1]!.id },
  ] as NonNullable<StationRecord['checks']>
  return { format: 'moonplumb-fieldbook', version: 1, exportedUtc: '2026-05-13T08:20:00Z', stations: [record] }
}
