import { CholeskyDecomposition, Matrix } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import { builtFor } from '../../../src/core/fit/solution.ts'
import { SLOTS } from '../../../src/core/mount/slots.ts'
import { AS_IT_WAS, WAY_COUNT } from '../../../src/core/plan/stormmoves.ts'
import { stormPlan } from '../../../src/core/plan/stormplan.ts'
import { rowsOf } from '../../../src/core/plan/stormrows.ts'
import { chance } from '../../helpers/random.ts'
import { KINDS } from '../../helpers/simulate.ts'
import {
  asPlanned,
  type Calm,
  calmStation,
  drawStorm,
  STORM_MS,
  type Storm,
  said,
  since,
  sunTimes,
} from '../../helpers/stormtrials.ts'

const FINE = 0.03
const calms = new Map<string, Calm>()
const calmOf = (kind: (typeof KINDS)[number]): Calm => {
  const calm = calms.get(kind) ?? calmStation(7000 + KINDS.indexOf(kind), kind, FINE)
  calms.set(kind, calm)
  return calm
}
const still = (calm: Calm): Storm => drawStorm(chance(1), calm, true)
const changed = (calm: Calm, by: Record<string, number>): Storm => {
  const storm = still(calm)
  const truth = { ...storm.truth }
  for (const [id, x] of Object.entries(by)) truth[id] = (truth[id] ?? 0) + x
  return { ...storm, truth }
}
const peaks = (calm: Calm, n: number) =>
  sunTimes(calm, n, 2).map(ms => ({
    ms,
    target: 'sun' as const,
    method: 'signal-peak' as const,
    sigmaDeg: FINE * calm.hpbwDeg,
  }))
const withShadow = (calm: Calm, n: number) => {
  const list = peaks(calm, n)
  return [...list, { ms: list[0]!.ms + 60_000, target: 'sun' as const, method: 'shadow' as const }]
}

describe('stormCheckOf', () => {
  it('cannot tell from one peak that fits, on any mount: a turn about the line of sight would not show', () => {
    for (const kind of KINDS) {
      const calm = calmOf(kind)
      const { check } = said(calm, since(calm, still(calm), peaks(calm, 1)))!
      expect([check.verdict, check.why], kind).toEqual(['cannot-tell', 'unseen'])
      expect(check.standsOut, kind).toBeLessThan(3)
      expect(check.atMost, kind).toBeGreaterThan(check.tolerance)
    }
  })

  it('says that nothing moved once its own plan was carried out, and what may hide is below the tolerance', () => {
    let nothing = 0
    for (const kind of KINDS) {
      const calm = calmOf(kind)
      const done = asPlanned(calm, still(calm), FINE)!
      const { check } = done.said
      expect(check.verdict, kind).not.toBe('moved')
      if (check.verdict !== 'nothing-moved') continue
      nothing++
      expect(check.atMost, kind).toBeLessThanOrEqual(check.tolerance)
      expect(check.standsOut, kind).toBeGreaterThanOrEqual(3)
    }
    expect(nothing).toBeGreaterThanOrEqual(2)
  })

  it('finds a zero slipped by 4° within 4 σ, first or among its rivals', () => {
    for (const kind of KINDS)
      for (const axis of ['lower', 'upper'] as const) {
        const calm = calmOf(kind)
        const { check } = said(calm, since(calm, changed(calm, { [`${axis}Zero`]: 4 }), withShadow(calm, 3)))!
        const at = `${kind} ${axis}`
        expect(check.verdict, at).toBe('moved')
        const found = check.explanations.find(e => e.kinds.length === 1 && e.kinds[0] === `${axis}-zero`)
        expect(found, at).toBeDefined()
        if (calm.scene.record.mount[axis].readout.type === 'jack') continue
        const [zero] = found!.changed
        expect(Math.abs(zero!.change - (4 * Math.PI) / 180), at).toBeLessThan(4 * zero!.sigma)
        if (zero!.counts !== null) expect(Math.abs(zero!.counts), at).toBeGreaterThan(1)
      }
  })

  it('finds a feed pushed 30 mm aside, which way and how far, and does not blame the mount', () => {
    for (const kind of KINDS) {
      const calm = calmOf(kind)
      const id = calm.scene.record.feeds[0]!.id
      const storm = changed(calm, { [`feedRight:${id}`]: 24, [`feedUp:${id}`]: -18 })
      const { check } = said(calm, since(calm, storm, withShadow(calm, 3)))!
      expect(check.verdict, kind).toBe('moved')
      const [best] = check.explanations
      expect(best!.kinds, kind).toEqual(['feed'])
      const [right, up] = best!.changed
      expect(Math.abs(right!.change - 24), kind).toBeLessThan(4 * right!.sigma)
      expect(Math.abs(up!.change + 18), kind).toBeLessThan(4 * up!.sigma)
    }
  })

  it('blames one misread sighting of five, and not the mount', () => {
    for (const kind of KINDS) {
      const calm = calmOf(kind)
      const list = since(calm, still(calm), withShadow(calm, 4))
      const { minReading, maxReading } = calm.scene.record.mount.upper
      list[1] = { ...list[1]!, upper: list[1]!.upper + 0.07 * (maxReading - minReading) }
      const { check } = said(calm, list)!
      expect([check.verdict, check.why, check.odd], kind).toEqual(['cannot-tell', 'odd-one', list[1]!.id])
    }
  })

  it('adds up the same information as the whole covariance at once', () => {
    const calm = calmOf('ha-dec')
    const c = said(calm, since(calm, still(calm), withShadow(calm, 2)))!.case
    const rows = c.measured.flatMap(m => rowsOf(c.solved, m, AS_IT_WAS)!)
    const { covariance } = builtFor(c.solved, STORM_MS, c.feed)
    const A = new Matrix(rows.map(r => [...r.bySlot]))
    const B = new Matrix(rows.map(r => [...r.byWay]))
    const C = new Matrix(SLOTS, SLOTS)
    for (let i = 0; i < SLOTS; i++) for (let j = 0; j < SLOTS; j++) C.set(i, j, covariance[i * SLOTS + j]!)
    const V = A.mmul(C).mmul(A.transpose()).add(Matrix.eye(rows.length))
    const symmetric = V.clone().add(V.transpose()).mul(0.5)
    const F = B.transpose().mmul(new CholeskyDecomposition(symmetric).solve(B))
    const largest = Math.max(...c.pass.F.map(Math.abs))
    for (let i = 0; i < WAY_COUNT; i++)
      for (let j = 0; j < WAY_COUNT; j++)
        expect(Math.abs(F.get(i, j) - c.pass.F[i * WAY_COUNT + j]!)).toBeLessThan(1e-6 * largest)
  })
})

describe('stormPlan', () => {
  // Mounts whose plan is sightings alone: a level is not sighted.
  it.each(['el-over-az', 'x-y'] as const)(
    'promises what the check then finds, to 10 %: 4.5 σ for a move as large as the tolerance (%s)',
    kind => {
      const calm = calmOf(kind)
      const first = since(calm, still(calm), withShadow(calm, 1))
      const plan = stormPlan(said(calm, first)!.case, STORM_MS + 3_600_000)
      expect(plan.isEnough).toBe(true)
      expect(plan.standsOut).toBeGreaterThan(4.5)
      const wishes = plan.steps.flatMap(s =>
        s.kind === 'sighting' && (s.method === 'signal-peak' || s.method === 'shadow')
          ? [{ ms: s.utcMs, target: s.target, method: s.method, sigmaDeg: (s.sigma * 180) / Math.PI }]
          : [],
      )
      expect(wishes).toHaveLength(plan.steps.length)
      const { check } = said(calm, [...first, ...since(calm, still(calm), wishes, 'q')])!
      expect(Math.abs(check.standsOut / plan.standsOut - 1)).toBeLessThan(0.1)
      // What is left out by one is no longer enough.
      expect(plan.steps.length).toBeGreaterThan(1)
      const times = plan.steps.map(s => (s.kind === 'sighting' ? s.utcMs : 0))
      expect(times).toEqual([...times].sort((a, b) => a - b))
    },
  )
})
