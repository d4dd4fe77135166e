/** Advice for the person's own adjusters, applied to mounts whose truth is known: what is left is what was promised. */
import { describe, expect, it } from 'vitest'
import { changeOfBolts } from '../../../src/core/export/boltchange.ts'
import { type Bolt, boltDo } from '../../../src/core/export/bolts.ts'
import { summary } from '../../../src/core/fit/skyerror.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { bolts, solve } from '../../../src/core/questions.ts'
import type { AdjusterRecord } from '../../../src/core/records/adjusters.ts'
import type { ParameterId } from '../../../src/core/records/fieldbook.ts'
import type { SolvedParameter } from '../../../src/core/records/solution.ts'
import { answered } from '../../helpers/answered.ts'
import { missesDeg } from '../../helpers/judged.ts'
import type { Chance } from '../../helpers/random.ts'
import { bookOf, checkSky, drawScene, type Scene, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
import type { Truth } from '../../helpers/truemount.ts'

const NOW = START_MS + 11 * 86_400_000
const D = Math.PI / 180
const screw = (more: Partial<AdjusterRecord> = {}): AdjusterRecord => ({
  id: 'west',
  name: 'West screw',
  turns: 'level',
  by: 'screw',
  armMm: 420,
  pitchMm: 2,
  plus: 'clockwise',
  ...more,
})
const solved = (value: number, sigma: number, more: Partial<SolvedParameter> = {}): SolvedParameter => ({
  id: 'level',
  label: '',
  value,
  sigma,
  unit: 'deg',
  prior: { value: 0, sigma: 3 },
  state: 'settled',
  ...more,
})
const AZ_OVER_EL = { kind: 'az-over-el', latDeg: 50 } as const
const doOf = (a: AdjusterRecord, p: SolvedParameter | null) => boltDo(a, p, AZ_OVER_EL)
const turnOf = (a: AdjusterRecord, p: SolvedParameter) => {
  const does = doOf(a, p)
  if (does.kind !== 'turn') throw new Error(does.kind)
  return does
}

describe('one adjuster', () => {
  it('turns an angle into millimetres at the arm and turns of the screw, to a twelfth', () => {
    // 420 mm · tan 0.8° = 5.8646 mm = 2.932 turns of 2 mm: 2 turns and 11 twelfths (2.917).
    const does = turnOf(screw(), solved(0.8, 0.05))
    expect(does.turns).toMatchObject({ whole: 2, twelfths: 11 })
    expect(does.mm).toBeCloseTo(35 / 6, 9)
    // 0.05° is 0.3666 mm there: 2.2 twelfths.
    expect(does.sigmaMm).toBeCloseTo(0.3666, 3)
    expect(does.turns?.sigmaTwelfths).toBeCloseTo(2.2, 1)
    // Left: what the rounding leaves, and half a twelfth (0.0833 mm, 0.01137°) beside its own σ.
    expect(does.left.value).toBeCloseTo(0.8 - Math.atan(35 / 6 / 420) / D, 9)
    expect(does.left.sigma).toBeCloseTo(Math.hypot(0.05, 0.01137), 4)
  })

  it('goes against what is off, and names the way that the mount itself has', () => {
    expect(turnOf(screw(), solved(0.8, 0.05))).toMatchObject({
      larger: false,
      move: { part: 'left-end', toward: 'up' },
    })
    const back = turnOf(screw(), solved(-0.8, 0.05))
    expect(back).toMatchObject({ larger: true, move: { part: 'right-end', toward: 'up' } })
    expect(back.left.value).toBeCloseTo(-turnOf(screw(), solved(0.8, 0.05)).left.value, 12)
  })

  it('a whole number of turns has no twelfths, and eleven and a half go up to the next', () => {
    const twoTurns = Math.atan(4 / 420) / D
    expect(turnOf(screw(), solved(twoTurns, 0.01)).turns).toMatchObject({ whole: 2, twelfths: 0 })
    const nearlyTwo = Math.atan((2 * (23.6 / 12)) / 420) / D
    expect(turnOf(screw(), solved(nearlyTwo, 0.01)).turns).toMatchObject({ whole: 2, twelfths: 0 })
  })

  it('tells a shim in tenths of a millimetre, and a flange along its rim however far', () => {
    const shim = turnOf(screw({ by: 'shim' }), solved(0.8, 0.05))
    expect(shim.turns).toBeUndefined()
    expect(shim.mm).toBeCloseTo(5.9, 9)
    const flange = turnOf(
      screw({ by: 'flange', turns: 'heading', armMm: 200 }),
      solved(120, 0.5, { id: 'heading', prior: { value: 0, sigma: 180 } }),
    )
    expect(flange.mm).toBeCloseTo(418.9, 6)
    expect(doOf(screw({ turns: 'heading' }), solved(120, 0.5, { id: 'heading' }))).toEqual({ kind: 'too-far' })
  })

  it('moves a feed by its millimetres, whatever the arm', () => {
    const does = turnOf(
      screw({ turns: 'feedRight', by: 'shim' }),
      solved(7.26, 1, { id: 'feedRight', feed: 'a', unit: 'mm' }),
    )
    expect(does.mm).toBeCloseTo(7.3, 9)
    expect(does.left.sigma).toBeCloseTo(Math.hypot(1, 0.5), 9)
  })

  it('leaves what is below its σ, or below what can be set', () => {
    expect(doOf(screw(), solved(0.05, 0.06))).toEqual({ kind: 'leave', why: 'unsure' })
    expect(doOf(screw(), solved(0.005, 0.001))).toEqual({ kind: 'leave', why: 'too-fine' })
    expect(doOf(screw({ by: 'shim', armMm: 300 }), solved(0.08, 0.01))).toEqual({ kind: 'leave', why: 'too-fine' })
  })

  it('turns nothing that is open, bends, or is not of this mount', () => {
    expect(doOf(screw(), solved(4, 0.5, { state: 'open' }))).toEqual({ kind: 'not-yet' })
    expect(doOf(screw({ turns: 'sag' }), solved(0.4, 0.01, { id: 'sag' }))).toEqual({ kind: 'not-here' })
    expect(doOf(screw({ turns: 'leanEast' }), null)).toEqual({ kind: 'not-here' })
  })

  it("a reading's zero has no way but the adjuster's own", () => {
    const does = turnOf(screw({ turns: 'upperZero', by: 'flange', armMm: 40 }), solved(2, 0.1, { id: 'upperZero' }))
    expect(does).toMatchObject({ larger: false })
    expect(does).not.toHaveProperty('move')
  })
})

/** One adjuster for all that a spanner reaches at this mount. */
const ADJUSTED: Record<string, ParameterId[]> = {
  'el-over-az': ['leanNorth', 'leanEast', 'squareness', 'collimation', 'lowerZero'],
  'ha-dec': ['poleEast', 'poleUp', 'squareness', 'collimation', 'upperZero'],
  'az-over-el': ['level', 'heading', 'squareness', 'collimation', 'upperZero'],
  'x-y': ['level', 'heading', 'squareness', 'collimation', 'upperZero'],
}

/** Its adjusters, one for each, of any make. */
const adjustersOf = ({ record, chance }: Scene): AdjusterRecord[] =>
  ADJUSTED[record.mount.kind]!.map((turns, k) => ({
    id: `a${k}`,
    name: `Adjuster ${k}`,
    turns,
    by: turns === 'heading' || turns.endsWith('Zero') ? 'flange' : chance.next() < 0.7 ? 'screw' : 'shim',
    armMm: chance.whole(200, 900),
    pitchMm: chance.one([1.25, 1.5, 1.75, 2]),
  }))

/** By how much the adjuster alters its parameter when it is moved as advised, by hand: written down once more. */
function done({ adjuster, does }: Bolt, hand: Chance): number {
  if (does.kind !== 'turn') return 0
  const { turns } = does
  const mm =
    (turns ? (turns.whole + turns.twelfths / 12) * adjuster.pitchMm! : does.mm) +
    hand.normal(turns ? adjuster.pitchMm! / 24 : 0.5)
  const deg = adjuster.by === 'flange' ? mm / adjuster.armMm / D : Math.atan2(mm, adjuster.armMm) / D
  return does.larger ? deg : -deg
}

/** How far from the promise, in its σ: what is left of the truth once the advice is done. */
function missed(bolt: Bolt, truth: Truth, hand: Chance): { left: number; sigmas: number } | null {
  if (bolt.does.kind !== 'turn') return null
  const left = truth[bolt.adjuster.turns]! + done(bolt, hand)
  return { left, sigmas: Math.abs(left - bolt.does.left.value) / bolt.does.left.sigma }
}

const within = (z: readonly number[], most: number): number => z.filter(x => x < most).length / z.length

describe('100 simulated mounts', () => {
  it('what is left after the advice is what it promised, ± its σ', () => {
    const z: number[] = []
    for (let k = 0; k < 100; k++) {
      const scene = drawScene(4000 + k, { wild: false })
      const { record, chance, truths } = scene
      for (const adjuster of adjustersOf(scene))
        for (let again = 0; again < 10; again++) {
          const sigma = chance.between(0.01, 0.3)
          const truth = truths[0]!.truth[adjuster.turns]!
          const p = solved(truth + chance.normal(sigma), sigma, { id: adjuster.turns })
          // Far from nothing, so that it is turned whichever way the estimate fell.
          if (Math.abs(truth) < 6 * sigma || Math.abs(truth) > 10) continue
          const does = boltDo(adjuster, p, { kind: record.mount.kind, latDeg: record.site.latDeg })
          const miss = missed({ adjuster, off: p, does }, truths[0]!.truth, chance)
          if (miss) z.push(miss.sigmas)
        }
    }
    expect(z.length).toBeGreaterThan(1500)
    expect(within(z, 1)).toBeGreaterThan(2 / 3)
    expect(within(z, 1)).toBeLessThan(0.72)
    // Of a normal error one in two thousand is farther out.
    expect(within(z, 3.5)).toBeGreaterThan(0.998)
    expect(Math.max(...z)).toBeLessThan(4.5)
  })

  it('so it is when the deviations are solved from sightings, and the sky is no worse than promised', () => {
    const z: number[] = []
    let kept = 0
    let promised = 0
    let better = 0
    for (let k = 0; k < 6; k++) {
      const scene = drawScene(4100 + k, { lower: 'degrees', upper: 'degrees', wild: false })
      const { record, chance } = scene
      record.sightings = sightMany(scene, 14, {
        methods: ['signal-peak', 'shadow', 'optical'],
        sigmaDeg: 0.05,
        days: 10,
      })
      record.adjusters = adjustersOf(scene)
      const told = answered(bolts(bookOf(record), { now: utcOf(NOW) }))
      const after = { ...scene.truths[0]!.truth }
      for (const bolt of told.turn) {
        const miss = missed(bolt, after, chance)!
        after[bolt.adjuster.turns] = miss.left
        z.push(miss.sigmas)
      }
      if (!told.sky) continue
      promised++
      const turned: Scene = { ...scene, truths: [{ fromMs: Number.NEGATIVE_INFINITY, truth: after }] }
      delete turned.cache
      const misses = missesDeg(turned, NOW, onPaper(), checkSky(turned, NOW)).filter(m => m !== null)
      const { p95 } = summary(misses.map(m => m * m))
      if (p95 <= told.sky.afterDeg * 1.05) kept++
      if (told.sky.afterDeg < told.sky.beforeDeg) better++
    }
    expect(z.length).toBeGreaterThan(12)
    expect(within(z, 1)).toBeGreaterThan(0.5)
    expect(Math.max(...z)).toBeLessThan(3.5)
    expect(promised).toBe(6)
    expect(better).toBe(6)
    // Nine chances in ten.
    expect(kept).toBeGreaterThan(4)
  })
})

describe('a station', () => {
  const scene = drawScene(4100, { lower: 'degrees', upper: 'degrees', kind: 'az-over-el', wild: false })
  const { record } = scene
  Object.assign(scene.truths[0]!.truth, { level: 2, heading: 5, squareness: 0.9, lowerZero: 4 })
  record.sightings = sightMany(scene, 14, { methods: ['signal-peak', 'shadow', 'optical'], sigmaDeg: 0.05, days: 10 })
  const at = (id: string, turns: ParameterId, more: Partial<AdjusterRecord> = {}) => screw({ id, turns, ...more })
  record.adjusters = [
    at('top', 'squareness', { by: 'shim' }),
    at('second', 'level'),
    at('clamp', 'heading', { by: 'flange' }),
    at('other', 'level', { by: 'shim' }),
    at('lean', 'leanEast'),
    { id: 'a crane', by: 'crane' } as unknown as AdjusterRecord,
  ]
  const told = answered(bolts(bookOf(record), { now: utcOf(NOW) }))
  const { turn, instead, rest, sky } = told
  const ids = (list: readonly Bolt[]) => list.map(b => b.adjuster.id)

  it('tells the lower axis first, the most on the sky first, and one adjuster for each number', () => {
    expect(ids(turn)).toEqual(['clamp', 'second', 'top'])
    expect(ids(instead)).toEqual(['other'])
    expect(rest.map(b => [b.adjuster.id, b.does.kind])).toEqual([['lean', 'not-here']])
    expect(sky!.afterDeg).toBeLessThan(sky!.beforeDeg)
  })

  it('expects what is left of those that were turned, and starts their numbers again', () => {
    const two = changeOfBolts(turn.slice(1), 'a')
    expect(two.what).toEqual(['lower-axis', 'dish', 'upper-zero'])
    expect(two.expect.map(e => e.id)).toEqual(['level', 'squareness'])
    const [level] = two.expect
    expect(Math.abs(level!.value)).toBeLessThan(0.02)
    expect(level!.sigma).toBeGreaterThan(turn[1]!.off!.sigma)
    // The book takes it, and the next solution starts there.
    const later = { ...record, changes: [{ id: 'turned', utc: utcOf(NOW), ...two }] }
    const solution = answered(solve(bookOf(later), { now: utcOf(NOW + 3_600_000) }))
    const after = solution.parameters.find(p => p.id === 'level')!
    expect(after.value).toBeCloseTo(level!.value, 4)
    expect(after.sigma).toBeCloseTo(level!.sigma, 3)
  })
})
