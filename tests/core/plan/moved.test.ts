import { describe, expect, it } from 'vitest'
import { type Solved, solveStation } from '../../../src/core/fit/solution.ts'
import { type StormCheck, stormCheck } from '../../../src/core/plan/moved.ts'
import { stationFromRecord } from '../../../src/core/records/station.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { drawScene, KINDS, mountAt, type Scene, START_MS, sight } from '../../helpers/simulate.ts'

const DEG = Math.PI / 180
const DAY = 86_400_000
const STORM = START_MS + 30 * DAY
const SUN = { type: 'sun' } as const

/** A station well solved before the storm: Sun by signal and shadow over three weeks. */
function calm(seed: number, kind: (typeof KINDS)[number], latDeg: number): { scene: Scene; solved: Solved } {
  const scene = drawScene(seed, { kind, latDeg, feeds: 1, frequencyMHz: 5760, wild: false })
  scene.record.dish = { ...scene.record.dish, diameterM: 2.4, focalRatio: 0.4 }
  delete scene.cache
  const { record } = scene
  for (let k = 0; record.sightings.length < 40 && k < 900; k++) {
    const method = k % 2 === 0 ? 'signal-peak' : 'shadow'
    const target = k % 3 === 0 && method === 'signal-peak' ? ({ type: 'moon' } as const) : SUN
    const made = sight(
      scene,
      { ms: START_MS + k * 34 * 60_000, target, method, sigmaDeg: 0.08, lowestDeg: 10 },
      `s${k}`,
    )
    if (made !== null) record.sightings.push(made)
  }
  return { scene, solved: solveStation(stationFromRecord(record)) }
}

/** After the storm: the true mount with some things changed, peaked on the Sun, the true shadow read by walking down its ray. */
function after(scene: Scene, solved: Solved, change: Record<string, number>, withShadow = true): StormCheck | null {
  const truth = { ...scene.truths[0]!.truth }
  const id = scene.record.feeds[0]!.id
  for (const [key, by] of Object.entries(change)) {
    const name = key.startsWith('feed') ? `${key}:${id}` : key
    truth[name] = (truth[name] ?? 0) + by
  }
  const stormy: Scene = { ...scene, truths: [...scene.truths, { fromMs: STORM, truth }] }
  delete stormy.cache
  const f = 960
  for (let h = 0; h < 24; h++) {
    const ms = STORM + h * 3_600_000
    const peak = sight(stormy, { ms, target: SUN, method: 'signal-peak', sigmaDeg: 0.03, lowestDeg: 25 }, 'p')
    if (peak === null) continue
    const sun = apparentPlace(SUN, ms, solved.station.site, 'optical').direction
    const { b, r, u } = mountAt(stormy, ms).pose(peak.lower, peak.upper, 'shadow', id)
    const dot = (v: readonly number[]) => v[0]! * sun[0] + v[1]! * sun[1] + v[2]! * sun[2]
    let a = 0
    let t = 3 * f
    for (let k = 0; k < 100; k++) {
      const m = (a + t) / 2
      if (f - m * dot(b) > ((m * dot(r)) ** 2 + (m * dot(u)) ** 2) / (4 * f)) a = m
      else t = m
    }
    return stormCheck(solved, solved.station.feeds[0]!, {
      utcMs: ms,
      lower: peak.lower,
      upper: peak.upper,
      shadow: withShadow ? { rightMm: -a * dot(r), upMm: -a * dot(u) } : null,
      sigmaPeak: 0.05 * DEG,
      sigmaShadowMm: 2,
    })
  }
  return null
}

describe('stormCheck', () => {
  const all = KINDS.flatMap((kind, i) =>
    [47, -33].map((latDeg, j) => ({ kind, latDeg, ...calm(60 + 2 * i + j, kind, latDeg) })),
  )

  it('finds everything as before when nothing moved, on all mounts in both hemispheres', () => {
    let seen = 0
    for (const { scene, solved, kind, latDeg } of all) {
      const check = after(scene, solved, {})
      if (check === null) continue
      seen++
      expect(check.verdict, `${kind} ${latDeg}`).toBe('as-before')
      expect(check.culprits).toEqual([])
      expect(check.feed).toBeNull()
    }
    expect(seen).toBeGreaterThan(5)
  })

  it('finds a feed pushed 15 mm aside, which way and how far, and does not blame the mount', () => {
    for (const { scene, solved, kind, latDeg } of all) {
      const check = after(scene, solved, { feedRight: 12, feedUp: -9 })
      if (check === null) continue
      expect(check.verdict, `${kind} ${latDeg}`).toBe('feed-or-dish')
      expect(Math.abs(check.feed!.rightMm - 12), `${kind} ${latDeg}`).toBeLessThan(3.5)
      expect(Math.abs(check.feed!.upMm + 9), `${kind} ${latDeg}`).toBeLessThan(3.5)
      // Seen in the shadow: the feed's own shift and the re-peaked dish, (1 + BDF) together, the same way as the feed.
      expect(check.shadow!.rightMm).toBeGreaterThan(12)
    }
  })

  it('finds a slipped zero of either axis by 3°, its size within σ, with the shadow where it was', () => {
    let best = 0
    let seen = 0
    for (const { scene, solved, kind, latDeg } of all)
      for (const id of ['lowerZero', 'upperZero'] as const) {
        const check = after(scene, solved, { [id]: 3 })
        if (check === null) continue
        seen++
        const at = `${kind} ${latDeg} ${id}`
        expect(check.verdict, at).toBe('mount-or-counter')
        const found = check.culprits.find(c => c.id === id)!
        expect(found.leftChi2, at).toBeLessThan(9)
        expect(Math.abs(found.change / DEG - 3), at).toBeLessThan(Math.max(0.3, (4 * found.sigma) / DEG))
        if (found.counts !== null) expect(Math.abs(found.counts), at).toBeGreaterThan(1)
        // The other axis moves the beam another way, so it cannot explain it.
        const other = check.culprits.find(c => c.id === (id === 'lowerZero' ? 'upperZero' : 'lowerZero'))
        if (other) expect(other.leftChi2, at).toBeGreaterThan(found.leftChi2)
        if (check.culprits[0]!.id === id) best++
      }
    expect(seen).toBeGreaterThan(10)
    expect(best).toBeGreaterThan(seen / 2)
  })

  it('finds the mount turned 4° in its foundation on a tilting mount', () => {
    const { scene, solved } = all.find(a => a.kind === 'az-over-el' && a.latDeg > 0)!
    const check = after(scene, solved, { heading: 4 })!
    expect(check.verdict).toBe('mount-or-counter')
    const heading = check.culprits.find(c => c.id === 'heading')!
    expect(heading.leftChi2).toBeLessThan(9)
    expect(Math.abs(heading.change / DEG - 4)).toBeLessThan(0.5)
  })

  it('finds both when both moved, and says that it cannot tell which without a shadow', () => {
    const { scene, solved } = all[0]!
    expect(after(scene, solved, { feedRight: 15, upperZero: 4 })!.verdict).toBe('both')
    const blind = after(scene, solved, { upperZero: 4 }, false)!
    expect(blind.verdict).toBe('moved')
    expect(blind.shadow).toBeNull()
    expect(blind.culprits.length).toBeGreaterThan(0)
  })
})
