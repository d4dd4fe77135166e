/** What an inclinometer shows on a simulated mount, perfect or with noise. */
import { type LevelPlace, trueLevelAt } from '../../src/core/rehearse/mount.ts'
import { mountAt, roundReading, type Scene, utcOf } from './simulate.ts'

/** What a perfect instrument would show, by kind of level; readings where the level needs them. */
export function trueLevelDeg(
  scene: Scene,
  ms: number,
  what: LevelPlace,
  at: { lower: number; upper: number } = { lower: 0, upper: 0 },
): number {
  const mount = mountAt(scene, ms)
  return trueLevelAt(mount, what, mount.angleDeg('lower', at.lower), mount.angleDeg('upper', at.upper))
}

/** Poses at which the dish's elevation can be measured: n pairs of readings inside the limits, the dish above 10°. */
export function posesOf(scene: Scene, ms: number, n: number): { lower: number; upper: number }[] {
  const { chance: c, record: station } = scene
  const out: { lower: number; upper: number }[] = []
  for (let tries = 0; out.length < n && tries < 1000; tries++) {
    const at = { lower: 0, upper: 0 }
    for (const axis of ['lower', 'upper'] as const) {
      const { minReading, maxReading } = station.mount[axis]
      at[axis] = roundReading(station, axis, c.between(minReading, maxReading))
    }
    const el = trueLevelDeg(scene, ms, 'dish-elevation', at)
    if (el > 10 && el < 75) out.push(at)
  }
  return out
}

/** Dish elevations at n poses, with noise. */
export const dishLevels = (scene: Scene, ms: number, n: number, sigmaDeg: number, prefix = 'lv') =>
  posesOf(scene, ms, n).map((at, k) => ({
    id: `${prefix}${k}`,
    utc: utcOf(ms),
    what: 'dish-elevation' as const,
    ...at,
    valueDeg: trueLevelDeg(scene, ms, 'dish-elevation', at) + scene.chance.normal(sigmaDeg),
    sigmaDeg,
  }))
