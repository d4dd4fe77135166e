/**
 * A row of Sun noise against a setting: readings as discs with their ±, the parabola through them as far as the row goes, and
 * the best with its ± on the foot. Drawing units, y down.
 */
import type { RowAnswer, RowReading } from '../../core/noise/feedrow.ts'
import { fixed } from '../kit/format.ts'
import { n1, type PlotMark, pathOf } from '../kit/marks.ts'
import { roundAbove } from '../kit/roundabove.ts'

export interface RowShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  lines: { y: number; label: string }[]
  feet: { x: number; label: string }[]
  curve: string
  bars: { x: number; y1: number; y2: number }[]
  best: { x: number; x1: number; x2: number } | null
  marks: PlotMark[]
}

const LEFT = 46
const TOP = 12
const HEIGHT = 240
const FOOT = 34

/** @param unit "mm" or "°"  @param width of the drawing */
export function rowShapes(readings: readonly RowReading[], answer: RowAnswer, unit: string, width = 358): RowShapes {
  const frame = { x: LEFT, y: TOP, width: width - LEFT - 12, height: HEIGHT - TOP - FOOT }
  const sigma = answer.scatterDb ?? 0
  const settings = [...new Set(readings.map(r => r.at))].sort((a, b) => a - b)
  const [from, to] = [settings[0] ?? 0, settings.at(-1) ?? 1]
  const half = to > from ? (to - from) / 2 : 1
  const middle = (from + to) / 2
  const x = (at: number): number => n1(frame.x + frame.width * (0.5 + (0.46 * (at - middle)) / half))
  const { curve, verdict } = answer
  const along = Array.from({ length: 41 }, (_, k) => from + ((to - from) * k) / 40)
  const modelled = curve === null ? [] : along.map(at => curve.a + curve.b * at + curve.c * at * at)
  const all = [...readings.flatMap(r => [r.yDb - sigma, r.yDb + sigma]), ...modelled]
  const least = Math.min(...all)
  const most = Math.max(...all)
  const step = roundAbove(Math.max(most - least, 0.2) / 4)
  const [low, high] = [step * Math.floor(least / step), step * Math.ceil(most / step)]
  const y = (db: number): number => n1(frame.y + (frame.height * (high - db)) / (high - low || 1))
  const decimals = step < 0.1 ? 2 : step < 1 ? 1 : 0
  return {
    width,
    height: HEIGHT,
    frame,
    lines: Array.from({ length: Math.round((high - low) / step) + 1 }, (_, k) => ({
      y: y(low + k * step),
      label: fixed(low + k * step, decimals),
    })),
    feet: settings
      .filter((_, k) => k === 0 || k === settings.length - 1 || (settings.length <= 5 && k > 0))
      .map(at => ({ x: x(at), label: fixed(at, Number.isInteger(at) ? 0 : 1) })),
    curve: modelled.length === 0 ? '' : pathOf(along.map((at, k): [number, number] => [x(at), y(modelled[k]!)])),
    bars: sigma > 0 ? readings.map(r => ({ x: x(r.at), y1: y(r.yDb - sigma), y2: y(r.yDb + sigma) })) : [],
    best: verdict.kind === 'best' ? { x: x(verdict.at), x1: x(verdict.low68), x2: x(verdict.high68) } : null,
    marks: readings.map((r, k) => ({
      id: `${k}`,
      shape: 'used',
      x: x(r.at),
      y: y(r.yDb),
      says: `At ${fixed(r.at, Number.isInteger(r.at) ? 0 : 1)}${unit === '°' ? unit : ` ${unit}`}: ${fixed(r.yDb, 2)} dB.`,
    })),
  }
}
