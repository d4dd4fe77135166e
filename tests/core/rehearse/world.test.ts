/** A dish from its seed: the same again, what each difficulty holds, what the instruments show against the mount's own truth. */
import { describe, expect, it } from 'vitest'
import { bowlFromRatio } from '../../../src/core/dish/paraboloid.ts'
import { readFieldBook } from '../../../src/core/records/intake.ts'
import { aimed } from '../../../src/core/rehearse/aimed.ts'
import { still } from '../../../src/core/rehearse/drives.ts'
import { idsOfTruth } from '../../../src/core/rehearse/faults.ts'
import { trueLevelAt } from '../../../src/core/rehearse/mount.ts'
import type { Difficulty, RehearsalSetup } from '../../../src/core/rehearse/setup.ts'
import { heightDeg } from '../../../src/core/rehearse/turning.ts'
import { type Hands, type World, worldOf } from '../../../src/core/rehearse/world.ts'
import { feedFromRim } from '../../../src/core/tape/rim.ts'
import { KINDS } from '../../helpers/simulate.ts'
import { bookOf } from '../../helpers/stations.ts'

const START = '2026-05-01T08:00:00Z'
const START_MS = Date.UTC(2026, 4, 1, 8)
const setupOf = (seed: number, difficulty: Difficulty, kind = KINDS[seed % 4]!): RehearsalSetup => ({
  seed,
  difficulty,
  kind,
  startUtc: START,
})
const middle = (w: World): Hands => ({
  lower: still((w.drives.lower.low + w.drives.lower.high) / 2),
  upper: still((w.drives.upper.low + w.drives.upper.high) / 2),
})

describe('a dish from its seed', () => {
  it('is the same dish again from the same seed, and another from another', () => {
    const [a, b, c] = [1, 1, 2].map(seed => worldOf(setupOf(seed, 'ordinary', 'ha-dec')))
    expect(a!.paper).toEqual(b!.paper)
    expect(a!.faults).toEqual(b!.faults)
    expect(a!.faults).not.toEqual(c!.faults)
  })

  it.each(KINDS)('of kind %s makes a station that the field book takes, at every difficulty', kind => {
    for (const difficulty of ['beginner', 'ordinary', 'hard'] as const)
      for (let seed = 1; seed <= 3; seed++) {
        const { paper } = worldOf(setupOf(seed, difficulty, kind))
        const taken = readFieldBook(JSON.stringify(bookOf({ ...paper, id: 's', name: 'Rehearsal', sightings: [] })))
        expect(taken.ok || taken.faults).toBe(true)
      }
  })

  it('still reaches the Moon that its paper reaches', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const world = worldOf(setupOf(seed, 'hard'))
      let could = 0
      let can = 0
      for (let k = 0; k < 60; k++) {
        const ms = START_MS + k * 11 * 3_600_000
        const moon = world.bodyAt('moon', ms, 'radio')
        if (heightDeg(moon) < 15) continue
        could++
        if (aimed(world.mountAt(ms), 'beam', 'a', moon) !== null) can++
      }
      expect(can / could).toBeGreaterThan(0.5)
    }
  })

  it('has three faults for a beginner', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const { truths, clockErrorS, slip, wrongStop } = worldOf(setupOf(seed, 'beginner')).faults
      expect(Object.values(truths[0]!.truth).filter(x => x !== 0)).toHaveLength(3)
      expect([truths.length, clockErrorS, slip, wrongStop]).toEqual([1, 0, null, null])
    }
  })

  it('has something of every deviation in an ordinary case, within two σ of its prior', () => {
    const world = worldOf(setupOf(2, 'ordinary', 'az-over-el'))
    expect(Object.keys(world.faults.truths[0]!.truth).sort()).toEqual(idsOfTruth(world.paper).sort())
  })

  it('has a storm, a clock off by minutes, a slipped counter, a wrong stop, a feed off and lost motion in a hard case', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const { paper, faults } = worldOf(setupOf(seed, 'hard', seed % 2 ? 'az-over-el' : 'el-over-az'))
      const [before, after] = faults.truths
      expect(after!.truth).not.toEqual(before!.truth)
      expect(Math.abs(faults.clockErrorS)).toBeGreaterThanOrEqual(120)
      expect(faults.slip!.counts).toBeLessThan(0)
      const { low, high } = worldOf(setupOf(seed, 'hard', seed % 2 ? 'az-over-el' : 'el-over-az')).drives[
        faults.wrongStop!.axis
      ]
      const { minReading, maxReading } = paper.mount[faults.wrongStop!.axis]
      expect(high - low).toBeLessThan(0.95 * (maxReading - minReading))
      const { truth } = before!
      expect(Math.hypot(truth['feedRight:a']!, truth['feedUp:a']!)).toBeGreaterThan(18)
      expect(Math.max(Math.abs(truth.lowerPlay!), Math.abs(truth.upperPlay!))).toBeGreaterThan(0.5)
    }
  })
})

describe('what it shows', () => {
  it('has the counter lose its counts at the slip, and the axis stay where it is', () => {
    const world = worldOf(setupOf(1, 'hard', 'az-over-el'))
    const slip = world.faults.slip!
    const hands = middle(world)
    const [before, after] = [slip.fromMs - 1000, slip.fromMs + 1000]
    expect(world.readings(hands, after)[slip.axis] - world.readings(hands, before)[slip.axis]).toBe(slip.counts)
    expect(world.angles(hands, after)).toEqual(world.angles(hands, before))
  })

  it('counts its time by a clock that is off', () => {
    const world = worldOf(setupOf(1, 'hard', 'az-over-el'))
    expect(START_MS - world.trueMs(START_MS)).toBe(1000 * world.faults.clockErrorS)
  })

  it('hears the Sun loudest where the true mount puts its beam on it', () => {
    const world = worldOf(setupOf(1, 'beginner', 'az-over-el'))
    const noon = Date.UTC(2026, 4, 1, 10)
    const at = aimed(world.mountAt(noon), 'beam', 'a', world.bodyAt('sun', noon, 'radio'))!
    const level = (l: number, u: number) =>
      world.hears({ lower: still(at.lower + l), upper: still(at.upper + u) }, noon, 10).db
    const on = level(0, 0)
    for (const [l, u] of [
      [2, 0],
      [-2, 0],
      [0, 2.5],
      [0, -2.5],
    ] as const)
      expect(on).toBeGreaterThan(level(l, u) + 0.3)
    // Of 8 to 11 dB, by flux and system temperature.
    expect(on - world.hears({ lower: still(80), upper: still(-50) }, noon, 10).db).toBeGreaterThan(6)
  })

  it('lays an inclinometer with its bias: the mean of both ways round is the level to 0.1°', () => {
    const world = worldOf(setupOf(6, 'ordinary', 'x-y'))
    const hands = middle(world)
    for (const place of ['dish-elevation', 'lower-axis-elevation', 'upper-axis-elevation'] as const) {
      const [one, other] = [false, true].map(about => world.inclined(hands, START_MS, place, about))
      const { lowerDeg, upperDeg } = world.angles(hands, START_MS)
      const level = trueLevelAt(world.mountAt(START_MS), place, lowerDeg, upperDeg)
      expect((one! - other!) / 2).toBeCloseTo(level, 0)
      expect(Math.abs((one! - other!) / 2 - level)).toBeLessThan(0.2)
      expect(Math.abs((one! + other!) / 2 - world.inclinometer.biasDeg)).toBeLessThan(0.2)
    }
  })

  it('leans its mast by a sine of the heading about the bias', () => {
    const world = worldOf(setupOf(3, 'ordinary', 'el-over-az'))
    const [n, e, s, w] = [0, 90, 180, 270].map(h => world.mast(h, START_MS)) as [number, number, number, number]
    const { truth } = world.mountAt(START_MS)
    expect(Math.abs((n - s) / 2 - truth.leanNorth!)).toBeLessThan(0.15)
    expect(Math.abs((e - w) / 2 - truth.leanEast!)).toBeLessThan(0.15)
  })

  it('tapes rim distances from which the feed is found within 3 mm', () => {
    const world = worldOf(setupOf(5, 'hard', 'az-over-el'))
    const { dish } = world.paper
    const distances = [...Array(8).keys()].map(k => ({
      angle: (k * Math.PI) / 4,
      distance: world.rim((k * 12) / 8, START_MS),
      sigma: 1.5,
    }))
    const bowl = bowlFromRatio(dish.diameterM * 1000, dish.focalRatio)
    const found = feedFromRim({ bowl, sigmaDiameter: 0, sigmaDepth: 0, mouthRadius: 0, phaseCentre: 0 }, distances)
    const { truth } = world.mountAt(START_MS)
    if (found.kind !== 'place') throw new Error(found.kind)
    expect(Math.abs(found.right - truth['feedRight:a']!)).toBeLessThan(3)
    expect(Math.abs(found.up - truth['feedUp:a']!)).toBeLessThan(3)
  })

  it('stands on its mark at the reading at which the mark was made, until the counter slips', () => {
    const world = worldOf(setupOf(1, 'hard', 'az-over-el'))
    const { axis } = world.faults.slip!
    const hands = { ...middle(world), [axis]: still(world.marks[axis]) }
    expect(Math.abs(world.fromMark(axis, hands, START_MS))).toBeLessThan(1e-9)
    expect(world.readings(hands, START_MS)[axis]).toBe(world.marks[axis])
    expect(world.readings(hands, world.faults.slip!.fromMs)[axis]).not.toBe(world.marks[axis])
  })

  it('moves its feed when somebody moves it', () => {
    const setup = setupOf(1, 'beginner', 'az-over-el')
    const [still_there, moved] = [
      setup,
      { ...setup, deeds: [{ utc: '2026-05-02T00:00:00Z', id: 'feedUp:a', by: -12 }] },
    ].map(s => worldOf(s))
    const of = (w: World, ms: number) => w.mountAt(ms).truth['feedUp:a'] ?? 0
    expect(of(moved!, START_MS)).toBe(of(still_there!, START_MS))
    expect(of(moved!, START_MS + 86_400_000)).toBeCloseTo(of(still_there!, START_MS) - 12)
  })
})
