/**
 * A dish cut through the middle, mouth up, with what is taped on it: the straight line across the rim, the depth below it,
 * the focus. Millimetres in; drawing units, y down.
 */
import type { Bowl } from '../../core/dish/paraboloid.ts'
import { focalRatioOf, rimToFocus } from '../../core/dish/paraboloid.ts'
import { fixed, type LengthUnit, measuredLength } from '../kit/format.ts'
import { n1, pathOf } from '../kit/marks.ts'

interface BowlShapes {
  width: number
  height: number
  curve: string
  /** Across the rim. */
  line: { x1: number; x2: number; y: number }
  depth: { x: number; y1: number; y2: number }
  focus: { x: number; y: number }
  rim: { x: number; y: number }
  labels: { diameter: string; depth: string; focus: string; rim: string }
  words: string[]
}

const WIDTH = 358
const LEFT = 22
const TOP = 26

export function bowlShapes(bowl: Bowl, unit: LengthUnit): BowlShapes {
  const { radius, depth, focalLength } = bowl
  const scale = (WIDTH - 2 * LEFT) / (2 * radius)
  const above = Math.max(0, focalLength - depth) * scale
  const middle = WIDTH / 2
  const rimY = TOP + above + 14
  const y = (z: number) => n1(rimY + (depth - z) * scale)
  const points = Array.from({ length: 41 }, (_, k) => {
    const x = -1 + k / 20
    return [middle + x * radius * scale, y(depth * x * x)] as const
  })
  const say = (mm: number) => measuredLength(mm, null, unit).text
  const labels = {
    diameter: `diameter ${say(2 * radius)}`,
    depth: `depth ${say(depth)}`,
    focus: `focus, ${say(focalLength)} from the middle`,
    rim: `rim to focus ${say(rimToFocus(bowl))}`,
  }
  return {
    width: WIDTH,
    height: n1(Math.max(y(0), y(focalLength)) + 34),
    curve: pathOf(points),
    line: { x1: LEFT, x2: WIDTH - LEFT, y: n1(rimY) },
    depth: { x: middle, y1: n1(rimY), y2: y(0) },
    focus: { x: middle, y: y(focalLength) },
    rim: { x: WIDTH - LEFT, y: n1(rimY) },
    labels,
    words: [
      'The dish cut through its middle, mouth up.',
      `A straight-edge or string across the rim is the ${labels.diameter}; from it down to the middle is the ${labels.depth}.`,
      `The focus is ${say(focalLength)} from the middle, ${say(rimToFocus(bowl))} from the rim: f/D ${fixed(focalRatioOf(bowl), 3)}.`,
    ],
  }
}
