/**
 * The dish's face as the person sees it, UP mark on top: the hours at which to tape, the feed, the crossed strings.
 * An hour is where the person sees it from either side; only what is left and right of the dish changes. Drawing units.
 */
import type { SeenFrom } from '../../core/tape/rim.ts'
import type { LengthUnit } from '../kit/format.ts'
import { measuredLength } from '../kit/format.ts'
import { n1 } from '../kit/marks.ts'

export interface RimFace {
  seenFrom: SeenFrom | ''
  hours: readonly number[]
  /** Millimetres taped at each of these hours; null: not yet. */
  taped: readonly (number | null)[]
  unit: LengthUnit
  diameterMm: number
  /** Where the feed sits, dish frame; null: not known. */
  feed: { rightMm: number; upMm: number } | null
  strings?: 'upright' | 'diagonal'
}

interface RimFaceShapes {
  size: number
  centre: number
  rimR: number
  spokes: { hour: number; x: number; y: number; textX: number; textY: number; label: string; taped: boolean }[]
  feed: { x: number; y: number } | null
  /** Times that the feed's offset is drawn larger than the dish. */
  magnified: number
  strings: { x1: number; y1: number; x2: number; y2: number; first: boolean }[]
  caption: string
  words: string[]
}

const SIZE = 358
const MARGIN = 54

const CAPTION = {
  behind: 'As you stand behind the dish',
  front: 'As you stand in front of the dish',
  '': 'First say where you stand',
} as const

export function rimFace(face: RimFace): RimFaceShapes {
  const centre = SIZE / 2
  const rimR = centre - MARGIN
  const at = (hour: number, r: number) => {
    const turn = (hour / 12) * 2 * Math.PI
    return { x: n1(centre + r * Math.sin(turn)), y: n1(centre - r * Math.cos(turn)) }
  }
  const spokes = face.hours.map((hour, i) => {
    const rim = at(hour, rimR)
    const text = at(hour, rimR + 18)
    const mm = face.taped[i] ?? null
    return { hour, ...rim, textX: text.x, textY: text.y, label: String(hour), taped: mm !== null }
  })
  const mirror = face.seenFrom === 'front' ? -1 : 1
  const rimMm = face.diameterMm / 2
  const off = face.feed === null ? 0 : Math.hypot(face.feed.rightMm, face.feed.upMm)
  const magnified = off > 0 ? Math.max(1, Math.min(50, Math.floor((0.35 * rimMm) / off))) : 1
  const scale = (magnified * rimR) / rimMm
  // What lies far out is drawn within the rim; the words carry the number.
  const k = off > 0 ? Math.min(1, (0.9 * rimR) / (scale * off)) : 1
  const feed =
    face.feed === null
      ? null
      : {
          x: n1(centre + mirror * scale * k * face.feed.rightMm),
          y: n1(centre - scale * k * face.feed.upMm),
        }
  const lines = face.strings === undefined ? [] : face.strings === 'upright' ? [12, 3] : [1.5, 4.5]
  const strings = lines.map((hour, i) => {
    const [a, b] = [at(hour, rimR), at(hour + 6, rimR)]
    return { x1: a.x, y1: a.y, x2: b.x, y2: b.y, first: i === 0 }
  })
  const done = face.hours.flatMap((hour, i) => {
    const mm = face.taped[i] ?? null
    return mm === null ? [] : [`${hour} o’clock ${measuredLength(mm, null, face.unit).text}`]
  })
  const words = [`${CAPTION[face.seenFrom]}, the UP mark on top at 12 o’clock.`]
  if (face.hours.length > 0)
    words.push(
      done.length === 0
        ? `Tape from the rim to the feed at ${face.hours.join(', ')} o’clock.`
        : `Taped so far: ${done.join(', ')}.`,
    )
  if (magnified > 1) words.push(`The feed’s offset is drawn ${magnified} times larger than the dish.`)
  return { size: SIZE, centre, rimR, spokes, feed, magnified, strings, caption: CAPTION[face.seenFrom], words }
}
