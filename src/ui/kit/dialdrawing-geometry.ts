/**
 * What the two axes of a mount turn, as a line drawing of the paper mount itself: the chain of core/mount at the given
 * axis angles, seen from behind and to one side. Lower axis a solid line, upper axis a dashed one, an arrow round each in
 * the sense that it counts up. Unit of length: about the dish's height above ground; drawing units, y down.
 */
import { paperOf } from '../../core/mount/kinds.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { apply, compose, rotation } from '../../core/rotations.ts'
import { type Deg, radFromDeg } from '../../core/units.ts'
import { add, cross, dot, enuFromAzEl, norm, scale, unit, type Vec3 } from '../../core/vectors.ts'
import { n1, pathOf } from './marks.ts'

export interface DialDrawing {
  width?: number
  kind: MountKind
  latDeg: Deg
  headingDeg?: Deg
  offsetDeg?: Deg
  /** True axis angles; without them a pose that shows both axes. */
  lowerDeg?: Deg
  upperDeg?: Deg
}

export interface DialShapes {
  width: number
  height: number
  ground: string
  north: { x1: number; y1: number; x2: number; y2: number; x: number; y: number }
  mast: string
  rim: string
  /** Lines from the vertex to the rim, so that the bowl shows. */
  ribs: string
  upMark: string
  beam: string
  beamHead: string
  lower: { line: string; arc: string; head: string; word: string; x: number; y: number }
  upper: { line: string; arc: string; head: string; word: string; x: number; y: number }
  words: string[]
}

interface AxisWords {
  lower: string
  upper: string
  lowerCounts: string
  upperCounts: string
}

export const AXIS_WORDS: Readonly<Record<MountKind, AxisWords>> = {
  'el-over-az': {
    lower: 'azimuth',
    upper: 'elevation',
    lowerCounts: 'from north through east',
    upperCounts: 'up from the horizon',
  },
  'ha-dec': {
    lower: 'hour angle',
    upper: 'declination',
    lowerCounts: 'toward the west',
    upperCounts: 'toward the north',
  },
  'az-over-el': { lower: 'tilt', upper: 'swing', lowerCounts: 'up from the horizon', upperCounts: 'to the right' },
  'x-y': { lower: 'X', upper: 'Y', lowerCounts: 'as the dish tips to the right', upperCounts: 'as it tips forward' },
}

const U: Vec3 = [0, 0, 1]
const GROUND = -1.05
/** The dish: where its vertex stands before the axes' crossing, how deep it is, its radius. */
const VERTEX = 0.2
const DEPTH = 0.17
const RIM = 0.56
const points = (from: number, to: number, n: number): number[] =>
  Array.from({ length: n + 1 }, (_, i) => from + ((to - from) * i) / n)

/** Two unit vectors that make a right-handed set with n: circle points are centre + r (cos t e1 + sin t e2). */
function acrossOf(n: Vec3): [Vec3, Vec3] {
  const e1 = unit(cross(n, Math.abs(n[2]) < 0.9 ? U : [1, 0, 0]))
  return [e1, cross(n, e1)]
}

export function dialDrawing(d: DialDrawing): DialShapes {
  const width = d.width ?? 358
  const height = Math.round(0.84 * width)
  const k = 0.29 * width
  const facing = d.headingDeg ?? (d.latDeg >= 0 ? 180 : 0)
  const pose = { 'el-over-az': [facing, 35], 'ha-dec': [-20, 10], 'az-over-el': [35, -20], 'x-y': [25, 30] }[d.kind]
  const T = radFromDeg(d.lowerDeg ?? pose[0]!)
  const S = radFromDeg(d.upperDeg ?? pose[1]!)
  const paper = paperOf({
    kind: d.kind,
    heading: radFromDeg(facing),
    latitude: radFromDeg(d.latDeg),
    offset: radFromDeg(d.offsetDeg ?? 0),
  })
  const first = rotation(paper.a1, paper.s1 * T)
  const D = compose(first, rotation(paper.a2, paper.s2 * S))
  const b = apply(D, paper.b0)
  const up = apply(D, paper.u0)
  const right = apply(D, paper.r0)

  // The eye: behind the mount and to its right, a little above.
  const look = scale(enuFromAzEl(radFromDeg(facing + 180 - 38), radFromDeg(17)), -1)
  const across = unit(cross(look, U))
  const upright = cross(across, look)
  const cx = width / 2
  const cy = 0.5 * height
  const at = (v: Vec3): [number, number] => [cx + k * dot(v, across), cy - k * dot(v, upright)]
  const line = (...vs: Vec3[]) => pathOf(vs.map(at))

  const headOf = (tip: Vec3, from: Vec3): string => {
    const [x, y] = at(tip)
    const [fx, fy] = at(from)
    const l = Math.hypot(x - fx, y - fy) || 1
    const ux = (x - fx) / l
    const uy = (y - fy) / l
    return pathOf(
      [
        [x + 9 * ux, y + 9 * uy],
        [x - 5 * uy, y + 5 * ux],
        [x + 5 * uy, y - 5 * ux],
      ],
      true,
    )
  }
  const axis = (a: Vec3, sense: number, half: number, word: string) => {
    // The end nearer to the top of the picture carries arrow and word.
    const end = dot(a, upright) >= -1e-9 ? a : scale(a, -1)
    const turn = end === a ? sense : -sense
    const [e1, e2] = acrossOf(end)
    const arc = points(-2.2, 2.2, 24).map(t => {
      const s = t * turn
      return add(scale(end, half - 0.12), add(scale(e1, 0.17 * Math.cos(s)), scale(e2, 0.17 * Math.sin(s))))
    })
    const tip = at(scale(end, half))
    const [ox, oy] = at([0, 0, 0])
    const l = Math.hypot(tip[0] - ox, tip[1] - oy) || 1
    const dx = (tip[0] - ox) / l
    const dy = (tip[1] - oy) / l
    // Outward until the word's box is clear of the turning arrow (about 18 units round the tip).
    const wordHalf = 5 * word.length + 4
    const clear = Math.min((wordHalf + 18) / Math.max(Math.abs(dx), 1e-6), 28 / Math.max(Math.abs(dy), 1e-6))
    return {
      line: line(scale(end, -half), scale(end, half)),
      arc: line(...arc),
      head: headOf(arc.at(-1)!, arc.at(-2)!),
      word,
      x: n1(Math.max(wordHalf, Math.min(width - wordHalf, tip[0] + clear * dx))),
      y: n1(Math.max(12, tip[1] + clear * dy)),
    }
  }
  const hub = scale(b, VERTEX)
  // The bowl z = depth ρ² along b, ρ = 1 at the rim; t from the UP mark.
  const bowl = (t: number, rho: number) =>
    add(
      scale(b, VERTEX + DEPTH * rho * rho),
      add(scale(right, RIM * rho * Math.sin(t)), scale(up, RIM * rho * Math.cos(t))),
    )
  const rimPoint = (t: number) => bowl(t, 1)
  const ribs = points(0, 2 * Math.PI, 12)
    .slice(1)
    .map(t => line(...points(0, 1, 5).map(rho => bowl(t, rho))))
    .join('')
  const foot: Vec3 = [0, 0, GROUND]
  const groundPoint = (t: number): Vec3 => [0.85 * Math.sin(t), 0.85 * Math.cos(t), GROUND]
  const n = [at(foot), at([0, 0.85, GROUND]), at([0, 1.02, GROUND])] as const
  const words = AXIS_WORDS[d.kind]
  const a2 = apply(first, paper.a2)
  const beamTip = scale(b, 1.15)
  return {
    width,
    height,
    ground: pathOf(
      points(0, 2 * Math.PI, 48).map(t => at(groundPoint(t))),
      true,
    ),
    north: { x1: n1(n[0][0]), y1: n1(n[0][1]), x2: n1(n[1][0]), y2: n1(n[1][1]), x: n1(n[2][0]), y: n1(n[2][1]) },
    mast: line(foot, [0, 0, 0]),
    rim:
      pathOf(
        points(0, 2 * Math.PI, 48).map(t => at(rimPoint(t))),
        true,
      ) + line([0, 0, 0], hub),
    upMark: line(add(rimPoint(0), scale(up, -0.08)), add(rimPoint(0), scale(up, 0.1))),
    ribs,
    beam: line(hub, beamTip),
    beamHead: norm(cross(b, look)) < 0.05 ? '' : headOf(beamTip, hub),
    lower: axis(paper.a1, paper.s1, d.kind === 'el-over-az' ? 1 : 0.85, words.lower),
    upper: axis(a2, paper.s2, 0.7, words.upper),
    words: [
      `The lower axis, a solid line, is fixed to the ground and reads ${words.lower}, counting ${words.lowerCounts}.`,
      `The upper axis, a dashed line, is carried by it and reads ${words.upper}, counting ${words.upperCounts}.`,
      'Seen from behind the dish and from its right.',
    ],
  }
}
