import { describe, expect, it } from 'vitest'
import { pastedLevels } from '../../../src/core/import/levels.ts'
import type { MountRecord } from '../../../src/core/records/fieldbook.ts'
import type { CrossFitJson, DriftFitJson } from '../../../src/state/scanasks.ts'
import { levelText } from '../../../src/ui/kit/format.ts'
import {
  badLineWords,
  crossSays,
  driftRows,
  driftSays,
  equalSays,
  pastedWords,
  tapsSay,
} from '../../../src/ui/scan/says.ts'
import { DRIFT, SCAN_CAUTION } from '../../../src/ui/scan/words.ts'
import { unmarked } from '../../helpers/plain.ts'

const mount = {
  kind: 'az-over-el',
  lower: { readout: { type: 'degrees' }, minReading: 0, maxReading: 90 },
  upper: { readout: { type: 'linear-counts', zeroCounts: 0, countsPerDeg: 10 }, minReading: 0, maxReading: 900 },
} as MountRecord

const drift = (more: Partial<DriftFitJson> = {}): DriftFitJson => ({
  kind: 'peak',
  peakUtc: '2026-05-01T10:12:30.600Z',
  peakS: 750,
  sigmaS: 2.24,
  rateDegPerMin: 0.25,
  alongRight: 0.9,
  alongUp: -0.43,
  sigmaAlongDeg: 0.009,
  acrossDeg: 0,
  sigmaAcrossDeg: 5.4,
  acrossFrom: 'unknown',
  missAlongDeg: 0.25,
  widthDeg: 5.44,
  sigmaWidthDeg: 0.02,
  expectedWidthDeg: 5.41,
  isWidthOdd: false,
  isWeak: false,
  isClipped: false,
  isAtEdge: false,
  isShaped: false,
  spikes: [],
  clipped: [],
  riseDb: 5.06,
  basePower: 1,
  curve: [],
  sighting: {} as DriftFitJson['sighting'],
  ...more,
})

describe('driftSays', () => {
  it('tells peak, ± and how much later than expected, in time and on the sky', () => {
    const said = driftSays(drift())
    expect(said.state).toBe('good')
    expect(unmarked(said.strong)).toBe('Peak at 10:12:31 ± 2.2 s.')
    expect(said.more.map(unmarked)).toEqual(['It came 1 min later than expected, 0.25° on the sky.'])
    expect(unmarked(driftSays(drift({ missAlongDeg: -0.05 })).more[0]!)).toMatch(/^It came 12 s sooner/)
    expect(driftSays(drift({ missAlongDeg: 0.001 })).more[0]).toBe('It came when expected.')
  })
  it('says what is wrong with a fit, each fault on its own, and does not call it good', () => {
    const faults: [Partial<DriftFitJson>, RegExp][] = [
      [{ isWeak: true }, /weak: noise alone/],
      [{ isClipped: true }, /cut off.*gain down/],
      [{ isAtEdge: true }, /one flank is missing/],
      [{ isWidthOdd: true, widthDeg: 8.1 }, /1\.50 times as wide/],
      [{ isShaped: true }, /skirts/],
      [{ spikes: [3, 4] }, /^2.readings stand far off the curve and are not counted/],
    ]
    for (const [more, words] of faults) {
      const said = driftSays(drift(more))
      expect(said.state).toBe('look-out')
      expect(said.more.length).toBe(2)
      expect(said.more[1]).toMatch(words)
    }
  })
  it('says what to do where there is no peak yet', () => {
    expect(unmarked(driftSays({ kind: 'too-few', samples: 1, needed: 6 }).strong)).toBe(
      '1 reading so far; a fit needs 6.',
    )
    expect(driftSays({ kind: 'outside', toward: 'last' }).more).toEqual(['Go on listening.'])
    expect(driftSays({ kind: 'outside', toward: 'first' }).more).toEqual(['Park farther ahead next time.'])
    expect(driftSays({ kind: 'no-peak' }).state).toBe('look-out')
  })
  it('names the way through the dish, and which direction stays unsure', () => {
    const rows = driftRows(drift())
    expect(rows.find(r => r.label === 'Uncertainty along the drift')!.note).toMatch(
      /^The target drifts right and down, seen from behind the dish/,
    )
    expect(unmarked(rows.find(r => r.label === 'Uncertainty across it')!.value)).toBe('± 5.4°')
  })
})

describe('crossSays', () => {
  const cross: CrossFitJson = {
    kind: 'peak',
    miss: { rightDeg: 0.73, upDeg: -0.45 },
    sigmaRightDeg: 0.02,
    sigmaUpDeg: 0.02,
    lower: 31.234,
    upper: 412.3,
    lostMotion: [],
    axes: ['lower', 'upper'],
    beyond: [],
    widthDeg: 5.4,
    sigmaWidthDeg: 0,
    expectedWidthDeg: 5.4,
    isWeak: false,
    rejected: [],
    arms: [],
    height: 2,
    sighting: {} as CrossFitJson['sighting'],
  }
  it('tells the readings of the peak and to which side the target stood against the beam, in words', () => {
    const said = crossSays(mount, cross)
    expect(unmarked(said.strong)).toBe('Peak at tilt 31.23°, swing 412 counts.')
    expect(unmarked(said.more[0]!)).toBe('The target stood 0.73° left, 0.45° high of where it was expected, ± 0.02°.')
    expect(crossSays(mount, { ...cross, miss: { rightDeg: 0.001, upDeg: 0 } }).more[0]).toMatch(
      /^The target stood where it was expected, to/,
    )
  })
  it('tells lost motion, a peak beyond the last reading, and levels that do not fit', () => {
    const motion = { axis: 'upper' as const, playDeg: -0.42, sigmaDeg: 0.03, readings: -4.2, isSure: true }
    const said = crossSays(mount, { ...cross, lostMotion: [motion], beyond: ['lower'], rejected: [2] })
    expect(said.state).toBe('look-out')
    expect(said.more.map(unmarked)).toEqual([
      expect.any(String),
      'Lost motion of swing: 0.42 ± 0.03°, about 4 counts, between the two sides of arrival.',
      'The peak lies beyond the last reading of tilt. Step farther that way.',
      '1 reading stands far off the curve and is not counted.',
    ])
    const none = crossSays(mount, { ...cross, lostMotion: [{ ...motion, isSure: false }] })
    expect(unmarked(none.more[1]!)).toBe('No lost motion seen in swing, to ± 0.03°.')
  })
  it('asks for more levels by the axis’s own word', () => {
    const said = crossSays(mount, { kind: 'too-few', axis: 'upper', samples: 3, needed: 5 })
    expect(unmarked(said.strong)).toBe('3 readings on swing so far; a fit needs 5.')
  })
})

describe('the ways without figures', () => {
  it('say what a time from taps rests on', () => {
    const taps = { peakUtc: '2026-05-01T10:00:00Z', peakS: 1, sigmaS: 12, count: 2, spreadS: 3, rateDegPerMin: 0.25 }
    const more = { sigmaAlongDeg: 0.05, missAlongDeg: 0, sighting: {} as DriftFitJson['sighting'] }
    expect(unmarked(tapsSay({ kind: 'peak', from: 'pairs', ...taps, ...more }).more[1]!)).toMatch(/^From 2 pairs/)
    expect(tapsSay({ kind: 'peak', from: 'peaks', ...taps, ...more }).more[1]).toMatch(/much sharper/)
    expect(tapsSay({ kind: 'too-few' }).state).toBe('look-out')
  })
  it('say which axis lacks a pair', () => {
    expect(equalSays(mount, { kind: 'lacks', axis: 'upper' }).strong).toMatch(/^Swing has no pair yet/)
  })
})

describe('a log', () => {
  it('is told by how many lines, from when to when, and each bad line by number, fault and content', () => {
    const log = pastedLevels('10:00:00,1\n10:00:10,three\n10:00:20,2', Date.UTC(2026, 4, 1, 10))
    expect(unmarked(pastedWords(log))).toBe(
      '2 readings found, from 10:00:00 to 10:00:20 UTC; the times taken as times of day.',
    )
    expect(unmarked(badLineWords(log.bad[0]!))).toBe(
      'Line 2 is left out: what follows the time is not a number. It says: 10:00:10,three',
    )
    expect(pastedWords(pastedLevels('x', 0))).toMatch(/^No line could be read/)
  })
})

describe('small words', () => {
  it('show a level with the digits that it was typed with', () => {
    expect(unmarked(levelText('dB', -3.5))).toBe('−3.5 dB')
    expect(levelText('linear', 1200.25)).toBe('1200.25')
  })
  it('give the sunlight at the feed of this dish, and warn without a figure too', () => {
    expect(unmarked(SCAN_CAUTION.sun({ powerW: 7070, imageMm: 11.2 }, 'mm'))).toMatch(
      /7\.1 kW of sunlight on a spot 11 mm wide/,
    )
    expect(SCAN_CAUTION.sun(null, 'mm')).toMatch(/hands and face out/)
    expect(SCAN_CAUTION.gravest).toMatch(/Never look along the beam/)
  })
  it('say of a satellite that it does not drift', () => {
    expect(DRIFT.noPlan({ type: 'geostationary', lonDeg: 13 })).toMatch(/nothing drifts/)
    expect(DRIFT.noPlan({ type: 'moon' })).toMatch(/^The Moon does not come within reach/)
  })
})
