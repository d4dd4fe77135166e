import { describe, expect, it } from 'vitest'
import type { FeedCheckJson, ShadowsJson, StormCheckJson } from '../../src/core/check/feedjson.ts'
import type { MountKind, StationRecord } from '../../src/core/records/fieldbook.ts'
import {
  countsSays,
  droopSays,
  movedWords,
  placeSays,
  remainsSays,
  verdictSays,
  wantedSays,
} from '../../src/ui/feed/words.ts'
import { expectedSays, fellSays, rollSays } from '../../src/ui/kit/shadow/words.ts'
import { missSays, paceSays, reachSays } from '../../src/ui/noon/words.ts'
import { changedBy, culpritSays, stormFeed, stormMiss, stormShadow, stormVerdict } from '../../src/ui/storm/words.ts'

const plain = (text: string) => text.replace(/\u00a0/g, ' ')

const feed: FeedCheckJson = {
  feed: 'a',
  name: 'ring',
  verdict: 'move',
  rightMm: 12.2,
  upMm: -4.9,
  sigmaRightMm: 2.1,
  sigmaUpMm: 2.2,
  sizeMm: 13,
  sigmaSizeMm: 2,
  move: { rightMm: -12.2, upMm: 0 },
  sightings: { shadow: 4, signal: 6 },
  beamFromShadow: { rightDeg: -1, upDeg: 0.4, sigmaRightDeg: 0.2, sigmaUpDeg: 0.2 },
  now: { byShadowDb: 0.5, skewedDb: 0.02 },
  after: { sigmaMm: 2.1, byShadowDb: 0.03, skewedDb: 0 },
  squint: { rightDeg: 0, upDeg: 0, sigmaRightDeg: 0.2, sigmaUpDeg: 0.2 },
  droop: { verdict: 'cannot-tell', feedMm: 1, sigmaFeedMm: 3, sagDeg: 0.1, sigmaSagDeg: 0.2, correlation: -0.9 },
  change: { what: [], expect: [] },
}

describe('a feed', () => {
  it('is told which way to go, the opposite of where it sits, and only what is worth it', () => {
    expect(plain(verdictSays(feed, 'mm'))).toBe('Move the feed 12 ± 2 mm to the left, seen from behind the dish.')
    expect(plain(placeSays(feed, 'mm'))).toBe('12 ± 2 mm right, 5 ± 2 mm away from UP')
    expect(plain(verdictSays({ ...feed, move: { rightMm: 8, upMm: 6 } }, 'mm'))).toContain(
      '8 ± 2 mm to the right and 6 ± 2 mm toward the UP mark',
    )
    expect(plain(remainsSays(feed, 'mm'))).toBe('± 2 mm, under 0.1 dB')
    expect(plain(movedWords({ rightMm: -12, upMm: 0 }, 'mm'))).toBe('12 mm to the left')
    expect(plain(movedWords({ rightMm: -25.4, upMm: 25.4 }, 'in'))).toBe(
      '1.00 in to the left and 1.00 in toward the UP mark',
    )
  })
  it('is left alone within its own ±, and while it is not known; then it is said what would tell', () => {
    expect(verdictSays({ ...feed, verdict: 'leave' }, 'mm')).toMatch(/^Leave the feed alone/)
    expect(verdictSays({ ...feed, verdict: 'not-yet' }, 'mm')).toMatch(/leave the feed alone/)
    expect(wantedSays({ ...feed, sightings: { shadow: 0, signal: 4 } })).toMatch(/No shadow/)
    expect(wantedSays({ ...feed, sightings: { shadow: 4, signal: 0 } })).toMatch(/Peak on the Sun/)
    expect(countsSays(feed)).toBe('4 by shadow, 6 by signal')
    const onAxis = { ...feed, rightMm: 0.3, upMm: -0.2 }
    expect(plain(placeSays(onAxis, 'mm'))).toBe('on the axis, give or take 2 mm')
  })
  it('says sinking where the sightings tell it, and that it is open where they do not', () => {
    expect(droopSays(feed, 'mm')).toMatch(/^Open/)
    const sinks = { ...feed, droop: { ...feed.droop, verdict: 'sinks' as const, feedMm: 9 } }
    expect(plain(droopSays(sinks, 'mm'))).toContain('sinks by 9 ± 3 mm at the horizon')
    expect(plain(droopSays(sinks, 'mm'))).toContain('droops by 0.1 ± 0.2°')
  })
})

describe('the noon check', () => {
  const pose = {
    utc: '2026-06-10T11:30:00Z',
    azDeg: 180,
    elDeg: 65,
    lower: 60,
    upper: 0,
    inside: true,
    rollDeg: 23,
    shadow: { centre: { rightMm: 13, upMm: -8 }, outline: [], blurMm: 5.5, isWhole: true },
    sigmaRightMm: 5,
    sigmaUpMm: 3,
  }
  it('says the place as it is seen from there', () => {
    expect(plain(expectedSays(pose, 'behind', 'mm', true))).toBe(
      'The middle of the shadow should be 13 mm right of and 8 mm below the vertex, give or take 5 mm, seen from behind.',
    )
    expect(plain(expectedSays(pose, 'front', 'mm', true))).toContain('13 mm left of')
    expect(plain(fellSays({ rightMm: -22, upMm: 0 }, 'front', 'mm'))).toBe(
      'Its middle fell 22 mm right of the vertex, seen from in front.',
    )
    expect(expectedSays(pose, 'behind', 'mm', false)).toContain('too little is known')
    expect(expectedSays({ ...pose, shadow: null }, 'behind', 'mm', true)).toContain('does not shine')
  })
  it('turns the roll over with the side from which it is seen', () => {
    expect(rollSays(23, 'behind')).toContain('23° to the right of straight up')
    expect(rollSays(23, 'front')).toContain('23° to the left of straight up')
    expect(rollSays(-23, 'behind')).toContain('23° to the left')
    expect(rollSays(0.3, 'behind')).toContain('on top')
    expect(rollSays(null, 'front')).toContain('straight up')
  })
  it('says when the Sun is within reach, or that it never is', () => {
    expect(plain(reachSays([{ fromUtc: '2026-06-10T08:10:00Z', toUtc: '2026-06-10T15:40:00Z' }]))).toContain(
      'from 08:10 to 15:40 UTC',
    )
    expect(reachSays([])).toContain('does not come within reach')
  })
  const together: ShadowsJson = {
    readings: [],
    miss: { rightDeg: 0.31, upDeg: -0.12, sigmaDeg: 0.2 },
    sigmaEachDeg: 0.35,
    pace: { ratio: 0.97, sigma: 0.12, isRight: true },
    looksMirrored: false,
    sighting: {} as ShadowsJson['sighting'],
  }
  it('says the miss, and whether the shadow keeps the Sun’s pace', () => {
    expect(plain(missSays(together.miss, 0.2))).toBe(
      'Against the solution the Sun stands 0.3° right, 0.1° low, ± 0.20°.',
    )
    expect(paceSays(together)).toMatchObject({ good: true })
    expect(paceSays(together).text).toContain('0.97 ± 0.12')
    expect(paceSays({ ...together, pace: { ratio: 0.2, sigma: 0.1, isRight: false } })).toMatchObject({ good: false })
    expect(paceSays({ ...together, pace: null })).toMatchObject({ good: null })
    expect(paceSays({ ...together, looksMirrored: true }).text).toContain('other side')
  })
})

describe('after a storm', () => {
  const stationOf = (kind: MountKind): StationRecord =>
    ({
      site: { latDeg: 47, lonDeg: 9, heightM: 0 },
      mount: { kind },
      feeds: [],
      sightings: [],
    }) as unknown as StationRecord
  const said: StormCheckJson = {
    verdict: 'mount-or-counter',
    miss: { rightDeg: 1.24, upDeg: 0, sigmaRightDeg: 0.3, sigmaUpDeg: 0.3, chi2: 20 },
    shadow: { rightMm: 2, upMm: 1, sigmaRight: 9, sigmaUp: 9, chi2: 0.1 },
    feed: null,
    culprits: [
      { id: 'upperZero', label: '', changeDeg: 1.2, sigmaDeg: 0.3, counts: -23.4, leftChi2: 0.2 },
      { id: 'heading', label: '', changeDeg: 1.3, sigmaDeg: 0.4, counts: null, leftChi2: 9 },
    ],
    isClear: true,
  }
  it('names the one thing that explains the miss, or says that none stands out', () => {
    const station = stationOf('az-over-el')
    expect(plain(culpritSays(station, said)!)).toBe(
      'Best explained by one thing: zero: swing shows too little by 1.2 ± 0.3°, 23 counts.',
    )
    const turned = { ...said, culprits: [said.culprits[1]!] }
    expect(plain(culpritSays(station, turned)!)).toContain('seen from above, clockwise by 1.3 ± 0.4°')
    expect(culpritSays(station, { ...said, isClear: false })).toMatch(/^Not one thing alone/)
    expect(culpritSays(station, { ...said, culprits: [] })).toBeNull()
    const feed = { rightMm: 20, upMm: 0, sigmaMm: 4 }
    const moved = { ...said, shadow: { ...said.shadow!, rightMm: -40 }, feed }
    expect(plain(stormMiss(said))).toBe('1.2° right of where it was, ± 0.30°')
    expect(plain(stormShadow(said, 'mm'))).toBe('where it was, ± 9 mm')
    expect(plain(stormShadow(moved, 'mm'))).toContain('40 ± 9 mm left')
    expect(plain(stormFeed(feed, 'mm'))).toContain('20 ± 4 mm to the right')
  })
  it('does not say that the shadow is where it was when it was not read', () => {
    expect(stormVerdict('as-before', true)).toContain('signal and shadow')
    expect(stormVerdict('as-before', false)).toContain('not read')
    expect(stormVerdict('moved', false)).toContain('Without the shadow')
  })
  it('leads to the change that it would be', () => {
    const names = (kind: MountKind, more: Partial<StormCheckJson> = {}) =>
      changedBy(stationOf(kind), 'a', { ...said, ...more })
    const best = (id: StormCheckJson['culprits'][number]['id']) => ({ culprits: [{ ...said.culprits[0]!, id }] })
    expect(names('az-over-el')).toEqual(['upper-zero'])
    expect(names('az-over-el', best('heading'))).toEqual(['lower-axis'])
    expect(names('ha-dec', best('poleEast'))).toEqual(['lower-axis'])
    expect(names('el-over-az', best('lowerZero'))).toEqual(['lower-zero'])
    expect(names('az-over-el', { verdict: 'feed-or-dish', culprits: [] })).toEqual(['feed:a'])
    expect(names('az-over-el', { verdict: 'both' })).toEqual(['feed:a', 'upper-zero'])
    expect(names('az-over-el', { verdict: 'as-before', culprits: [] })).toEqual([])
  })
})
