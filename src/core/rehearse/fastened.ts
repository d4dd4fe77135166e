/**
 * A phone fastened to what an axis moves: the up vector in it, as its two edges show it; and an inclinometer fastened across the
 * axis, whose angle turns with it. Fastened as by hand: the long edge roughly along the axis, the screen facing up at mid-travel;
 * on a steep axis the screen faces roughly along the axis. Placed by the mount on paper, so that a change of the real dish does not
 * move the phone on it. Degrees; vectors of the phone are x right edge, y top edge, z out of the screen.
 */
import type { Axis } from '../records/fieldbook.ts'
import { DEG } from '../units.ts'
import { type Paper, readoutAngleDeg, type TrueMount } from './mount.ts'
import type { Chance } from './seed.ts'
import { crossed, dotted, heightDeg, mixed, normed, turned, UP, type V3 } from './turning.ts'

/** The phone's edges as they lie in the moving part, the part being at axis angles zero. */
type Edges = readonly [x: V3, y: V3, z: V3]

export interface Fastening {
  axis: Axis
  /** As first fastened, and as fastened again end for end. */
  edges: readonly [Edges, Edges]
  /** Which way the inclinometer counts so that its angle grows with the axis's; null where the axis stands too steep for one. */
  sense: 1 | -1 | null
}

export interface Sensor {
  /** Zero offset of each of its axes, in g. */
  bias: V3
  tremblesDeg: number
}

interface Angles {
  lowerDeg: number
  upperDeg: number
}

/** Above this elevation of the axis the phone is laid across it. */
const STEEP_DEG = 60
/** How accurately a hand lays it along the axis, and facing up, 1 σ. Common practice, no source. */
const ALONG_DEG = 2
const FACING_DEG = 8

/** @param onPaper  the mount without a fault */
export function fastening(onPaper: TrueMount, axis: Axis, c: Chance): Fastening {
  const paper: Paper = onPaper.record
  const middle = (a: Axis): number => {
    const { minReading, maxReading } = paper.mount[a]
    return (readoutAngleDeg(paper, a, minReading) + readoutAngleDeg(paper, a, maxReading)) / 2
  }
  const at: Angles = { lowerDeg: middle('lower'), upperDeg: middle('upper') }
  const n = onPaper.turnsAbout[axis]
  const isSteep = Math.abs(heightDeg(onPaper.carried(axis, n, at))) > STEEP_DEG
  // Of all directions across the axis the one that faces up at mid-travel.
  const p = normed(crossed(n, Math.abs(n[2]) < 0.9 ? UP : [1, 0, 0]))
  const q = crossed(n, p)
  const [up1, up2] = [onPaper.carried(axis, p, at)[2], onPaper.carried(axis, q, at)[2]]
  const facing = isSteep ? p : normed(mixed(p, up1, q, up2))
  const straight: Edges = isSteep ? [facing, crossed(n, facing), n] : [crossed(n, facing), n, facing]
  const off: readonly [V3, number][] = [
    [straight[0], c.normal(ALONG_DEG, 2)],
    [facing, c.normal(ALONG_DEG, 2)],
    [n, c.normal(FACING_DEG, 2)],
  ]
  const placed = (v: V3): V3 => off.reduce((w, [about, deg]) => turned(w, about, deg * DEG), v)
  const first: Edges = [placed(straight[0]), placed(straight[1]), placed(straight[2])]
  const about = isSteep ? first[0] : first[2]
  const back = (v: V3): V3 => turned(v, about, Math.PI)
  const [before, after] = [-0.5, 0.5].map(by => {
    const next = { ...at, [`${axis}Deg`]: at[`${axis}Deg`] + by }
    return slantDeg(upIn(onPaper, axis, first, next))
  })
  return {
    axis,
    edges: [first, [back(first[0]), back(first[1]), back(first[2])]],
    sense: isSteep ? null : turnOf(after! - before!) > 0 ? 1 : -1,
  }
}

/** Within half a turn of zero, degrees. */
const turnOf = (deg: number): number => deg - 360 * Math.round(deg / 360)

const upIn = (mount: TrueMount, axis: Axis, edges: Edges, at: Angles): V3 => {
  const along = (edge: V3): number => dotted(mount.carried(axis, edge, at), UP)
  return [along(edges[0]), along(edges[1]), along(edges[2])]
}
/** In the plane across the long edge. */
const slantDeg = (up: V3): number => Math.atan2(up[0], up[2]) / DEG

/** The up vector as the phone shows it, with its bias and its tremor. */
export function fastenedUp(
  mount: TrueMount,
  how: Fastening,
  isAgain: boolean,
  sensor: Sensor,
  at: Angles,
  c: Chance,
): V3 {
  const shown = mixed(upIn(mount, how.axis, how.edges[isAgain ? 1 : 0], at), 1, sensor.bias, 1)
  const trembled = shown.map(x => x + c.normal(sensor.tremblesDeg * DEG))
  return normed(trembled as V3)
}

export interface EdgeTilts {
  /** + when the top end of the long edge is up. */
  topDeg: number
  /** + when the right side of the short edge is up. */
  rightDeg: number
  face: 'up' | 'down'
}
/** An up vector as the tilts of the two edges. */
export const edgeTilts = (up: V3): EdgeTilts => ({
  topDeg: Math.asin(up[1]) / DEG,
  rightDeg: Math.asin(up[0]) / DEG,
  face: up[2] >= 0 ? 'up' : 'down',
})

/** The angle of an inclinometer fastened beside the phone, + in the sense of the axis; null where the axis is too steep. */
export const fastenedAngleDeg = (mount: TrueMount, how: Fastening, at: Angles): number | null =>
  how.sense === null ? null : how.sense * slantDeg(upIn(mount, how.axis, how.edges[0], at))
