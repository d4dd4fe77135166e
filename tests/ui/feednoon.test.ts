import { describe, expect, it } from 'vitest'
import type { FeedCheckJson, ShadowsJson } from '../../src/core/check/feedjson.ts'
import type { StormCheckJson } from '../../src/core/plan/stormjson.ts'
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
import { fellSays, rollSays, shadowExpectedSays } from '../../src/ui/kit/shadow/words.ts'
import { missSays, paceSays, reachSays } from '../../src/ui/noon/words.ts'
import {
  changedBy,
  changedWords,
  foundWords,
  measurementWords,
  planSays,
  rivalWords,
  stepsCounted,
  stormCost,
  stormNext,
  stormSentence,
} from '../../src/ui/storm/words.ts'

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
    expect(plain(shadowExpectedSays(pose, 'behind', 'mm', true))).toBe(
      'The middle of the shadow should be 13 mm right of and 8 mm below the vertex, ± 5 mm, seen from behind.',
    )
    expect(plain(shadowExpectedSays(pose, 'front', 'mm', true))).toContain('13 mm left of')
    expect(plain(fellSays({ rightMm: -22, upMm: 0 }, 'front', 'mm'))).toBe(
      'Its middle fell 22 mm right of the vertex, seen from in front.',
    )
    expect(shadowExpectedSays(pose, 'behind', 'mm', false)).toContain('Too little is known')
    expect(shadowExpectedSays({ ...pose, shadow: null }, 'behind', 'mm', true)).toContain('does not shine')
  })
  it('turns the roll over with the side from which it is seen', () => {
    expect(rollSays(23, 'behind')).toContain('23° to the right of straight up')
    expect(rollSays(23, 'front')).toContain('23° to the left of straight up')
    expect(rollSays(-23, 'behind')).toContain('23° to the left')
    expect(rollSays(0.3, 'behind')).toContain('at the top')
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
  const sunPeak = {
    kind: 'sighting',
    target: 'sun',
    method: 'signal-peak',
    utc: '2026-05-12T10:00:00Z',
    azDeg: 150,
    elDeg: 50,
    lower: 20,
    upper: 300,
    sigmaDeg: 0.16,
  } as const
  const said: StormCheckJson = {
    verdict: 'moved',
    why: null,
    toleranceDeg: 0.78,
    atMostDeg: 2,
    weakest: 'upper-zero',
    standsOut: 3.4,
    explanations: [
      {
        kinds: ['upper-zero'],
        changed: [{ id: 'upperZero', change: 1.2, sigma: 0.3, unit: 'deg', counts: -23.4 }],
        skyDeg: 1.2,
        isSmall: false,
        leftChi2: 2,
        what: ['upper-zero'],
      },
    ],
    isExplained: true,
    odd: null,
    found: [],
    next: [],
    isEnough: false,
    sharper: null,
  }
  const rival = {
    kinds: ['mount'],
    changed: [{ id: 'heading', change: 1.3, sigma: 0.4, unit: 'deg', counts: null }],
    skyDeg: 1.3,
    isSmall: false,
    leftChi2: 3,
    what: ['lower-axis'],
  } as const satisfies StormCheckJson['explanations'][number]
  const station = stationOf('az-over-el')

  it('names what moved, by how much and what it costs; with rivals it is only the likeliest', () => {
    expect(stormSentence(station, said)).toBe('The clamp or counter of swing moved.')
    expect(plain(changedWords(station, said.explanations[0]!.changed[0]!, 'mm').value)).toBe(
      'too little by 1.2 ± 0.3°, 23 counts',
    )
    expect(plain(stormCost(said)!)).toBe('It costs up to 1.2° on 95 % of the Moon’s path; tolerance 0.78°.')
    expect(rivalWords(station, said)).toBeNull()
    const both = { ...said, explanations: [...said.explanations, rival], odd: 'x' }
    expect(stormSentence(station, both)).toBe('Something moved: most likely the clamp or counter of swing.')
    expect(rivalWords(station, both)).toBe(
      'Would also explain it: the mount on its base; or one of the sightings is wrong.',
    )
    expect(stormNext(said)).toMatch(/limit switch/)
    expect(stormSentence(station, { ...said, isExplained: false })).toMatch(/no one cause/)
    const small = { ...said, explanations: [{ ...said.explanations[0]!, isSmall: true, skyDeg: 0.3 }] }
    expect(plain(stormCost(small)!)).toContain('less than the tolerance of 0.78°')
  })

  it('says that nothing moved with what may still hide, and never gives the all-clear while it cannot tell', () => {
    const nothing: StormCheckJson = { ...said, verdict: 'nothing-moved', explanations: [], atMostDeg: 0.61 }
    expect(stormSentence(station, nothing)).toBe('Nothing moved. A move that matters would have shown.')
    expect(plain(stormCost(nothing)!)).toContain('less than 0.61° on 95 % of the Moon’s path; tolerance 0.78°')
    const open: StormCheckJson = { ...nothing, verdict: 'cannot-tell', why: 'unseen', weakest: 'mount' }
    expect(stormSentence(station, open)).toBe(
      'Cannot tell yet. Nothing shows so far, but the mount on its base could have moved by more than the tolerance.',
    )
    expect(stormCost(open)).toBeNull()
    expect(stormNext(open)).toMatch(/^This is not an all-clear/)
    for (const why of ['nothing-before', 'loose-before', 'odd-one', 'no-sky'] as const)
      expect(stormSentence(station, { ...open, why })).toMatch(/^Cannot tell/)
  })

  it('counts what would tell, and how many would do by equal levels', () => {
    const shadow = { ...sunPeak, method: 'shadow' as const }
    const level = { kind: 'level' as const, what: 'dish-elevation' as const, lower: 1, upper: 2, sigmaDeg: 0.2 }
    expect(plain(stepsCounted([sunPeak, sunPeak, shadow, level]))).toBe('2 Sun peaks, 1 shadow and 1 level')
    const step = measurementWords(sunPeak)
    expect([step.what, plain(step.value)]).toEqual([
      'Sun by strongest signal',
      expect.stringMatching(/^12 May 2026, 10:00.* ± 0\.16°$/),
    ])
    const open: StormCheckJson = { ...said, verdict: 'cannot-tell', why: 'unseen', next: [sunPeak, sunPeak] }
    expect(plain(planSays({ ...open, isEnough: true })!)).toBe('2 Sun peaks would be enough.')
    expect(plain(planSays({ ...open, sharper: { steps: 3, sigmaDeg: 0.09 } })!)).toBe(
      '2 Sun peaks in the next day and a half would help, but are not enough. With peaks by equal readings on both sides, ± 0.09°, 3 would do.',
    )
  })

  it('says where a target was found against before, and what does not fit', () => {
    const sighted = {
      ...station,
      sightings: [{ id: 'p', utc: '2026-05-12T10:00:00Z', target: { type: 'sun' }, method: 'signal-peak' }],
    } as unknown as StationRecord
    const miss = { rightDeg: 1.24, upDeg: 0, sigmaRightDeg: 0.3, sigmaUpDeg: 0.3 }
    const off = foundWords(sighted, { id: 'p', kind: 'sighting', chi2: 17, rows: 2, miss })
    expect([off.label, plain(off.value)]).toEqual(['Sun by strongest signal', '1.2° right, ± 0.30°'])
    const fits = foundWords(sighted, { id: 'p', kind: 'sighting', chi2: 2, rows: 2, miss })
    expect(plain(fits.value)).toBe('as before, ± 0.30°')
  })

  it('leads to the change that it would be', () => {
    expect(changedBy(said)).toEqual(['upper-zero'])
    expect(changedBy({ ...said, explanations: [] })).toEqual([])
  })
})
