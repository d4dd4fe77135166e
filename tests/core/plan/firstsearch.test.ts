/** The first search: its readings put the beam where the step supposes, on the mount as written down a second time; limits, the Moon, the rise. */
import { describe, expect, it } from 'vitest'
import { canHearMoon } from '../../../src/core/fit/nextbest.ts'
import { solveStation } from '../../../src/core/fit/solution.ts'
import { firstSearchOf } from '../../../src/core/plan/firstsearch.ts'
import { firstSearch, searchStep } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { answered } from '../../helpers/answered.ts'
import { bookOf, gravelPit, weir } from '../../helpers/stations.ts'
import { offsetDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

const START = '2026-06-10T11:00:00Z'
const LATER = '2026-06-10T11:20:00Z'

const degrees = (minReading: number, maxReading: number) => ({
  readout: { type: 'degrees' as const },
  minReading,
  maxReading,
})
const known = (id: string, sigma: number, value = 0) => ({ id, value, sigma })
const ask = (record: StationRecord, o: Partial<Parameters<typeof firstSearch>[1]> = {}) => {
  return answered(firstSearch(bookOf(record), { now: START, ...o }))
}
const readings = (record: StationRecord, step: number, now = LATER) => {
  return answered(searchStep(bookOf(record), { now, startedUtc: START, step }))
}
/** Where the Sun stands in the beam of the true mount at readings, degrees. */
function missDeg(record: StationRecord, truth: Truth, at: { lower: number; upper: number }, utc: string): number {
  const { site } = stationFromRecord(record)
  const { direction } = apparentPlace({ type: 'sun' }, Date.parse(utc), site, 'radio')
  const [right, up] = offsetDeg(trueMount(record, truth).pose(at.lower, at.upper, 'beam'), direction)
  return Math.hypot(right, up)
}

/** Everything but the zeros known to a twentieth of a degree, a millimetre, half a part in a thousand. */
const LITTLE = [
  ...['feedRight:a', 'feedUp:a', 'feedDroop:a'].map(id => known(id, 1)),
  ...['squintRight:a', 'squintUp:a'].map(id => known(id, 0.05)),
  ...['lowerScale', 'upperScale'].map(id => known(id, 0.0005)),
]
const ZEROS_OPEN = [
  ...LITTLE,
  ...['leanNorth', 'leanEast', 'squareness', 'collimation', 'sag'].map(id => known(id, 0.05)),
]
const pit = (lower: number, upper: number) =>
  gravelPit({
    priors: [...ZEROS_OPEN, known('lowerZero', lower), known('upperZero', upper)] as never,
    mount: { kind: 'el-over-az', lower: degrees(0, 360), upper: degrees(0, 90) },
  })

describe('a mount that is off', () => {
  it('has the Sun within the stated loss at one of the steps: zeros off by up to what is allowed for', () => {
    const record = pit(4, 4)
    const found = ask(record)
    expect(found.isUnrolled).toBe(false)
    for (const [lowerZero, upperZero] of [
      [0, 0],
      [8, 0],
      [-6, 5],
      [3, -8],
      [-5, -6],
    ] as const) {
      const misses = found.steps.map((s, k) => {
        const at = s.inside ? readings(record, k) : null
        return at === null ? Infinity : missDeg(record, { lowerZero, upperZero }, at, LATER)
      })
      const best = Math.min(...misses)
      // 3 dB is half a beamwidth; the plane of the dish is curved by a hundredth of it at these offsets.
      expect([lowerZero, upperZero, best <= 0.515 * found.beamwidthDeg]).toEqual([lowerZero, upperZero, true])
    }
  })

  it('of unknown azimuth is looked for all the way round at the Sun’s height first, each step exactly on it if it is so turned', () => {
    const record = pit(180, 0.3)
    const found = ask(record)
    expect(found.isCircle).toBe(true)
    const sun = found.sun.elDeg
    const turned = [0, 3, 7, 11].map(k => {
      const at = readings(record, k, START)!
      expect(Math.abs(at.upper - sun)).toBeLessThan(0.05)
      const zero = found.sun.azDeg - at.lower
      expect(missDeg(record, { lowerZero: zero }, at, START)).toBeLessThan(0.05)
      return zero
    })
    expect(Math.abs(turned[1]! - turned[0]!)).toBeGreaterThan(5)
    // All the way round: the steps' azimuths leave no gap wider than a step.
    const azimuths = found.steps
      .flatMap((s, k) => (s.inside ? [readings(record, k, START)!.lower] : []))
      .sort((a, b) => a - b)
    const gaps = azimuths.slice(1).map((a, k) => a - azimuths[k]!)
    expect(Math.max(...gaps)).toBeLessThan(found.stepDeg.along / Math.cos((sun * Math.PI) / 180) + 0.01)
  })

  it('on a tipped mount of unknown heading has its readings follow the heading, not a plane', () => {
    const record: StationRecord = {
      ...weir('az-over-el', 47, degrees(-20, 200), degrees(-100, 100)),
      priors: ['level', 'squareness', 'collimation', 'sag', 'lowerZero', 'upperZero'].map(id =>
        known(id, 0.05),
      ) as never,
    }
    const found = ask(record)
    expect(found.isCircle).toBe(true)
    let seen = 0
    const [, second] = found.steps
    found.steps.forEach((s, k) => {
      // The middle row; the others lie beside what any heading does.
      const across = s.rightDeg * second!.upDeg - s.upDeg * second!.rightDeg
      if (!s.inside || k % 5 !== 0 || Math.abs(across) > 1e-6) return
      const at = readings(record, k, START)!
      // The heading that the step supposes, found by trying: one of them puts the Sun in the middle of the beam.
      const best = Math.min(
        ...Array.from({ length: 1441 }, (_, n) => missDeg(record, { heading: n / 4 - 180 }, at, START)),
      )
      expect(best).toBeLessThan(0.2)
      seen++
    })
    expect(seen).toBeGreaterThan(8)
  })
})

describe('a step', () => {
  it('follows the Sun: its readings change with the hour, its offset stays', () => {
    const record = pit(4, 4)
    const [a, b] = [readings(record, 3, START)!, readings(record, 3, LATER)!]
    const { steps } = ask(record)
    expect(Math.abs(b.lower - a.lower)).toBeGreaterThan(4)
    for (const [at, utc] of [
      [a, START],
      [b, LATER],
    ] as const) {
      const middle = readings(record, 0, utc)!
      const mount = trueMount(record, {})
      const beam = mount.pose(at.lower, at.upper, 'beam').b
      // Where the beam of the step points, as seen from the dish on the Sun of the mount as known.
      const [right, up] = offsetDeg(mount.pose(middle.lower, middle.upper, 'beam'), beam)
      expect(right).toBeCloseTo(steps[3]!.rightDeg, 6)
      expect(up).toBeCloseTo(steps[3]!.upDeg, 6)
    }
  })

  it('beyond a stop is skipped and counted; none inside is no search', () => {
    const open = pit(4, 4)
    const all = ask(open)
    const high = ask({ ...open, mount: { ...open.mount, upper: degrees(0, all.sun.elDeg) } })
    expect(all.skipped).toBe(0)
    expect(high.skipped).toBeGreaterThan(all.steps.length / 4)
    expect(high.skipped).toBe(high.steps.filter(s => !s.inside).length)
    expect(high.seconds).toBe(20 * (high.steps.length - high.skipped))
    expect(ask({ ...open, mount: { ...open.mount, upper: degrees(0, 20) } }).state).toBe('no-pose')
  })

  it('costs the way there where a speed is known', () => {
    const record = pit(4, 4)
    const slow = ask(record, { secondsEach: 10, readingsPerS: { lower: 0.1, upper: 0.1 } })
    const none = ask(record, { secondsEach: 10 })
    expect(none.seconds).toBe(10 * none.steps.length)
    // Each step is at least one step of one axis away.
    expect(slow.seconds - none.seconds).toBeGreaterThan(0.9 * (none.steps.length - 1) * (none.stepDeg.across / 0.1))
  })
})

describe('before it begins', () => {
  it('says when the Sun is up again, and that it is not now', () => {
    const night = ask(pit(4, 4), { now: '2026-06-10T23:00:00Z' })
    expect(night.state).toBe('sun-low')
    // 8° of elevation at 47° north in June: about an hour and a quarter after four hours UTC.
    expect(night.nextUtc).toMatch(/^2026-06-11T0[45]:/)
    expect(ask(pit(4, 4)).nextUtc).toBeNull()
  })

  it('says what the Sun should do by a quiet Sun, less between steps, and nothing where no flux is published', () => {
    const { rise } = ask(pit(4, 4))
    expect(rise.fluxFrom).toBe('quiet')
    expect(rise.isHeard).toBe(true)
    // 3 dB of the source: half of what it adds.
    const added = (db: number) => 10 ** (db / 10) - 1
    expect(added(rise.betweenDb!)).toBeCloseTo(added(rise.sunDb!) / 10 ** 0.3, 6)
    const high = { ...pit(4, 4), feeds: [{ id: 'a', name: 'horn', frequencyMHz: 24_048 }] }
    expect(ask(high).rise).toMatchObject({ sunDb: null, betweenDb: null, isHeard: null })
  })

  it('offers the Moon only where the beam is sure to find it and it is heard', () => {
    const sure = [...ZEROS_OPEN, known('lowerZero', 0.2), known('upperZero', 0.2)]
    const of = (more: Partial<StationRecord>) => ask({ ...pit(4, 4), ...more }).moon
    const big: Partial<StationRecord> = { dish: { diameterM: 9, focalRatio: 0.4 } }
    const deaf: Partial<StationRecord> = { priors: sure as never }
    const station = (more: Partial<StationRecord>) => stationFromRecord({ ...pit(4, 4), ...more })
    expect(canHearMoon(station(big), station(big).feeds[0]!)).toBe(true)
    expect(canHearMoon(station(deaf), station(deaf).feeds[0]!)).toBe(false)
    expect(of(big)).toBe('too-far')
    expect(of(deaf)).toBe('not-heard')
    expect(of({ ...big, priors: sure as never })).toBe('may')
  })

  it('states what a sighting made by it is worth: wider than the step leaves', () => {
    const { sigmaDeg, stepDeg, beamwidthDeg } = ask(pit(4, 4))
    expect(sigmaDeg).toBeCloseTo(stepDeg.along / 2 + beamwidthDeg, 9)
  })

  it('has the extent of the uncertainty: 2.45 σ of zeros that are open by so much', () => {
    const record = pit(2, 4)
    const search = firstSearchOf(
      solveStation(stationFromRecord(record)),
      stationFromRecord(record).feeds[0]!,
      Date.parse(START),
    )!
    const deg = 180 / Math.PI
    // Elevation's own 4°, with the little else that is open.
    expect(search.extent.wide * deg).toBeGreaterThan(2.448 * 4)
    expect(search.extent.wide * deg).toBeLessThan(2.448 * 4.02)
    // Azimuth's 2° counts for less up there.
    expect(search.extent.narrow * deg).toBeLessThan(2.448 * 2)
    expect(Math.abs(search.wide[0])).toBeLessThan(0.05)
  })
})
