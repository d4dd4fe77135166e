import { describe, expect, it } from 'vitest'
import { solveStation } from '../../../src/core/fit/solution.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import type { CrossScanRecord, DriftScanRecord, EqualMark } from '../../../src/core/records/scans.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { planCross } from '../../../src/core/scan/crossplan.ts'
import { planDrift, scanWidth } from '../../../src/core/scan/drift.ts'
import { equalJson, tapsJson } from '../../../src/core/scan/tapanswer.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { DEG } from '../../helpers/degrees.ts'
import { nearly } from '../../helpers/scans.ts'
import { KINDS, mountAt, type Scene, START_MS, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { offsetDeg } from '../../helpers/truemount.ts'

const SUN = { type: 'sun' } as const

/** Hours at which the Sun stands well above the horizon. */
const sunny = (scene: Scene): number[] => {
  const { site } = stationFromRecord(scene.record)
  return Array.from({ length: 24 }, (_, h) => START_MS + h * 3_600_000).filter(ms => {
    const { el } = apparentPlace(SUN, ms, site, 'radio')
    return el > 20 * DEG && el < 65 * DEG
  })
}
const MOUNTS = KINDS.flatMap(kind => [48, -34].flatMap(lat => [1, 2].map(seed => ({ kind, lat, seed }))))

describe('tapsJson', () => {
  it('finds by taps at equal levels when the Sun stands highest in the true beam, within its own ±, on all mounts', () => {
    let seen = 0
    for (const { kind, lat, seed } of MOUNTS) {
      const scene = nearly(seed, kind, lat)
      const record = { ...scene.record, sightings: [] }
      const station = stationFromRecord(record)
      const feed = station.feeds[0]!
      for (const ms of someOf(sunny(scene))) {
        const plan = planDrift(station, feed, onPaper(), SUN, ms)
        if (plan === null || !plan.inside) continue
        const pose = mountAt(scene, ms).pose(plan.lower, plan.upper, 'beam', feed.id)
        const away = (t: number) =>
          Math.hypot(...offsetDeg(pose, apparentPlace(SUN, t, station.site, 'radio').direction))
        // The true moment of the peak, and both moments at which the target stands half a beam farther off, by seconds.
        let peak = plan.peakUtcMs
        for (let step = 256_000; step >= 500; step /= 2)
          while (Math.min(away(peak - step), away(peak + step)) < away(peak))
            peak += away(peak - step) < away(peak) ? -step : step
        const level = Math.hypot(away(peak), scanWidth(feed.hpbw, 0.533 * DEG) / DEG / 2)
        const side = (sign: 1 | -1) => {
          let t = peak
          while (away(t) < level) t += sign * 1000
          return t
        }
        const [rise, fall] = [side(-1), side(1)]
        const utc = utcOf(rise - 60_000)
        const scan: DriftScanRecord = {
          id: 'd',
          utc,
          what: 'drift',
          target: SUN,
          feed: feed.id,
          scale: 'dB',
          how: 'tapped',
          lower: plan.lower,
          upper: plan.upper,
          samples: [],
          marks: [{ s: 60, mark: 'rising' }],
        }
        const part = {
          id: 'p',
          what: 'part',
          scan: 'd',
          samples: [],
          marks: [{ s: 60 + (fall - rise) / 1000, mark: 'same' }],
        }
        const answer = tapsJson(solveStation(station), scan, [part])
        if (answer.kind !== 'peak') throw new Error(answer.kind)
        expect(Math.abs(Date.parse(answer.peakUtc) - peak) / 1000).toBeLessThan(2 * answer.sigmaS)
        expect(answer.sigmaAlongDeg).toBeLessThan(0.02 * (feed.hpbw / DEG))
        expect(answer.sighting).toMatchObject({ method: 'drift-scan', scan: 'd', lower: plan.lower })
        seen++
        break
      }
    }
    expect(seen).toBeGreaterThan(8)
  })

  it('says too-few without a pair and without a peak', () => {
    const scene = nearly(1, 'el-over-az', 48)
    const scan = {
      id: 'd',
      utc: utcOf(START_MS),
      what: 'drift',
      target: SUN,
      scale: 'dB',
      lower: 1,
      upper: 1,
      samples: [],
    }
    const solved = solveStation(stationFromRecord({ ...scene.record, sightings: [] }))
    expect(tapsJson(solved, scan as DriftScanRecord, [])).toEqual({ kind: 'too-few' })
  })
})

describe('equalJson', () => {
  it('finds both coordinates of the true peak from equal levels on either side, on all mounts, the Sun moving on', () => {
    let seen = 0
    for (const { kind, lat, seed } of MOUNTS) {
      const scene = nearly(seed, kind, lat)
      const record = { ...scene.record, sightings: [] }
      const station = stationFromRecord(record)
      const feed = station.feeds[0]!
      for (const ms of someOf(sunny(scene))) {
        const plan = planCross(station, feed, onPaper(), SUN, ms)
        if (plan === null || plan.useless.length > 0 || !plan.points.every(p => p.inside)) continue
        const mount = mountAt(scene, ms)
        const missAt = (lower: number, upper: number, t: number) =>
          offsetDeg(mount.pose(lower, upper, 'beam', feed.id), apparentPlace(SUN, t, station.site, 'radio').direction)
        const marks: EqualMark[] = []
        let t = ms
        let [lower, upper] = [plan.points[2]!.lower, plan.points[2]!.upper]
        // Peaked roughly on the first axis, then the other: two levels each, half a beam down.
        for (const axis of ['lower', 'upper'] as const) {
          const step = plan.stepReading[axis]!
          const at = (d: number, when: number) =>
            Math.hypot(...missAt(axis === 'lower' ? lower + d : lower, axis === 'upper' ? upper + d : upper, when))
          let best = 0
          for (let d = -2 * step; d <= 2 * step; d += step / 200) if (at(d, t) < at(best, t)) best = d
          const level = Math.hypot(at(best, t), plan.step / DEG)
          for (const sign of [-1, 1]) {
            t += 20_000
            let d = best
            while (at(d, t) < level) d += (sign * step) / 400
            const reading = { lower: axis === 'lower' ? lower + d : lower, upper: axis === 'upper' ? upper + d : upper }
            marks.push({ s: (t - ms) / 1000, axis, ...reading, pair: 1 })
          }
          if (axis === 'lower') lower += best
          else upper += best
        }
        const scan: CrossScanRecord = {
          id: 'x',
          utc: utcOf(ms),
          what: 'cross',
          target: SUN,
          feed: feed.id,
          scale: 'dB',
          samples: [],
          marks,
        }
        const fit = equalJson(solveStation(station), scan)
        if (fit.kind !== 'middle') throw new Error(fit.kind)
        const left = missAt(fit.lower, fit.upper, Date.parse(fit.sighting.utc))
        expect(Math.hypot(...left)).toBeLessThan(0.03 * (feed.hpbw / DEG))
        expect(fit.sigmaRightDeg).toBeLessThan(0.1 * (feed.hpbw / DEG))
        seen++
        break
      }
    }
    expect(seen).toBeGreaterThan(8)
  })

  it('says which axis lacks a pair', () => {
    const scene = nearly(1, 'el-over-az', 48)
    const solved = solveStation(stationFromRecord({ ...scene.record, sightings: [] }))
    const mark = { s: 0, axis: 'lower' as const, lower: 150, upper: 40, pair: 1 }
    const scan = { id: 'x', utc: utcOf(START_MS), what: 'cross', target: SUN, scale: 'dB', samples: [] } as const
    const of = (marks: EqualMark[]) => equalJson(solved, { ...scan, samples: [], marks })
    expect(of([])).toEqual({ kind: 'lacks', axis: 'lower' })
    expect(of([mark])).toEqual({ kind: 'lacks', axis: 'lower' })
    expect(of([mark, { ...mark, s: 9, lower: 160 }])).toEqual({ kind: 'lacks', axis: 'upper' })
  })
})
