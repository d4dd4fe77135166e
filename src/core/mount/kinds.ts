/**
 * The four mounts on paper, as one table. Enu. Every two-axis mount is D(T, S) = Rot(a1, s1 T) · Rot(a2, s2 S), and its
 * boresight, UP mark and right hand are D b0, D u0, D r0 with r0 = b0 × u0. T, S are the true axis angles.
 */
import { meridianEquator, northPole } from '../frames.ts'
import type { Readout } from '../readout/readout.ts'
import type { Mm, Rad } from '../units.ts'
import { cross, unit, type Vec3 } from '../vectors.ts'
import type { MountKind } from './names.ts'

interface AxisOfMount {
  readout: Readout
  minReading: number
  maxReading: number
}

export interface Mount {
  kind: MountKind
  heading: Rad
  latitude: Rad
  /**
   * 1 (default): the upper reading's sense is the table's. -1: it counts the other way; x-y mounts are built and described both
   * ways, and the sightings tell which (fit/solution.ts).
   */
  upperSense?: 1 | -1
  /** Nominal offset of the dish above the swing plane; az-over-el only. */
  offset: Rad
  lower: AxisOfMount
  upper: AxisOfMount
  focalLength: Mm
  /** Beam deviation factor. */
  bdf: number
}

/** The paper mount's vectors. `d1`, `d2` are where a leaning a1 goes (el-over-az: N, E; ha-dec: E, Q). */
export interface PaperVectors {
  a1: Vec3
  s1: 1 | -1
  a2: Vec3
  s2: 1 | -1
  b0: Vec3
  u0: Vec3
  r0: Vec3
  /** Axis of collimation: unit b0 × a2. */
  c0: Vec3
  d1: Vec3
  d2: Vec3
  /** True where the lower axis is given by heading and level instead of two leans. */
  headed: boolean
}

const E: Vec3 = [1, 0, 0]
const N: Vec3 = [0, 1, 0]
const U: Vec3 = [0, 0, 1]

/** The table of design: a1, s1, a2, s2, b0, u0 by kind. */
export function paperOf(mount: Pick<Mount, 'kind' | 'heading' | 'latitude' | 'offset' | 'upperSense'>): PaperVectors {
  const h = mount.heading
  const f: Vec3 = [Math.sin(h), Math.cos(h), 0]
  const r: Vec3 = [Math.cos(h), -Math.sin(h), 0]
  const p = mount.latitude
  const [P, Q]: [Vec3, Vec3] = [northPole(p), meridianEquator(p)]
  const g = p >= 0 ? 1 : -1
  const o = mount.offset
  const co = Math.cos(o)
  const so = Math.sin(o)
  const bare = {
    'el-over-az': { a1: U, s1: -1 as const, a2: E, s2: 1 as const, b0: N, u0: U, d1: N, d2: E, headed: false },
    'ha-dec': {
      a1: P,
      s1: -1 as const,
      a2: [-1, 0, 0] as Vec3,
      s2: 1 as const,
      b0: Q,
      u0: [g * P[0], g * P[1], g * P[2]] as Vec3,
      d1: E,
      d2: Q,
      headed: false,
    },
    'az-over-el': {
      a1: r,
      s1: 1 as const,
      a2: U,
      s2: -1 as const,
      b0: [f[0] * co, f[1] * co, so] as Vec3,
      u0: [-f[0] * so, -f[1] * so, co] as Vec3,
      d1: U,
      d2: U,
      headed: true,
    },
    'x-y': {
      a1: f,
      s1: 1 as const,
      a2: r,
      s2: -1 as const,
      b0: U,
      u0: [-f[0], -f[1], 0] as Vec3,
      d1: U,
      d2: U,
      headed: true,
    },
  }[mount.kind]
  return {
    ...bare,
    s2: (bare.s2 * (mount.upperSense ?? 1)) as 1 | -1,
    r0: cross(bare.b0, bare.u0),
    c0: unit(cross(bare.b0, bare.a2)),
  }
}
