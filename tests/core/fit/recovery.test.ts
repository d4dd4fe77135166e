/**
 * Known truths, perfect sightings: the fit must come back to them exactly, from a start that is well off, on every kind
 * of mount. Perfect means readings to the last digit, made by tests/helpers/truemount.ts's own equations.
 */
import { describe, expect, it } from 'vitest'
import { levenbergMarquardt } from '../../../src/core/fit/map.ts'
import { builtFor, solveStation } from '../../../src/core/fit/solution.ts'
import type { PriorRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { missesDeg } from '../../helpers/judged.ts'
import { chance } from '../../helpers/random.ts'
import { checkSky, deviationSigma, drawScene, idsOfTruth, KINDS, START_MS, sightMany } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { dishLevels, trueLevelDeg } from '../../helpers/truelevels.ts'
import type { Truth } from '../../helpers/truemount.ts'

const D = Math.PI / 180
const DAY = 86_400_000

/** The truth as priors; σ the default times a factor. */
const priorsAt = (record: StationRecord, truth: Truth, factor = 1): PriorRecord[] =>
  idsOfTruth(record).map(id => ({ id, value: truth[id]!, sigma: factor * deviationSigma(record, id.split(':')[0]!) }))

describe.each(KINDS)('solveStation on %s', kind => {
  it.each([1, 2, 3])('returns to the truth within 1e-9 rad from 1 σ away, priors centred on it (draw %i)', draw => {
    const scene = drawScene(300 + draw, { kind, feeds: 2 })
    const { truth } = scene.truths[0]!
    const sightings = sightMany(scene, 30, {
      noise: 0,
      play: true,
      clock: true,
      sources: true,
      fixed: true,
      methods: ['signal-peak', 'shadow', 'optical', 'cross-scan'],
    })
    expect(sightings.length).toBe(30)
    const levels = dishLevels(scene, START_MS, 4, 0.1).map(l => ({
      ...l,
      valueDeg: trueLevelDeg(scene, START_MS, 'dish-elevation', l),
    }))
    const record = { ...scene.record, priors: priorsAt(scene.record, truth), sightings, levels }
    const { problem } = solveStation(stationFromRecord(record))
    const c = chance(draw)
    const start = Float64Array.from(problem.priorValue, (v, i) => {
      const sigma = problem.priorSigma[i]!
      // Half a turn away is another basin; the candidates are there for that. Here: 10° at most.
      return v + c.normal(Math.min(sigma, problem.parameters.list[i]!.unit === 'deg' ? 5 * D : sigma), 2)
    })
    const fit = levenbergMarquardt(problem, start, new Float64Array(sightings.length).fill(1), 100)
    for (const p of someOf(problem.parameters.list)) {
      if (p.id === null) continue
      const wanted = truth[p.feed === null ? p.id : `${p.id}:${p.feed}`]!
      const unit = p.unit === 'deg' ? D : 1
      // 1e-9 rad; for mm what turns the beam by that: 1e-6 mm over a metre.
      expect(Math.abs(fit.values[p.index]! - wanted * unit), p.id).toBeLessThan(p.unit === 'mm' ? 1e-6 : 1e-9)
    }
  })

  it('points within 1e-8 rad over the Moon’s path when 60 perfect sightings leave the priors nothing to say', () => {
    const scene = drawScene(310, { kind, wild: true })
    const priors = idsOfTruth(scene.record).map(id => ({
      id,
      value: 0,
      sigma: 300 * deviationSigma(scene.record, id.split(':')[0]!),
    }))
    for (const p of priors) if (p.sigma > 180) p.sigma = 180
    const sightings = sightMany(scene, 60, {
      noise: 0,
      sigmaDeg: 1e-4,
      sources: true,
      methods: ['signal-peak', 'optical'],
    })
    const solved = solveStation(stationFromRecord({ ...scene.record, priors, sightings }))
    expect(Array.from(solved.fit.kept)).toEqual(new Array(60).fill(1))
    const now = START_MS + 22 * DAY
    const { built } = builtFor(solved, now, solved.station.feeds[0]!)
    const misses = missesDeg(scene, now, built, checkSky(scene, now, 12)).filter(x => x !== null)
    console.log(`${kind}: worst miss ${(Math.max(...misses) * D).toExponential(1)} rad`)
    expect(Math.max(...misses) * D).toBeLessThan(1e-8)
  })
})
