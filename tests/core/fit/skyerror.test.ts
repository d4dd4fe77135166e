/**
 * The number that matters, computed a second time by brute force: parameters sampled from their covariance, the true beam
 * by tests/helpers/truemount.ts, the Moon's path point by point.
 */
import { describe, expect, it } from 'vitest'
import { drawnErrors } from '../../../src/core/fit/skydraws.ts'
import { skyPoints, summary } from '../../../src/core/fit/skyerror.ts'
import { answerFor, builtFor, solveStation } from '../../../src/core/fit/solution.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper, SLOTS } from '../../../src/core/mount/slots.ts'
import { solve } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { isHighEnough, type Station } from '../../../src/core/records/station.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { maskAt } from '../../../src/core/sky/horizonmask.ts'
import { moonPath } from '../../../src/core/sky/moonpath.ts'
import { answered } from '../../helpers/answered.ts'
import { chance } from '../../helpers/random.ts'
import { drawn } from '../../helpers/share.ts'
import { bookOf, drawScene, START_MS, sightMany, spoil, utcOf } from '../../helpers/simulate.ts'
import { held, skyTrials } from '../../helpers/skytrials.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

const D = Math.PI / 180
const NOW = START_MS + 22 * 86_400_000

const madeWith = (seed: number, wish: Parameters<typeof drawScene>[1], tolerance?: object) => {
  const scene = drawScene(seed, wish)
  const record = { ...scene.record, sightings: sightMany(scene, 14), ...(tolerance ? { tolerance } : {}) }
  return { scene, record, station: stationFromRecord(record) }
}

/** Names and values of the parameters valid now, as a truth table in degrees, for any vector of the fit's values. */
function tableOf(solved: ReturnType<typeof solveStation>, values: ArrayLike<number>): Truth {
  const table: Truth = {}
  for (const p of solved.parameters.list) {
    if (p.id === null || NOW < p.from || NOW >= p.to) continue
    table[p.feed === null ? p.id : `${p.id}:${p.feed}`] = p.unit === 'deg' ? values[p.index]! / D : values[p.index]!
  }
  return table
}

/** A lower triangle L with L Lᵀ = C. */
function root(C: Float64Array, n: number): Float64Array {
  const L = new Float64Array(n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let x = C[i * n + j]!
      for (let k = 0; k < j; k++) x -= L[i * n + k]! * L[j * n + k]!
      L[i * n + j] = i === j ? Math.sqrt(Math.max(0, x)) : x / L[j * n + j]!
    }
  return L
}

describe('skyError', () => {
  it('agrees with 400 samples of the covariance put through the true equations, after and before, within 6 %', () => {
    const { record, station } = madeWith(
      801,
      { kind: 'az-over-el', lower: 'degrees', upper: 'jack' },
      { floorDeg: 0.15 },
    )
    const solved = solveStation(station)
    const { sky } = answerFor(station, NOW, solved)
    const { values, covariance } = solved.fit
    const n = values.length
    const L = root(covariance.a, n)
    const c = chance(7)
    const points = sky.points.filter((_, k) => k % 8 === 0)
    let after = 0
    let before = 0
    let count = 0
    const solvedMount = trueMount(record, tableOf(solved, values))
    for (let draw = 0; draw < 400; draw++) {
      const z = Float64Array.from({ length: n }, () => c.normal(1))
      const sample = Float64Array.from(values, (v, i) => {
        let x = 0
        for (let k = 0; k <= i; k++) x += L[i * n + k]! * z[k]!
        return v + solved.sigmaScale * solved.problem.priorSigma[i]! * x
      })
      const mount = trueMount(record, tableOf(solved, sample))
      for (const p of points) {
        const miss = apartDeg(mount.pose(p.reach.lower, p.reach.upper, 'beam').b, p.moon.direction)
        if (!Number.isFinite(miss)) continue
        after += miss ** 2
        count++
      }
    }
    let countBefore = 0
    for (const p of points) {
      const ideal = aim(station.model, onPaper(), 'beam', p.moon.direction)
      if (ideal === null) continue
      const miss = apartDeg(solvedMount.pose(ideal.lower, ideal.upper, 'beam').b, p.moon.direction)
      before += miss ** 2
      countBefore++
    }
    const brute = Math.hypot(Math.sqrt(after / count), 0.15)
    // 400 samples with some ten freedoms give the rms to 2 %; the linear tr(JCJᵀ) leaves another per cent or two.
    expect(sky.after.rms / D / brute).toBeGreaterThan(0.94)
    expect(sky.after.rms / D / brute).toBeLessThan(1.06)
    const bruteBefore = Math.sqrt(before / countBefore + brute ** 2)
    expect(sky.before.rms / D / bruteBefore).toBeGreaterThan(0.98)
    expect(sky.before.rms / D / bruteBefore).toBeLessThan(1.02)
  })

  it('counts just the points above mask and lowest elevation that the solved mount reaches within its limits', () => {
    const { station, record } = madeWith(802, { kind: 'el-over-az', mask: true, lower: 'degrees', upper: 'degrees' })
    const solved = solveStation(station)
    const { built } = builtFor(solved, NOW, station.feeds[0]!)
    const path = moonPath(station.site, NOW)
    const points = skyPoints(station, station.feeds[0]!, built, path)
    expect(points.length).toBeGreaterThan(100)
    const lowestDeg = Math.max(8, (1.2 * station.feeds[0]!.hpbw) / D)
    for (const p of points) {
      expect(p.moon.el / D).toBeGreaterThanOrEqual(lowestDeg)
      expect(p.moon.el).toBeGreaterThanOrEqual(maskAt(station.mask, p.moon.az))
      for (const axis of ['lower', 'upper'] as const) {
        expect(p.reach[axis]).toBeGreaterThanOrEqual(record.mount[axis].minReading - 1e-6)
        expect(p.reach[axis]).toBeLessThanOrEqual(record.mount[axis].maxReading + 1e-6)
      }
    }
    const left = path.filter(
      m =>
        isHighEnough(station, station.feeds[0]!, m.az, m.el) &&
        aim(station.model, built, 'beam', m.direction)?.inside === true,
    )
    expect(points.length).toBe(left.length)
    // The mask matters: at azimuth 250° it is 20° high.
    const open: Station = { ...station, mask: [] }
    expect(skyPoints(open, station.feeds[0]!, built, path).length).toBeGreaterThan(points.length)
  })

  it('calls 0.144 HPBW the tolerance for 0.5 dB on echoes, and judges the 95th percentile by it', () => {
    const { record } = madeWith(803, { kind: 'ha-dec', frequencyMHz: 1296 })
    const answer = answered(solve(bookOf(record), { now: utcOf(NOW) }))
    const { sky } = answer
    const hpbwDeg = (70 * 299.792458) / 1296 / record.dish.diameterM
    expect(sky.toleranceDeg / hpbwDeg).toBeCloseTo(0.1441, 4)
    expect(sky.within).toBe(sky.after.p95Deg <= sky.toleranceDeg)
    expect(sky.echoLossP95Db).toBeCloseTo(24.08 * (sky.after.p95Deg / hpbwDeg) ** 2, 6)
    expect(sky.after.p95Deg).toBeLessThanOrEqual(sky.after.worstDeg)
  })

  it('does not go below the floor that the person gives, nor below 1/√12 of a count', () => {
    const { record } = madeWith(804, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees' })
    const rms = (tolerance: object | undefined, counts?: number): [number, number] => {
      const mount =
        counts === undefined
          ? record.mount
          : {
              ...record.mount,
              upper: {
                readout: { type: 'linear-counts' as const, zeroCounts: 0, countsPerDeg: counts },
                minReading: -60 * counts,
                maxReading: 60 * counts,
              },
            }
      const answer = answered(
        solve(bookOf({ ...record, sightings: [], mount, ...(tolerance ? { tolerance } : {}) }), {
          now: utcOf(NOW),
        }),
      )
      return [answer.sky.floorDeg, answer.sky.after.rmsDeg]
    }
    expect(rms(undefined)[0]).toBe(0)
    expect(rms({ floorDeg: 0.4 })[0]).toBeCloseTo(0.4, 9)
    expect(rms({ floorDeg: 0.4 })[1] ** 2 - rms(undefined)[1] ** 2).toBeCloseTo(0.16, 6)
    // One count a degree on the swing: 1/√12 of a degree, at most, since the beam moves no more than the axis.
    const [floor] = rms(undefined, 1)
    expect(floor).toBeGreaterThan(0.2)
    expect(floor).toBeLessThanOrEqual(1 / Math.sqrt(12) + 1e-9)
  })
})

describe('the sky number', () => {
  it('is the 90th percentile over drawn mounts of what 95 % of the points have less than, drawn a second time through the true equations', () => {
    const { record, station } = madeWith(
      805,
      { kind: 'el-over-az', lower: 'degrees', upper: 'degrees' },
      { floorDeg: 0.1 },
    )
    const solved = solveStation(station)
    const { sky } = answerFor(station, NOW, solved)
    const { values, covariance } = solved.fit
    const n = values.length
    const L = root(covariance.a, n)
    const c = chance(8)
    const p95s: number[] = []
    const worsts: number[] = []
    for (let draw = 0; draw < 200; draw++) {
      const z = Float64Array.from({ length: n }, () => c.normal(1))
      const sample = Float64Array.from(values, (v, i) => {
        let x = 0
        for (let k = 0; k <= i; k++) x += L[i * n + k]! * z[k]!
        return v + solved.sigmaScale * solved.problem.priorSigma[i]! * x
      })
      const mount = trueMount(record, tableOf(solved, sample))
      const e = sky.points
        .map(p => {
          const miss = apartDeg(mount.pose(p.reach.lower, p.reach.upper, 'beam').b, p.moon.direction)
          return Math.hypot(miss + c.normal(0.1 / Math.SQRT2), c.normal(0.1 / Math.SQRT2))
        })
        .sort((x, y) => x - y)
      p95s.push(e[Math.ceil(0.95 * e.length) - 1]!)
      worsts.push(e.at(-1)!)
    }
    const at = (x: number[], share: number) => x.sort((p, q) => p - q)[Math.ceil(share * x.length) - 1]!
    // 200 draws give their 90th percentile to 6 %, the 400 of the program to 4 %; a maximum among fewer points is a little less.
    for (const [stated, brute] of [
      [sky.after.p95, at(p95s, 0.9)],
      [sky.after.p95Typical, at(p95s, 0.5)],
      [sky.after.worst, at(worsts, 0.9)],
    ] as const) {
      expect(stated / D / brute).toBeGreaterThan(0.88)
      expect(stated / D / brute).toBeLessThan(1.12)
    }
    expect(sky.after.p95Typical).toBeLessThan(sky.after.p95)
    expect(sky.after.p95).toBeLessThan(sky.after.worst)
  })

  it('with nothing left unknown is the floor alone: 1.73 of its rms for 95 % of the points', () => {
    const { station } = madeWith(806, { kind: 'x-y', lower: 'degrees', upper: 'degrees' }, { floorDeg: 0.3 })
    const { built } = builtFor(solveStation(station), NOW, station.feeds[0]!)
    const points = skyPoints(station, station.feeds[0]!, built, moonPath(station.site, NOW))
    const { after } = drawnErrors(points, new Float64Array(SLOTS * SLOTS), 0.3 * D)
    // Two Gaussian coordinates: √-ln 0.05 of the rms (Rayleigh's distribution).
    expect(after.p95Typical / D / 0.3).toBeCloseTo(Math.sqrt(-Math.log(0.05)), 1)
  })

  drawn('holds in nine of ten stations: of 24 drawn ones of all mounts, the true error is below it in 19 to 24', () => {
    const { p95, stations, ratio } = held(skyTrials(24, 70_000, seed => 8 + (seed % 9), 0))
    // By the binomial of 0.9 fewer than 19 are 3 in 100; these draws are fixed. `npm run studies skynumber` draws hundreds.
    expect(stations).toBe(24)
    expect(Math.round(p95 * stations)).toBeGreaterThanOrEqual(19)
    // And it is not bought by a figure far too large: half of them have less than twice their true error stated.
    expect(ratio).toBeLessThan(2)
  })

  it('is not within while more than a third of the sightings is set aside', () => {
    const { scene, record } = madeWith(807, { kind: 'az-over-el', frequencyMHz: 1296 }, { echoLossDb: 90 })
    const fewer = { ...record, sightings: structuredClone(record.sightings) }
    for (const s of fewer.sightings.slice(0, 5)) spoil(scene, s)
    const answer = (r: StationRecord) => {
      return answered(solve(bookOf(r), { now: utcOf(NOW) }))
    }
    expect(answer(record).sky.within).toBe(true)
    const spoilt = answer(fewer)
    expect(spoilt.fit.outliers).toBe(5)
    expect(spoilt.sky.after.p95Deg).toBeLessThan(spoilt.sky.toleranceDeg)
    expect(spoilt.sky.within).toBe(false)
  })
})

describe('summary', () => {
  it('takes the 95th percentile by nearest rank: the 19th of 20, the 20th of 21', () => {
    const squares = (n: number) => Array.from({ length: n }, (_, k) => (k + 1) ** 2)
    expect(summary(squares(20)).p95).toBe(19)
    expect(summary(squares(21)).p95).toBe(20)
    expect(summary(squares(1))).toEqual({ rms: 1, p95: 1, worst: 1 })
  })
})
