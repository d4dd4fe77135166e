/** Named positions: a mount that is clamped back to "east" starts from what was known there, with the σ of the clamping. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../../src/core/questions.ts'
import type { ChangeRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { drawn } from '../../helpers/share.ts'
import { bookOf, drawScene, type Scene, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'

const DAY_MS = 86_400_000
const AT = [0, 10, 20].map(day => START_MS + day * DAY_MS) as [number, number, number]
const END = START_MS + 30 * DAY_MS

/** Turned from east to west and back; `slack` is by how much the clamp met its place the second time. */
function turned(seed: number, slack: number): Scene {
  const scene = drawScene(seed, {
    kind: 'az-over-el',
    lower: 'degrees',
    upper: 'degrees',
    frequencyMHz: 2320,
    wild: false,
  })
  const east = scene.truths[0]!.truth
  const west = { ...east, heading: east.heading! + 14 }
  const again = { ...east, heading: east.heading! + slack }
  scene.truths = [east, west, again].map((truth, k) => ({ truth, fromMs: k === 0 ? -Infinity : AT[k]! }))
  return scene
}

const change = (id: string, ms: number, position?: ChangeRecord['position']): ChangeRecord => ({
  id,
  utc: utcOf(ms),
  what: ['lower-axis'],
  ...(position && { position }),
})

function recordOf(scene: Scene, counts: readonly [number, number, number], isNamed: boolean): StationRecord {
  const methods = ['signal-peak', 'shadow'] as const
  const sightings = counts.flatMap((n, k) =>
    n === 0 ? [] : sightMany(scene, n, { methods: [...methods], fromMs: AT[k]! + 3_600_000, days: 9 }, `s${k}-`),
  )
  const changes = isNamed
    ? [
        change('to-west', AT[1], { name: 'west', before: 'east', sigmaDeg: 0.3 }),
        change('to-east', AT[2], { name: 'east', sigmaDeg: 0.3 }),
      ]
    : [change('to-west', AT[1]), change('to-east', AT[2])]
  return { ...scene.record, sightings, changes }
}

const headingOf = (record: StationRecord, ms = END) => {
  const found = answered(solve(bookOf(record), { now: utcOf(ms) })).parameters.find(p => p.id === 'heading')!
  return { value: found.value, sigma: found.sigma }
}

describe('named positions', () => {
  it('coming back without a sighting: the heading of before to within the clamping, where a plain change knows nothing', () => {
    const scene = turned(901, 0)
    const record = recordOf(scene, [12, 12, 0], true)
    const named = headingOf(record)
    const before = headingOf(record, AT[1] - 1)
    expect(named.value).toBeCloseTo(before.value, 2)
    // As well as it was known before, and the clamping of both times.
    expect(named.sigma).toBeGreaterThan(0.3)
    expect(named.sigma).toBeLessThan(Math.hypot(before.sigma, 0.3 * Math.SQRT2) + 0.02)
    expect(headingOf(recordOf(scene, [12, 12, 0], false)).sigma).toBeGreaterThan(30)
  })

  it('one sighting after coming back takes part of the clamping’s slack in; the position elsewhere says nothing', () => {
    const scene = turned(902, 0.6)
    const truth = scene.truths[2]!.truth.heading!
    const [none, some] = [0, 6].map(n => headingOf(recordOf(scene, [14, 10, n], true)))
    expect(Math.abs(some!.value - truth)).toBeLessThan(3.5 * some!.sigma)
    expect(some!.sigma).toBeLessThan(none!.sigma)
    const west = headingOf(recordOf(scene, [14, 10, 6], true), AT[2] - 1)
    expect(Math.abs(west.value - scene.truths[1]!.truth.heading!)).toBeLessThan(3.5 * west.sigma)
  })

  drawn('holds in 8 drawn stations: off by about σ on the whole, by less than 3.5 σ in each', () => {
    let squares = 0
    const seeds = Array.from({ length: 8 }, (_, k) => 910 + k)
    for (const seed of seeds) {
      // Each time the clamp meets its place to within 0.3°: the two times together √2 of that.
      const slack = drawScene(seed, {}).chance.normal(0.3 * Math.SQRT2)
      const scene = turned(seed, slack)
      const found = headingOf(recordOf(scene, [12, 6, 0], true))
      const off = Math.abs(found.value - scene.truths[2]!.truth.heading!) / found.sigma
      expect(off).toBeLessThan(3.5)
      squares += off ** 2
    }
    const rms = Math.sqrt(squares / seeds.length)
    expect(rms).toBeGreaterThan(0.25)
    expect(rms).toBeLessThan(1.7)
  })

  it('a name used once, or a book without names, is solved as before', () => {
    const scene = turned(903, 0)
    const plain = recordOf(scene, [10, 10, 8], false)
    const once = { ...plain, changes: [{ ...plain.changes![0]!, position: { name: 'west' } }, plain.changes![1]!] }
    expect(headingOf(once)).toEqual(headingOf(plain))
  })
})
