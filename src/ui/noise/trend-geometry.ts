/**
 * What a dish hears over the months: one value a record, with its ±, and the step where there is one. Drawing units, y down.
 */
import { fixed, measured, utcDate } from '../kit/format.ts'
import { n1, type PlotMark } from '../kit/marks.ts'
import { roundAbove } from '../kit/roundabove.ts'

export interface Trend {
  width?: number
  points: readonly { id: string; utcMs: number; db: number; sigma: number }[]
  /** Means before and after, and the first record after. */
  step: { utcMs: number; before: number; after: number } | null
}

export interface TrendShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  lines: { y: number; label: string }[]
  feet: { x: number; label: string; anchor: 'start' | 'end' }[]
  bars: { x: number; y1: number; y2: number }[]
  levels: { x1: number; x2: number; y: number }[]
  marks: PlotMark[]
  words: string[]
}

const LEFT = 46
const TOP = 12
const HEIGHT = 220
const FOOT = 30

export function trendShapes(t: Trend): TrendShapes {
  const width = t.width ?? 358
  const frame = { x: LEFT, y: TOP, width: width - LEFT - 10, height: HEIGHT - TOP - FOOT }
  const points = [...t.points].sort((a, b) => a.utcMs - b.utcMs)
  const [first, last] = [points[0], points.at(-1)]
  if (first === undefined || last === undefined)
    return { width, height: HEIGHT, frame, lines: [], feet: [], bars: [], levels: [], marks: [], words: [] }
  const least = Math.min(...points.map(p => p.db - p.sigma))
  const most = Math.max(...points.map(p => p.db + p.sigma))
  const step = roundAbove(Math.max(most - least, 0.4) / 4)
  const [low, high] = [step * Math.floor(least / step), step * Math.ceil(most / step)]
  const span = last.utcMs - first.utcMs
  const x = (ms: number) => n1(frame.x + frame.width * (span > 0 ? 0.05 + (0.9 * (ms - first.utcMs)) / span : 0.5))
  const y = (db: number) => n1(frame.y + (frame.height * (high - db)) / (high - low))
  const decimals = step < 1 ? 1 : 0
  const lines = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, k) => ({
    y: y(low + k * step),
    label: fixed(low + k * step, decimals),
  }))
  const say = (p: Trend['points'][number]) => measured(p.db, p.sigma, 'dB/K').text
  const levels =
    t.step === null
      ? []
      : [
          { x1: frame.x, x2: x(t.step.utcMs) - 8, y: y(t.step.before) },
          { x1: x(t.step.utcMs) - 8, x2: frame.x + frame.width, y: y(t.step.after) },
        ]
  return {
    width,
    height: HEIGHT,
    frame,
    lines,
    feet: [
      { x: frame.x, label: utcDate(first.utcMs), anchor: 'start' },
      { x: frame.x + frame.width, label: utcDate(last.utcMs), anchor: 'end' },
    ],
    bars: points.map(p => ({ x: x(p.utcMs), y1: y(p.db - p.sigma), y2: y(p.db + p.sigma) })),
    levels,
    marks: points.map(p => ({
      id: p.id,
      shape: 'used',
      x: x(p.utcMs),
      y: y(p.db),
      says: `${utcDate(p.utcMs)}: G/T ${say(p)}.`,
    })),
    words: [`G/T from ${utcDate(first.utcMs)} to ${utcDate(last.utcMs)}: first ${say(first)}, last ${say(last)}.`],
  }
}
