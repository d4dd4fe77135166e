/**
 * What the fit suspects: a counter that lost or gained counts, a clock or longitude that is wrong against measured levels.
 * Simulated, so that the right answer is known. That nothing is claimed at 200 clean stations and at 200 with blunders is
 * in montecarlo.test.ts.
 */
import { describe, expect, it } from 'vitest'
import { solveStation } from '../../../../src/core/fit/solution.ts'
import type { Axis, StationRecord } from '../../../../src/core/records/fieldbook.ts'
import type { Suspect } from '../../../../src/core/records/solution.ts'
import { stationFromRecord } from '../../../../src/core/records/stationintake.ts'
import { shareOf } from '../../../helpers/share.ts'
import { drawScene, KINDS, type Mix, type ReadoutKind, START_MS, sightMany, utcOf } from '../../../helpers/simulate.ts'
import { suspectsOf } from '../../../helpers/suspects.ts'
import { dishLevels } from '../../../helpers/truelevels.ts'

const DAY = 86_400_000

function suspectsIn(record: StationRecord): Suspect[] {
  const solved = solveStation(stationFromRecord(record))
  return suspectsOf(solved)
}

describe('a counter step between the 8th and the 9th of 16 sightings', () => {
  const cases = (['degrees', 'linear-counts', 'jack'] as ReadoutKind[]).flatMap((readout, r) =>
    (['lower', 'upper'] as Axis[]).map((axis, a) => {
      const s = (r + a) % 2
      return { readout, axis, sense: s === 0 ? (1 as const) : (-1 as const), seed: 700 + 4 * r + 2 * a + s }
    }),
  )
  it.each(cases)('is found: $readout, $axis axis, sense $sense', ({ readout, axis, sense, seed }) => {
    const kind = axis === 'lower' && readout === 'jack' ? 'az-over-el' : KINDS[seed % 4]!
    const scene = drawScene(seed, { kind, lower: 'degrees', upper: 'degrees', [axis]: readout, wild: false })
    const sightings = sightMany(scene, 16, { sigmaDeg: 0.12 })
    expect(sightings.length).toBe(16)
    // 20 counts, or 3° where there are none; counters of this size turn 20 counts into half a degree and more.
    const step = readout === 'degrees' ? 3 : 20 * Math.max(1, Math.round(countsPerDegree(scene.record, axis) / 12))
    for (const s of sightings.slice(8)) s[axis] = Number((s[axis] - sense * step).toFixed(2))
    const found = suspectsIn({ ...scene.record, sightings })
    expect(found.map(s => `${s.kind} ${s.axis}`)).toEqual([`counter-step ${axis}`])
    const one = found[0]!
    // The narrowest interval that is not excluded holds the truth, and is two gaps wide at most.
    const [from, to] = one.between!.map(id => sightings.findIndex(s => s.id === id)) as [number, number]
    expect(to - from).toBeLessThanOrEqual(2)
    expect(from).toBeLessThanOrEqual(7)
    expect(to).toBeGreaterThanOrEqual(8)
    const offered = one.offer?.type === 'change' ? Date.parse(one.offer.utc) : Number.NaN
    expect(offered).toBeGreaterThan(Date.parse(sightings[from]!.utc))
    expect(offered).toBeLessThanOrEqual(Date.parse(sightings[to]!.utc))
    if (readout === 'degrees') {
      expect(one.counts).toBeUndefined()
      expect(Math.abs(one.angleDeg! - sense * step)).toBeLessThan(3 * one.sigmaDeg! + 0.05 * step)
    } else {
      // Lost counts are positive. One standard deviation in counts, from that in degrees.
      const sigmaCounts = Math.abs((one.sigmaDeg! * one.counts!) / one.angleDeg!)
      expect(Math.abs(one.counts! - sense * step)).toBeLessThan(3 * sigmaCounts + 0.05 * step)
      expect(one.text).toContain(sense > 0 ? 'lost' : 'gained')
    }
    expect(one.deltaChi2).toBeGreaterThan(25)
  })

  function countsPerDegree(record: StationRecord, axis: Axis): number {
    const { readout, minReading, maxReading } = record.mount[axis]
    if (readout.type === 'degrees') return 1
    if (readout.type === 'linear-counts') return Math.abs(readout.countsPerDeg)
    return (maxReading - minReading) / 120
  }
})

describe('single blunders', () => {
  it('are not taken for a step: three wrong readings of 16 in a row of honest ones', () => {
    let claimed = 0
    for (let seed = 730; seed < 736; seed++) {
      const scene = drawScene(seed, { kind: KINDS[seed % 4]!, lower: 'degrees', upper: 'degrees' })
      const sightings = sightMany(scene, 16)
      for (const k of [3, 9, 14]) sightings[k]!.lower = Number((sightings[k]!.lower + 11 + k).toFixed(2))
      claimed += suspectsIn({ ...scene.record, sightings }).filter(s => s.kind === 'counter-step').length
    }
    expect(claimed).toBe(0)
  })
})

describe('a clock 300 s fast', () => {
  const made = (kind: 'el-over-az' | 'ha-dec', seed: number, mix: Mix, levels: boolean): StationRecord => {
    const scene = drawScene(seed, { kind, lower: 'degrees', upper: 'degrees', wild: kind === 'el-over-az' })
    const sightings = sightMany(scene, 14, { sigmaDeg: 0.2, methods: ['signal-peak'], ...mix })
    const truth = scene.truths[0]!.truth
    const lean =
      kind === 'el-over-az'
        ? [
            {
              id: 'lean',
              utc: utcOf(START_MS + DAY),
              what: 'mast-lean' as const,
              northDeg: truth.leanNorth! + scene.chance.normal(0.1),
              eastDeg: truth.leanEast! + scene.chance.normal(0.1),
              sigmaDeg: 0.1,
            },
          ]
        : []
    return {
      ...scene.record,
      // A level sees the boresight, a peak the beam: without a measured feed their difference hides an hour angle.
      priors: ['feedRight', 'feedUp', 'squintRight', 'squintUp'].map(id => ({
        id,
        value: truth[`${id}:a`]!,
        sigma: id.startsWith('feed') ? 1 : 0.03,
        measured: true,
      })),
      sightings,
      ...(levels ? { levels: [...lean, ...dishLevels(scene, START_MS + DAY, 10, 0.1)] } : {}),
    }
  }
  const clocks = (record: StationRecord) => suspectsIn(record).filter(s => s.kind === 'clock-or-longitude')

  it.each(shareOf(['ha-dec', 'el-over-az'] as const, 1))(
    'is found on %s against levels of 0.1°, with its sign and size',
    kind => {
      const off: string[] = []
      for (let seed = 750; seed < 753; seed++) {
        const [one] = clocks(made(kind, seed, { clockErrorS: 300 }, true))
        expect(one, `seed ${seed}`).toBeDefined()
        off.push(`${one!.clockS!.toFixed(0)} ± ${one!.sigmaS!.toFixed(0)}`)
        // Beside 3 σ, 5 %: Sun and Moon do not go round at quite the sky's rate.
        expect(Math.abs(one!.clockS! - 300), `seed ${seed}`).toBeLessThan(3 * one!.sigmaS! + 15)
        // A longitude too far east by the same turn of the sky: 300 s are 1.25°.
        expect(one!.longitudeDeg!).toBeCloseTo((one!.clockS! / 240) * 1.0027, 3)
      }
      console.log(`clock 300 s fast on ${kind}: ${off.join(', ')}`)
    },
  )

  it.each(shareOf(['ha-dec', 'el-over-az'] as const, 1))('is told from one 300 s slow on %s', kind => {
    const [one] = clocks(made(kind, 751, { clockErrorS: -300 }, true))
    expect(one!.clockS!).toBeLessThan(-200)
    expect(one!.text).toContain('slow')
  })

  it.each(shareOf(['ha-dec', 'el-over-az'] as const, 1))(
    'is not claimed on %s without levels: a turned sky looks like a turned mount',
    kind => {
      for (let seed = 750; seed < 753; seed++) expect(clocks(made(kind, seed, { clockErrorS: 300 }, false))).toEqual([])
    },
  )

  it.each(shareOf(['ha-dec', 'el-over-az'] as const, 1))('is not claimed on %s when the clock is right', kind => {
    for (let seed = 750; seed < 756; seed++) expect(clocks(made(kind, seed, {}, true))).toEqual([])
  })
})
