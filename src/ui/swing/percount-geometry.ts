/**
 * How far one count turns an axis, over its stroke: a curve with the stops that were measured on it. Degrees per count;
 * drawing units, y down.
 */
import { fixed } from '../kit/format.ts'
import { n1, type PlotMark, pathOf } from '../kit/marks.ts'
import { roundAbove } from '../kit/roundabove.ts'

export interface PerCount {
  width?: number
  /** Ascending. */
  curve: readonly { reading: number; degPerCount: number }[]
  /** What is left is in degrees. */
  stops: readonly { id: string; reading: number; leftDeg: number }[]
}

interface PerCountShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  path: string
  /** Lines across, at round numbers of degrees per count. */
  lines: { y: number; label: string }[]
  /** Readings along the foot. */
  feet: { x: number; label: string; anchor: 'start' | 'middle' | 'end' }[]
  marks: PlotMark[]
  words: string[]
}

const LEFT = 58
const TOP = 12
const HEIGHT = 230
const FOOT = 30

const decimalsOfStep = (step: number): number => Math.max(0, -Math.floor(Math.log10(step) + 1e-9))

export function perCountShapes(p: PerCount): PerCountShapes {
  const width = p.width ?? 358
  const frame = { x: LEFT, y: TOP, width: width - LEFT - 8, height: HEIGHT - TOP - FOOT }
  const first = p.curve[0]
  const last = p.curve.at(-1)
  if (!first || !last || !(last.reading > first.reading))
    return {
      width,
      height: HEIGHT,
      frame,
      path: '',
      lines: [],
      feet: [],
      marks: [],
      words: ['There is no stroke to draw.'],
    }
  const sizes = p.curve.map(c => Math.abs(c.degPerCount))
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)]
  const step = roundAbove(most / 4)
  const top = step * Math.ceil((1.02 * most) / step)
  const x = (reading: number) =>
    n1(frame.x + (frame.width * (reading - first.reading)) / (last.reading - first.reading))
  const y = (deg: number) => n1(frame.y + frame.height * (1 - deg / top))
  const at = (reading: number): number => {
    const k = p.curve.findIndex(c => c.reading >= reading)
    if (k <= 0) return Math.abs((k < 0 ? last : first).degPerCount)
    const [a, b] = [p.curve[k - 1]!, p.curve[k]!]
    const t = (reading - a.reading) / (b.reading - a.reading)
    return Math.abs(a.degPerCount + t * (b.degPerCount - a.degPerCount))
  }
  const decimals = decimalsOfStep(step)
  const lines = Array.from({ length: Math.round(top / step) + 1 }, (_, k) => ({
    y: y(k * step),
    label: `${fixed(k * step, decimals)}°`,
  }))
  const middle = (first.reading + last.reading) / 2
  const inside = p.stops.filter(s => s.reading >= first.reading && s.reading <= last.reading)
  const marks = inside.map(
    (s): PlotMark => ({
      id: s.id,
      shape: 'used',
      x: x(s.reading),
      y: y(at(s.reading)),
      says: `At ${fixed(s.reading, 0)} counts one count is ${fixed(at(s.reading), decimals + 1)}°; the angle measured there is ${fixed(Math.abs(s.leftDeg), 2)}° off the curve.`,
    }),
  )
  const where = (size: number) => p.curve[sizes.indexOf(size)]!.reading
  const words =
    most / least < 1.02
      ? [`One count turns the axis by ${fixed(most, decimals + 1)}° all along the stroke.`]
      : [
          `One count turns the axis by ${fixed(least, decimals + 1)}° at ${fixed(where(least), 0)} counts and by ${fixed(most, decimals + 1)}° at ${fixed(where(most), 0)} counts: ${fixed(most / least, 1)} times as far.`,
          'So a single figure for the whole stroke would not do.',
        ]
  return {
    width,
    height: HEIGHT,
    frame,
    path: pathOf(p.curve.map(c => [x(c.reading), y(Math.abs(c.degPerCount))])),
    lines,
    feet: [
      { x: frame.x, label: fixed(first.reading, 0), anchor: 'start' },
      { x: x(middle), label: `${fixed(middle, 0)} counts`, anchor: 'middle' },
      { x: frame.x + frame.width, label: fixed(last.reading, 0), anchor: 'end' },
    ],
    marks,
    words,
  }
}
