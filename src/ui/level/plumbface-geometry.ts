/**
 * A plumb bob over the phone, seen from above: it hangs to the low side. Two axes, those two of the phone's three that lie
 * nearer to level; the words at the rim say which side of the phone is which. The scale is a square root, so that a tenth of
 * a degree is seen and ten degrees still fit; beyond, the bob stands at the rim as an arrowhead. Drawing units.
 */
import type { Vec3 } from '../../core/vectors.ts'
import { fixed } from '../kit/format.ts'
import { n1 } from '../kit/marks.ts'

interface PlumbFaceShapes {
  size: number
  centre: number
  rimR: number
  rings: { r: number; text: string }[]
  bob: { x: number; y: number; over: boolean; turnDeg: number }
  /** The side of the phone at each side of the drawing. */
  sides: { left: string; right: string; above: string; below: string }
  /** How the phone lies. */
  lies: string
  words: string[]
}

const MARGIN = 34
const FULL_DEG = 10
const RINGS_DEG = [0.5, 2, 5, 10]

/** How it lies: the axis nearest to the plumb line, and what is then to the right and above in the drawing. */
interface Lying {
  words: string
  right: { axis: 0 | 1 | 2; sign: 1 | -1; word: string; other: string }
  above: { axis: 0 | 1 | 2; sign: 1 | -1; word: string; other: string }
}
const SIDES = { x: ['left edge', 'right edge'], y: ['bottom', 'top'], z: ['back', 'screen'] } as const

const side = (axis: 0 | 1 | 2, sign: 1 | -1) => {
  const [minus, plus] = SIDES[(['x', 'y', 'z'] as const)[axis]]
  return { axis, sign, word: sign > 0 ? plus : minus, other: sign > 0 ? minus : plus }
}

/** As a person sees it who looks down on it with the screen toward them, or with the top to the right when it stands on a side. */
function lyingOf(up: Vec3<'Phone'>): Lying {
  const [x, y, z] = up
  const most = Math.max(Math.abs(x), Math.abs(y), Math.abs(z))
  if (Math.abs(z) === most)
    return z > 0
      ? { words: 'on its back', right: side(0, 1), above: side(1, 1) }
      : { words: 'on its face', right: side(0, -1), above: side(1, 1) }
  if (Math.abs(y) === most)
    return y > 0
      ? { words: 'upright', right: side(0, 1), above: side(2, -1) }
      : { words: 'upside down', right: side(0, -1), above: side(2, -1) }
  return x > 0
    ? { words: 'on its left edge', right: side(1, -1), above: side(2, -1) }
    : { words: 'on its right edge', right: side(1, 1), above: side(2, -1) }
}

const degOf = (rise: number): number => (180 / Math.PI) * Math.asin(Math.max(-1, Math.min(1, rise)))
const radius = (deg: number, rimR: number): number => rimR * Math.sqrt(Math.min(deg, FULL_DEG) / FULL_DEG)

const lowWords = (deg: number, of: { word: string; other: string }): string =>
  `${deg < 0 ? of.word : of.other} low by ${fixed(Math.abs(deg), 1)}°`

export function plumbFace(up: Vec3<'Phone'>, size = 300): PlumbFaceShapes {
  const centre = size / 2
  const rimR = centre - MARGIN
  const lying = lyingOf(up)
  // Rise of what is right and above in the drawing; the bob hangs the other way.
  const right = degOf(lying.right.sign * up[lying.right.axis])
  const above = degOf(lying.above.sign * up[lying.above.axis])
  const tilt = Math.hypot(right, above)
  const r = radius(tilt, rimR)
  const [dx, dy] = tilt === 0 ? [0, 0] : [-right / tilt, above / tilt]
  const told = [
    { deg: right, of: lying.right },
    { deg: above, of: lying.above },
  ].filter(t => Math.abs(t.deg) >= 0.05)
  return {
    size,
    centre,
    rimR,
    rings: RINGS_DEG.map(deg => ({ r: n1(radius(deg, rimR)), text: `${deg}°` })),
    bob: {
      x: n1(centre + r * dx),
      y: n1(centre + r * dy),
      over: tilt > FULL_DEG,
      turnDeg: n1((180 / Math.PI) * Math.atan2(dx, -dy)),
    },
    sides: { left: lying.right.other, right: lying.right.word, above: lying.above.word, below: lying.above.other },
    lies: lying.words,
    words: [
      `The phone lies ${lying.words}.`,
      told.length === 0 ? 'Level both ways.' : `${told.map(t => lowWords(t.deg, t.of)).join(', ')}.`,
    ],
  }
}
