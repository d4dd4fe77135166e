import { describe, expect, it } from 'vitest'
import { solveStation } from '../../../src/core/fit/solution.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { type DriftFit, type DriftOptions, fitDrift, planDrift, scanWidth } from '../../../src/core/scan/drift.ts'
import { airFrom } from '../../../src/core/sky/refraction.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { enuFromAzEl } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { drawScene, KINDS, mountAt, type Scene, START_MS, utcOf } from '../../helpers/simulate.ts'
import { apartDeg, offsetDeg } from '../../helpers/truemount.ts'

const SUN = { type: 'sun' } as const

/** A Sun drift through the true beam of a scene, planned and fitted with the mount on paper; null where the Sun is out of reach. */
function driftOf(scene: Scene, snr: number, o: Partial<DriftOptions> = {}) {
  const station = stationFromRecord(scene.record)
  const feed = station.feeds[0]!
  const width = scanWidth(feed.hpbw, 0.533 * DEG)
  for (let hour = 0; hour < 24; hour++) {
    const ms = START_MS + hour * 3_600_000
    const place = apparentPlace(SUN, ms, station.site, 'radio')
    if (place.el < 20 * DEG || place.el > 75 * DEG) continue
    const plan = planDrift(station, feed, onPaper(), SUN, ms)
    if (plan === null || !plan.inside) continue
    const pose = mountAt(scene, ms).pose(plan.lower, plan.upper, 'beam', feed.id)
    const missAt = (t: number) => offsetDeg(pose, apparentPlace(SUN, t, station.site, 'radio').direction)
    const samples = []
    for (let t = plan.fromUtcMs; t <= plan.toUtcMs; t += Math.max(5000, (plan.toUtcMs - plan.fromUtcMs) / 60)) {
      const [x, y] = missAt(t)
      const level = 3 * Math.exp((-4 * Math.LN2 * (x * x + y * y) * DEG * DEG) / width ** 2) + 1
      samples.push({ utcMs: t, level: level + scene.chance.normal(3 / snr) })
    }
    const fit = fitDrift(station, feed, onPaper(), SUN, plan, samples, { scale: 'linear', width: 'known', ...o })
    if (fit.kind !== 'peak') continue
    return { plan, fit, missAt, station, width }
  }
  return null
}

/** Mounts a little off, so that the Sun still comes through the beam. */
const nearly = (seed: number, kind: (typeof KINDS)[number], latDeg: number): Scene => {
  const scene = drawScene(seed, { kind, latDeg, frequencyMHz: 1296, wild: false })
  for (const { truth } of scene.truths)
    for (const key of Object.keys(truth)) truth[key]! *= key.includes('Scale') ? 0.02 : key.includes('Arm') ? 0.1 : 0.12
  if (scene.record.mount.headingDeg !== undefined && scene.truths[0]!.truth.heading !== undefined)
    scene.record.mount.headingDeg = latDeg >= 0 ? 180 : 0
  delete scene.cache
  return scene
}

describe('fitDrift', () => {
  it('finds the moment at which the Sun is highest in the true beam, on all mounts in both hemispheres, σ honest', () => {
    const pulls: number[] = []
    let seen = 0
    for (const kind of KINDS)
      for (const latDeg of [48, -34])
        for (const seed of [1, 2, 3, 4]) {
          const got = driftOf(nearly(seed, kind, latDeg), 40)
          if (got === null) continue
          seen++
          const { fit, missAt } = got
          const [x, y] = missAt(fit.peakUtcMs)
          const along = x * fit.along.right + y * fit.along.up
          pulls.push((along * DEG) / fit.sigmaAlong)
          // The same thing in time: an arc at the Sun's 15° an hour or less.
          expect(fit.sigmaS * fit.rate).toBeCloseTo(fit.sigmaAlong, 12)
          expect((fit.rate * 3600) / DEG).toBeLessThan(15.1)
        }
    expect(seen).toBeGreaterThan(20)
    const rms = Math.sqrt(pulls.reduce((a, p) => a + p * p, 0) / pulls.length)
    expect(rms).toBeGreaterThan(0.7)
    expect(rms).toBeLessThan(1.3)
  })

  it('gives a covariance that is sharp along the drift and a beam wide across it, which the solution takes', () => {
    const scene = nearly(2, 'el-over-az', 48)
    const { fit, plan, station } = driftOf(scene, 100)!
    const { rr, ru, uu } = fit.cov
    const along = rr * fit.along.right ** 2 + 2 * ru * fit.along.right * fit.along.up + uu * fit.along.up ** 2
    expect(Math.sqrt(along)).toBeCloseTo(fit.sigmaAlong, 10)
    expect(rr + uu - along).toBeCloseTo(station.feeds[0]!.hpbw ** 2, 8)
    const k = DEG ** -2
    const record = structuredClone(scene.record)
    record.sightings = [0, 1, 2].map(i => ({
      id: `d${i}`,
      utc: utcOf(fit.peakUtcMs + i),
      target: SUN,
      lower: plan.lower,
      upper: plan.upper,
      method: 'drift-scan',
      feed: record.feeds[0]!.id,
      cov: { rr: rr * k, ru: ru * k, uu: uu * k },
    }))
    const { fit: solved } = solveStation(stationFromRecord(record))
    // Three copies of one drift count once.
    expect([...solved.kept]).toEqual([1])
  })

  it('tells how far across the Sun ran by, and on which side, when the height in the centre is known', () => {
    const scene = nearly(3, 'el-over-az', 48)
    const { fit, missAt } = driftOf(scene, 400, { height: { value: 3, sigma: 0.03 }, sigmaAcross: 1e-6 })!
    const [x, y] = missAt(fit.peakUtcMs)
    const across = y * fit.along.right - x * fit.along.up
    expect(Math.abs(Math.abs(fit.across) / DEG - Math.abs(across))).toBeLessThan((4 * fit.sigmaAcross) / DEG)
    const blind = driftOf(scene, 400, { height: { value: 3, sigma: 0.03 } })!.fit
    expect(blind.acrossFrom).toBe('height-sign-unknown')
    expect(blind.across).toBe(0)
    expect(blind.sigmaAcross).toBeGreaterThan((Math.abs(across) * DEG) / 1.5)
  })

  it('survives a minute lost in the middle, and says when the peak lies beyond', () => {
    const scene = nearly(1, 'az-over-el', 48)
    const { plan, station, fit, missAt, width } = driftOf(scene, 100)!
    const sample = (t: number) => {
      const [x, y] = missAt(t)
      return { utcMs: t, level: 3 * Math.exp((-4 * Math.LN2 * (x * x + y * y) * DEG * DEG) / width ** 2) + 1 }
    }
    const span = plan.toUtcMs - plan.fromUtcMs
    const times = Array.from({ length: 90 }, (_, i) => plan.fromUtcMs + (span * i) / 90)
    const run = (keep: (t: number) => boolean) =>
      fitDrift(station, station.feeds[0]!, onPaper(), SUN, plan, times.filter(keep).map(sample), {
        scale: 'linear',
        width: 'known',
      })
    const gap = run(t => Math.abs(t - fit.peakUtcMs) > span / 12) as DriftFit
    expect(Math.abs(gap.peakUtcMs - fit.peakUtcMs)).toBeLessThan(4000 * fit.sigmaS + 1000)
    expect(run(t => t < fit.peakUtcMs - span / 12)).toEqual({ kind: 'outside', toward: 'last' })
    expect(run(t => t === times[0])).toMatchObject({ kind: 'too-few' })
    const still = fitDrift(
      station,
      station.feeds[0]!,
      onPaper(),
      { type: 'landmark', az: 3, el: 0.5 },
      plan,
      times.map(sample),
      {
        scale: 'linear',
      },
    )
    expect(still.kind).toBe('no-drift')
  })

  it("widens the beam by the source: 0.8434° and the Sun's 0.53° scan as 0.899°", () => {
    // Worked by hand from √(HPBW² + (ln 2/2) Ws²); 0.903° is the exact convolution.
    expect(scanWidth(0.8434 * DEG, 0.53 * DEG) / DEG).toBeCloseTo(0.899, 3)
    expect(scanWidth(0.01, 0)).toBe(0.01)
  })
})

describe('the published Sun drifts at 10 GHz', () => {
  it('had the Sun where its maxima were plotted, to 0.02°, and as far apart as printed, to 0.004°', () => {
    const { site, days, published } = authority('scan/sun-drift-10ghz.json')
    const place = {
      lat: site.lat_deg * DEG,
      lon: site.lon_deg * DEG,
      heightM: site.height_m,
      // The source plots places without air.
      air: airFrom(site.height_m, { pressureHPa: 0, humidityPct: 0 }),
    }
    const at = new Map<string, [number, number, number]>()
    for (const day of days) {
      const utcMs = Date.parse(`${day.date}T${day.utc_of_max}Z`)
      const sun = apparentPlace(SUN, utcMs, place, 'optical')
      at.set(day.date, [...sun.direction] as [number, number, number])
      const plotted = enuFromAzEl(day.sun_az_at_max_deg * DEG, day.sun_el_at_max_deg * DEG)
      expect(apartDeg(sun.direction, plotted), day.date).toBeLessThan(0.02)
    }
    const nominal = enuFromAzEl(138.84 * DEG, 34.1 * DEG)
    const y2021 = published['2021']
    expect(
      Math.abs(apartDeg(at.get('2021-03-03')!, at.get('2021-03-04')!) - y2021.distance_between_maxima_Mar3_Mar4_deg),
    ).toBeLessThan(0.004)
    expect(
      Math.abs(apartDeg(at.get('2021-03-04')!, at.get('2021-03-05')!) - y2021.distance_between_maxima_Mar4_Mar5_deg),
    ).toBeLessThan(0.004)
    expect(
      Math.abs(apartDeg(at.get('2021-03-04')!, nominal) - y2021.distance_max_of_Mar4_from_nominal_deg),
    ).toBeLessThan(0.02)
    expect(
      Math.abs(
        apartDeg(at.get('2019-10-09')!, at.get('2019-10-10')!) -
          published['2019'].distance_between_maxima_Oct9_Oct10_deg,
      ),
    ).toBeLessThan(0.004)
  })
})
