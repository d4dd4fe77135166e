/**
 * The number that matters, computed a second time by brute force: parameters sampled from their covariance, the true beam
 * by tests/helpers/truemount.ts, the Moon's path point by point.
 */
import { describe, expect, it } from 'vitest'
import { skyPoints, summary } from '../../../src/core/fit/skyerror.ts'
import { answerFor, builtFor, solveStation } from '../../../src/core/fit/solution.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { solve } from '../../../src/core/questions.ts'
import { isHighEnough, maskAt, type Station, stationFromRecord } from '../../../src/core/records/station.ts'
import { moonPath } from '../../../src/core/sky/moonpath.ts'
import { chance } from '../../helpers/random.ts'
import { bookOf, drawScene, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
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
    // The mask bites: at azimuth 250° it is 20° high.
    const open: Station = { ...station, mask: [] }
    expect(skyPoints(open, station.feeds[0]!, built, path).length).toBeGreaterThan(points.length)
  })

  it('calls 0.144 HPBW the tolerance for 0.5 dB on echoes, and judges the 95th percentile by it', () => {
    const { record } = madeWith(803, { kind: 'ha-dec', frequencyMHz: 1296 })
    const answer = solve(bookOf(record), { now: utcOf(NOW) })
    if (!answer.ok) throw new Error('refused')
    const { sky } = answer.value
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
      const answer = solve(bookOf({ ...record, sightings: [], mount, ...(tolerance ? { tolerance } : {}) }), {
        now: utcOf(NOW),
      })
      if (!answer.ok) throw new Error('refused')
      return [answer.value.sky.floorDeg, answer.value.sky.after.rmsDeg]
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

describe('summary', () => {
  it('takes the 95th percentile by nearest rank: the 19th of 20, the 20th of 21', () => {
    const squares = (n: number) => Array.from({ length: n }, (_, k) => (k + 1) ** 2)
    expect(summary(squares(20)).p95).toBe(19)
    expect(summary(squares(21)).p95).toBe(20)
    expect(summary(squares(1))).toEqual({ rms: 1, p95: 1, worst: 1 })
  })
})
