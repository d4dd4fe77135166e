import { describe, expect, it } from 'vitest'
import type { FeedCheckJson } from '../../../src/core/check/feedjson.ts'
import {
  countsSays,
  droopSays,
  movedWords,
  placeSays,
  remainsSays,
  verdictSays,
  wantedSays,
} from '../../../src/ui/feed/words.ts'
import { plain } from '../../helpers/plain.ts'

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
  limitMm: 9,
  wanted: { shadow: 0, signal: 0 },
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
    expect(plain(placeSays(onAxis, 'mm'))).toBe('on the axis, ± 2 mm')
  })
  it('is done only where a wrong move would have been seen; before that it is said what is wanted', () => {
    expect(plain(verdictSays({ ...feed, verdict: 'done' }, 'mm'))).toBe(
      'Done: the feed sits right. An error of 9 mm would have shown.',
    )
    const moved = { ...feed, verdict: 'unchecked' as const, sightings: { shadow: 0, signal: 0 } }
    const wants = { ...moved, wanted: { shadow: 3, signal: 1 } }
    expect(verdictSays(wants, 'mm')).toMatch(/not checked yet/)
    expect(plain(wantedSays(wants))).toBe(
      'To tell whether it is done: 3 shadows and 1 Sun peak by signal, since the move.',
    )
    expect(verdictSays({ ...feed, verdict: 'not-as-noted' }, 'mm')).toMatch(/the other way/)
  })
  it('says sinking where the sightings tell it, and that it is open where they do not', () => {
    expect(droopSays(feed, 'mm')).toMatch(/^Open/)
    const sinks = { ...feed, droop: { ...feed.droop, verdict: 'sinks' as const, feedMm: 9 } }
    expect(plain(droopSays(sinks, 'mm'))).toContain('sags by 9 ± 3 mm from zenith to horizon')
    expect(plain(droopSays(sinks, 'mm'))).toContain('droops by 0.1 ± 0.2°')
  })
})
