/**
 * The dish's face with the feed's shadow on it, as the person sees it: from behind (right is right) or from in front
 * (mirrored). UP mark at the top: the picture turns with the dish, not with the plumb line. The rim gives the frame; the
 * middle is drawn larger when offsets would be too small to see, and says so. Millimetres, dish frame; drawing units.
 */
import { MM_PER_INCH } from '../../core/units.ts'
import { fixed, type LengthUnit, measuredLength } from './format.ts'
import { n1 } from './marks.ts'
import { roundAbove } from './roundabove.ts'

export interface Spot {
  rightMm: number
  upMm: number
}

export interface DishFace {
  size?: number
  view: 'behind' | 'front'
  diameterMm: number
  /** What throws the shadow; without it a small disc. */
  feedDiameterMm?: number
  /** Where the shadow's middle was measured; null: not yet. */
  shadow: Spot | null
  /** Where it should be: the vertex unless given. */
  wanted?: Spot
  /** The shadow's edge where it should be, and how far the Sun's half degree blurs it to either side; without it a disc. */
  edge?: { outline: readonly Spot[]; blurMm: number }
  /** By how much the UP mark stands clockwise of a plumb line as seen from behind: the plumb line is drawn. */
  rollDeg?: number | null
  /** Left and right at the rim are the viewer's own, as in the questions asked; else the dish's. */
  asSeen?: boolean
  /** What must fit, so that the picture keeps its scale while a person taps in it. */
  reachMm?: number
  /** For the scale and the words. */
  unit?: LengthUnit
}

interface DishFaceShapes {
  size: number
  centre: number
  rimR: number
  /** Times that the middle is drawn larger than the rim. */
  magnified: number
  disc: { x: number; y: number; r: number } | null
  wanted: { x: number; y: number; r: number }
  /** The edge as a path, and the width of its blur. */
  edge: { path: string; blur: number } | null
  /** From the middle toward straight up. */
  plumb: { x1: number; y1: number; x2: number; y2: number; textX: number; textY: number } | null
  link: { x1: number; y1: number; x2: number; y2: number } | null
  scaleBar: { x1: number; x2: number; y: number; text: string }
  leftWord: string
  rightWord: string
  caption: string
  words: string[]
}

const MARGIN = 30

const away = (mm: number, negative: string, positive: string, unit: LengthUnit): string => {
  const text = measuredLength(Math.abs(mm), null, unit).text
  return /[1-9]/.test(text) ? `${text} ${mm < 0 ? negative : positive} the vertex` : ''
}

/** "22 mm left of the vertex, 11 mm above the vertex", or "on the vertex". */
export function spotWords(spot: Spot, unit: LengthUnit): string {
  const parts = [away(spot.rightMm, 'left of', 'right of', unit), away(spot.upMm, 'below', 'above', unit)].filter(
    Boolean,
  )
  return parts.length === 2 ? `${parts[0]!.replace(' the vertex', '')} and ${parts[1]}` : (parts[0] ?? 'on the vertex')
}

/** The drawing's scale: whole steps, so that the number is plain. @param neededMm  from the middle */
function frameOf(face: DishFace, neededMm: number) {
  const rimMm = face.diameterMm / 2
  const rimR = (face.size ?? 358) / 2 - MARGIN
  // The disc and its offset take at most 0.55 of the radius; a reach that is asked for takes all of it.
  const fits = face.reachMm === undefined ? (0.55 * rimMm) / neededMm : rimMm / face.reachMm
  const magnified = Math.max(1, Math.floor(fits))
  return { magnified, scale: (magnified * rimR) / rimMm, mirror: face.view === 'front' ? -1 : 1 }
}

/** The place of the dish that a point of the drawing shows, to half the drawing's unit; null outside the rim. */
export function spotAt(face: DishFace & { reachMm: number }, x: number, y: number): Spot | null {
  const centre = (face.size ?? 358) / 2
  const { scale, mirror } = frameOf(face, face.reachMm)
  if (Math.hypot(x - centre, y - centre) > centre - MARGIN) return null
  const step = [1, 2, 5, 10, 20, 50].find(mm => mm * scale >= 0.5) ?? 100
  const whole = (mm: number) => Math.round(mm / step) * step || 0
  return { rightMm: whole((mirror * (x - centre)) / scale), upMm: whole((centre - y) / scale) }
}

export function dishFace(face: DishFace): DishFaceShapes {
  const size = face.size ?? 358
  const centre = size / 2
  const rimR = centre - MARGIN
  const unit = face.unit ?? 'mm'
  const wanted = face.wanted ?? { rightMm: 0, upMm: 0 }
  const discMm = (face.feedDiameterMm ?? 0.06 * face.diameterMm) / 2
  const farthest = Math.max(
    Math.hypot(wanted.rightMm, wanted.upMm),
    face.shadow ? Math.hypot(face.shadow.rightMm, face.shadow.upMm) : 0,
  )
  const { magnified, scale, mirror } = frameOf(face, farthest + discMm)
  // What lies beyond the rim is drawn at the rim; the words carry the number.
  const at = (spot: Spot) => {
    const k = Math.min(1, rimR / (scale * Math.hypot(spot.rightMm, spot.upMm) || 1))
    return {
      x: n1(centre + mirror * scale * k * spot.rightMm),
      y: n1(centre - scale * k * spot.upMm),
      r: n1(scale * discMm),
    }
  }
  const disc = face.shadow ? at(face.shadow) : null
  const target = at(wanted)
  const perUnit = unit === 'mm' ? 1 : MM_PER_INCH
  const barUnits = roundAbove((0.3 * rimR) / scale / perUnit)
  const barLength = scale * barUnits * perUnit
  const caption =
    face.view === 'behind'
      ? 'Seen from behind the dish'
      : face.asSeen
        ? 'Seen from in front of the dish'
        : 'Seen from in front: left and right are swapped'
  const words = [`${caption}, the UP mark on top.`]
  const lean = face.rollDeg ?? 0
  const turn = (-mirror * lean * Math.PI) / 180
  const toward = (r: number) => ({ x: n1(centre + r * Math.sin(turn)), y: n1(centre - r * Math.cos(turn)) })
  const [from, to, text] = [toward(0.8 * rimR), toward(rimR + 12), toward(0.69 * rimR)]
  words.push(
    face.shadow
      ? `The shadow is ${spotWords(face.shadow, unit)}, as the dish itself counts.`
      : 'No shadow entered yet.',
  )
  words.push(`It should be ${spotWords(wanted, unit)}.`)
  if (magnified > 1) words.push(`The middle is drawn ${magnified} times larger than the rim.`)
  return {
    size,
    centre,
    rimR,
    magnified,
    disc,
    wanted: target,
    edge:
      face.edge === undefined
        ? null
        : {
            path: `M${face.edge.outline.map(p => `${n1(centre + mirror * scale * p.rightMm)} ${n1(centre - scale * p.upMm)}`).join('L')}Z`,
            blur: n1(2 * scale * face.edge.blurMm),
          },
    plumb: Math.abs(lean) < 1 ? null : { x1: from.x, y1: from.y, x2: to.x, y2: to.y, textX: text.x, textY: text.y },
    link:
      disc && Math.hypot(disc.x - target.x, disc.y - target.y) > 1
        ? { x1: target.x, y1: target.y, x2: disc.x, y2: disc.y }
        : null,
    scaleBar: {
      x1: n1(centre - barLength / 2),
      x2: n1(centre + barLength / 2),
      // With a line below it where the middle is drawn larger: that must end inside the rim.
      y: n1(centre + (magnified > 1 ? 0.56 : 0.64) * rimR),
      text: `${fixed(barUnits, barUnits < 1 ? 1 : 0)} ${unit}`,
    },
    leftWord: mirror > 0 || face.asSeen ? 'left' : 'right',
    rightWord: mirror > 0 || face.asSeen ? 'right' : 'left',
    caption,
    words,
  }
}
