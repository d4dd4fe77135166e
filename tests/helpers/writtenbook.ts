/**
 * A field book with everything in it that the program writes: readings by phone, swings, stamps, halves, scans, checks. Invented. A
 * fresh copy each time: tests break it.
 */
import { type AnyBook, smallBook } from './smallbook.ts'

const taken = (): AnyBook => ({
  utc: '2026-04-26T10:00:00Z',
  source: 'motion',
  stepDeg: 0.58,
  rateHz: null,
  noiseDeg: 0.02,
  spreadDeg: 0.2,
  up: [0, 0.6, 0.8],
})

export function writtenBook(): AnyBook {
  const book = smallBook()
  const [station] = book.stations
  const [first, second, mast] = station.levels
  first.raw = {
    shows: 'circle',
    firstDeg: 12,
    secondDeg: -11,
    stepDeg: 0.1,
    noiseDeg: 0.05,
    biasDeg: 0.4,
    shownDeg: 12.4,
    end: 'top',
    taken: [taken(), taken()],
  }
  second.raw = {
    swing: {
      axis: 'upper',
      clampings: [
        [
          {
            reading: 3,
            up: [1, 0, 0],
            phone: { source: 'orientation', stepDeg: 0.1, noiseDeg: 0.01, spreadDeg: 0.03 },
          },
          { reading: 200, up: [0, 1, 0] },
        ],
      ],
      stepDeg: 0.1,
      noiseDeg: 0.05,
      biasDeg: 1.15,
    },
  }
  mast.raw = { around: [{ headingDeg: 90, readingDeg: 0.3, taken: taken() }] }
  station.sightings[0].stamp = { monotonicMs: 3e9, clockStepS: -3600 }
  station.sightings[0].halfId = 'half-0'
  station.halfSightings = [
    {
      id: 'half-1',
      utc: '2026-04-27T21:00:00Z',
      time: 'about',
      target: { type: 'sun' },
      monotonicMs: 12,
      clockStepS: 0,
      method: 'shadow',
      feed: 'a',
      dialled: { lower: 3, upper: 4 },
      lower: 3,
      upper: 4,
      arrivedFrom: { lower: '+' },
      note: 'by torch',
    },
  ]
  station.references[0].visit = 'start'
  station.changes[0].slipped = true
  station.alignment = [
    { id: 'al-1', utc: '2026-04-26T12:00:00Z', what: 'left-out', step: 'mast', note: 'roof mount' },
    { id: 'al-2', utc: '2026-04-26T13:00:00Z', what: 'set', step: 'heading' },
    {
      id: 'al-3',
      utc: '2026-04-27T09:00:00Z',
      what: 'carried',
      feed: 'a',
      numbers: [
        { id: 'level', value: 0.4 },
        { id: 'feedRight', feed: 'a', value: 3 },
      ],
      note: 'the laptop in the shack',
    },
  ]
  station.dismissed = ['counter-step upper - - 31']
  station.demo = false
  station.adjusters = [
    { id: 'east screw', name: 'East screw', turns: 'level', by: 'screw', armMm: 400, pitchMm: 1.75, plus: 'clockwise' },
  ]
  station.mount.lower.calibration = {
    utc: '2026-04-26T11:00:00Z',
    pairs: [{ reading: 3, angleDeg: 0.2, sigmaDeg: 0.1, from: '+' }],
  }
  station.mount.upper.drive = { readingsPerS: 1.5, overrun: 3, arriveFrom: '-' }
  station.stow = { lower: 30, upper: 200, windKmh: 45, note: 'face to the wind' }
  station.dish.measured.strings = [
    { utc: '2026-04-25T10:30:00Z', pair: 'upright', seenFrom: 'front', firstInFrontMm: 4, firstBehindMm: 1 },
    { utc: '2026-04-25T10:35:00Z', pair: 'diagonal', seenFrom: 'behind', firstInFrontMm: 0, firstBehindMm: 2 },
  ]
  const scan = { utc: '2026-04-29T02:00:00Z', target: { type: 'sun' }, feed: 'a' }
  const peak = (x: number) => -60 + 9 * Math.exp(-4 * Math.LN2 * x * x)
  station.scans.push(
    {
      ...scan,
      id: 'sc-drift',
      what: 'drift',
      scale: 'dB',
      how: 'typed',
      lower: 400,
      upper: 200,
      samples: [...Array(20).keys()].map(k => ({ s: 90 * k, level: peak((k - 9.4) / 9) })),
      gaps: [{ fromS: 300, toS: 340 }],
      centre: { riseDb: 9, sigmaDb: 0.5 },
      expect: { peakUtc: '2026-04-29T02:14:00Z', widthS: 900 },
    },
    { id: 'sc-part', what: 'part', scan: 'sc-drift', samples: [{ s: 1800, level: -60 }], gaps: [], marks: [] },
    {
      ...scan,
      id: 'sc-taps',
      what: 'drift',
      scale: 'dB',
      how: 'tapped',
      lower: 400,
      upper: 200,
      samples: [],
      marks: [
        { s: 300, mark: 'rising' },
        { s: 500, mark: 'peak' },
        { s: 720, mark: 'same' },
      ],
    },
    {
      ...scan,
      id: 'sc-cross',
      what: 'cross',
      scale: 'dB',
      samples: (['lower', 'upper'] as const).flatMap((axis, a) =>
        [...Array(9).keys()].map(k => ({
          s: 60 * (9 * a + k),
          axis,
          lower: axis === 'lower' ? 400 + 8 * (k - 4) : 400,
          upper: axis === 'upper' ? 200 + 8 * (k - 4) : 200,
          level: peak((k - 4.2) / 5),
          from: '+',
        })),
      ),
      plan: { points: 9, step: 0.25, from: '+', axes: ['lower', 'upper'], both: false },
    },
    {
      ...scan,
      id: 'sc-equal',
      what: 'cross',
      scale: 'linear',
      how: 'tapped',
      samples: [],
      marks: [
        { s: 0, axis: 'lower', lower: 390, upper: 200, pair: 0 },
        { s: 60, axis: 'lower', lower: 410, upper: 200, pair: 0 },
      ],
    },
  )
  // No two places share an object: a test that breaks one breaks that alone.
  return JSON.parse(JSON.stringify(book))
}
