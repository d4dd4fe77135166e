/** A fit judged by the truth: by how much the real beam misses the Moon's path when it is given the readings of a mount as solved. */
import { aim } from '../../src/core/mount/aim.ts'
import type { Built } from '../../src/core/mount/slots.ts'
import { type checkSky, mountAt, type Scene, stationOf } from './simulate.ts'
import { apartDeg } from './truemount.ts'

/** Degrees by which the true beam misses each point when given the readings of a mount as solved; null: no pose. */
export function missesDeg(
  scene: Scene,
  nowMs: number,
  built: Built,
  sky: ReturnType<typeof checkSky>,
): (number | null)[] {
  const station = stationOf(scene)
  const mount = mountAt(scene, nowMs)
  return sky.map(p => {
    const reach = aim(station.model, built, 'beam', p.direction)
    if (reach === null || !reach.inside) return null
    const miss = apartDeg(mount.pose(reach.lower, reach.upper, 'beam').b, p.direction)
    return Number.isFinite(miss) ? miss : null
  })
}

export const rmsOf = (x: readonly number[]): number =>
  Math.sqrt(x.reduce((a, v) => a + v * v, 0) / Math.max(1, x.length))
