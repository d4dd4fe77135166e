/** What is worth doing next: the level after eight Suns, nothing whose gain rounds away, no Moon that is not heard or not found. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { echoLossDb, isBeamOffTarget } from '../../../src/core/dish/optics.ts'
import { usualSigma } from '../../../src/core/fit/methods.ts'
import { nextBest } from '../../../src/core/fit/nextbest.ts'
import { floorOf, meanSquareForm } from '../../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../../src/core/fit/solution.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { sightingsToCome } from '../../../src/core/plan/measurements.ts'
import { outlookOf } from '../../../src/core/plan/outlook.ts'
import { straddler } from '../../../src/core/plan/straddle.ts'
import { isSeen } from '../../../src/core/plan/worth.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { degFromRad } from '../../../src/core/units.ts'
import { enuFromAzEl } from '../../../src/core/vectors.ts'
import { drawScene, KINDS, type Scene, START_MS, sight, sightMany } from '../../helpers/simulate.ts'
import { carriedOut, p95Of, planOf } from '../../helpers/worthtrials.ts'

const HOUR_MS = 3_600_000
const NOW = START_MS + 72 * HOUR_MS

/** Eight Suns by their noise within a day or two: one declination. */
function eightSuns(scene: Scene): StationRecord {
  const sightings: StationRecord['sightings'] = []
  for (let k = 0; sightings.length < 8; k++) {
    const ms = START_MS + (5 + 0.75 * k) * HOUR_MS
    const made = sight(scene, { ms, target: { type: 'sun' }, method: 'signal-peak' }, `s${k}`)
    if (made) sightings.push(made)
  }
  return { ...scene.record, sightings }
}

describe('worthDoing', () => {
  it.each([303, 305, 306])(
    'after eight Suns of one day on a tilting mount the level of its tilt axis comes first, and brings what it promises (%i)',
    seed => {
      const scene = drawScene(seed, {
        kind: 'az-over-el',
        lower: 'degrees',
        upper: 'degrees',
        latDeg: 48,
        frequencyMHz: 1296,
        wild: false,
      })
      const record = eightSuns(scene)
      const { steps, hpbwDeg } = planOf(record, NOW)
      const [best, ...others] = steps
      expect(best!.step).toMatchObject({ kind: 'level', what: 'lower-axis-elevation' })
      expect(best!.beforeDeg).toBeCloseTo(p95Of(record, NOW), 6)
      // Half of the error goes, or more; no Sun brings as much.
      expect(best!.afterDeg).toBeLessThan(0.7 * best!.beforeDeg)
      for (const other of others) expect(other.afterDeg).toBeGreaterThan(best!.afterDeg)
      const brought = p95Of(carriedOut(scene, record, best!, NOW)!, NOW)
      expect(brought / best!.afterDeg).toBeGreaterThan(0.9)
      expect(brought / best!.afterDeg).toBeLessThan(1.1)
      expect(echoLossDb(brought, hpbwDeg)).toBeLessThan(0.6 * echoLossDb(best!.beforeDeg, hpbwDeg))
    },
  )

  it('never offers a gain that rounds to nothing, nor anything twice; the most for a minute outside first', () => {
    for (const [k, kind] of KINDS.entries())
      for (const n of k % 2 === 0 ? [0, 8] : [2, 24]) {
        const scene = drawScene(860 + k, { kind })
        const record = { ...scene.record, sightings: sightMany(scene, n) }
        const { steps, hpbwDeg } = planOf(record, NOW)
        const rates = steps.map(s => Math.log(s.beforeDeg / s.afterDeg) / s.minutes)
        expect(steps.length).toBeLessThanOrEqual(5)
        for (const s of steps) {
          const isNumber = !isBeamOffTarget(s.beforeDb)
          if (isNumber) expect(s.beforeDb.toFixed(1)).not.toBe(s.afterDb.toFixed(1))
          expect(isSeen({ p95Before: s.beforeDeg, p95After: s.afterDeg }, hpbwDeg)).toBe(true)
        }
        // Minutes are given as whole numbers.
        for (let i = 1; i < rates.length; i++) expect(rates[i]).toBeLessThanOrEqual(rates[i - 1]! * 1.1)
        const names = steps.map(s => JSON.stringify({ ...s.step, utc: 0, azDeg: 0, elDeg: 0, lower: 0, upper: 0 }))
        expect(new Set(names).size).toBe(names.length)
      }
  })

  it('a difference is seen when a tenth of a dB goes, or the beam comes nearer by a tenth', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (p, s) => {
          const [before, after] = [echoLossDb(p, 5), echoLossDb(s * p, 5)]
          const is = isSeen({ p95Before: p, p95After: s * p }, 5)
          if (!isBeamOffTarget(before)) expect(is).toBe(before - after >= 0.1)
          else if (isBeamOffTarget(after)) expect(is).toBe(s * p < 0.9 * p)
          else expect(is).toBe(true)
        },
      ),
    )
  })

  it('no Moon by its noise to a dish that does not hear it, nor while the beam may be more than its width off', () => {
    const scene = drawScene(855, { kind: 'el-over-az', frequencyMHz: 1296 })
    const dish = { diameterM: 3, focalRatio: 0.4 }
    const byMoon = (r: StationRecord) =>
      planOf(r, NOW).steps.filter(s => s.step.kind === 'sighting' && s.step.target === 'moon')
    const heard = scene.record.feeds.map(f => ({ ...f, hearsMoonEchoes: true }))
    const many = { ...scene.record, dish, sightings: sightMany(scene, 5, { methods: ['signal-peak'] }) }
    expect(byMoon(many)).toEqual([])
    expect(byMoon({ ...many, feeds: heard })).toHaveLength(1)
    // One sighting: the Moon could be anywhere about.
    const one = { ...many, feeds: heard, sightings: many.sightings.slice(0, 1) }
    expect(planOf(one, NOW).steps[0]!.beforeDeg).toBeGreaterThan(planOf(one, NOW).hpbwDeg)
    expect(byMoon(one)).toEqual([])
  })

  it('a clock that was compared is not asked for; one that was not, only where the beam is narrow enough to tell', () => {
    const scene = drawScene(871, { kind: 'el-over-az', frequencyMHz: 5760 })
    const sightings = sightMany(scene, 40, { methods: ['optical', 'signal-peak'] }).map(s => ({
      ...s,
      sigmaDeg: 0.02,
      stamp: { monotonicMs: 1 },
    }))
    const narrow = {
      ...scene.record,
      feeds: scene.record.feeds.map(f => ({ ...f, beamwidthDeg: 0.6 })),
      sightings,
      tolerance: { floorDeg: 0.02 },
    }
    const asksClock = (r: StationRecord) => planOf(r, NOW).steps.some(s => s.step.kind === 'clock')
    expect(asksClock(narrow)).toBe(true)
    expect(asksClock({ ...narrow, sightings: sightings.map(s => ({ ...s, clockOffsetS: 0 })) })).toBe(false)
    expect(asksClock({ ...narrow, feeds: scene.record.feeds.map(f => ({ ...f, beamwidthDeg: 5 })) })).toBe(false)
  })

  /**
   * What looking ahead says is left after each of the solution's proposals, over what the proposal itself says. Not by the whole answer:
   * what it suspects of a fit that scatters takes seconds.
   */
  function aheadOverProposed(record: StationRecord): { sigmaScale: number; ratios: number[] } {
    const station = stationFromRecord(record)
    const feed = station.feeds[0]!
    const solved = solveStation(station)
    const { built, covariance } = builtFor(solved, NOW, feed)
    const { begin, points, p95, withOne, openOf } = outlookOf(solved, feed, NOW)!
    const floor = floorOf(station, built, points)
    const next = nextBest(solved, feed, built, covariance, meanSquareForm(points), floor, p95, NOW)
    const canSight = straddler(station, feed, built)
    const ratios = next.flatMap(({ target, method, utcMs, az, el, rmsAfter }) => {
      const way = { target, method, sigma: usualSigma(method, station, feed), times: 1 }
      const [k] = sightingsToCome(solved, feed, built, [way], [utcMs])
      if (k !== undefined) return Math.hypot(Math.sqrt(openOf(withOne(begin, k))), floor) / rmsAfter
      // The solution file lists what can be reached and heard; looking ahead leaves out besides where no peak could be straddled, and only that.
      const t = enuFromAzEl(az, el)
      const reach = aim(station.model, built, 'beam', t)!
      expect(canSight(method, t, reach)).toBe(false)
      return []
    })
    expect(ratios.length).toBeGreaterThan(0)
    return { sigmaScale: solved.sigmaScale, ratios }
  }

  it.each(KINDS)(
    'what the solution proposes next leaves on %s what looking ahead says it leaves, to 1 per cent',
    kind => {
      const scene = drawScene(880, { kind, lower: 'degrees', upper: 'degrees' })
      const { sigmaScale, ratios } = aheadOverProposed({ ...scene.record, sightings: sightMany(scene, 7) })
      expect(sigmaScale).toBe(1)
      for (const ratio of ratios) expect(Math.abs(ratio - 1)).toBeLessThan(0.01)
    },
  )

  it.each(KINDS)(
    'the same on %s where the sightings scatter three times as much as they state: those to come will too',
    kind => {
      const scene = drawScene(880, { kind, lower: 'degrees', upper: 'degrees' })
      const station = stationFromRecord(scene.record)
      const sightings = sightMany(scene, 12).map(s => ({
        ...s,
        sigmaDeg: degFromRad(usualSigma(s.method, station, station.feeds[0]!)) / 3,
        use: 'always' as const,
      }))
      const { sigmaScale, ratios } = aheadOverProposed({ ...scene.record, sightings })
      expect(sigmaScale).toBeGreaterThan(1.8)
      for (const ratio of ratios) expect(Math.abs(ratio - 1)).toBeLessThan(0.01)
    },
  )
})
