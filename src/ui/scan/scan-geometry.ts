/**
 * The levels of a scan against time or place, with the fitted curve, gaps, and the peak with its ±. Drawing units, y down.
 */
import { countOf, degrees, fixed, MINUS, NBSP, utcTime } from '../kit/format.ts'
import { type MarkShape, n1, type PlotMark, pathOf } from '../kit/marks.ts'
import { roundAbove } from '../kit/roundabove.ts'

export interface DrawnLevel {
  id: string
  /** Seconds from the start, or degrees along the arm. */
  x: number
  level: number
  state: 'kept' | 'aside' | 'out'
}

export interface ScanDrawing {
  width?: number
  /** x is time, counted from an instant (Unix ms); or a place, counted from the peak. */
  along: { kind: 'time'; startMs: number } | { kind: 'place' }
  scale: 'dB' | 'linear'
  levels: readonly DrawnLevel[]
  /** In the scale of the levels. */
  curve: readonly { x: number; level: number }[]
  gaps: readonly { from: number; to: number }[]
  peak: { x: number; sigma: number } | null
  /** Where the peak was expected. */
  expected: number | null
}

interface ScanShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  lines: { y: number; label: string }[]
  feet: { x: number; label: string; anchor: 'start' | 'middle' | 'end' }[]
  curve: string
  gaps: { x: number; width: number }[]
  peak: { x: number; label: number; from: number; to: number } | null
  expected: { x: number; label: number } | null
  marks: PlotMark[]
  words: string[]
}

const LEFT = 50
const TOP = 26
const HEIGHT = 236
const FOOT = 28
/** More marks than this cannot be told apart on a phone. */
const MOST_MARKS = 150

const SHAPE: Readonly<Record<DrawnLevel['state'], MarkShape>> = { kept: 'used', aside: 'outlier', out: 'excluded' }
const STATE: Readonly<Record<DrawnLevel['state'], string>> = { kept: '', aside: ', not counted', out: ', left out' }

/** Every level that does not count, and as many of the others as can be told apart. */
function thinned(levels: readonly DrawnLevel[]): readonly DrawnLevel[] {
  const every = Math.ceil(levels.length / MOST_MARKS)
  return every <= 1 ? levels : levels.filter((l, i) => l.state !== 'kept' || i % every === 0)
}

export function scanShapes(d: ScanDrawing): ScanShapes {
  const width = d.width ?? 358
  const frame = { x: LEFT, y: TOP, width: width - LEFT - 8, height: HEIGHT - TOP - FOOT }
  const none = { lines: [], feet: [], curve: '', gaps: [], peak: null, expected: null, marks: [] }
  const levels = [...d.levels].sort((a, b) => a.x - b.x)
  const [first, last] = [levels[0], levels.at(-1)]
  if (first === undefined || last === undefined)
    return { width, height: HEIGHT, frame, ...none, words: ['There is no reading to draw yet.'] }
  const shown = levels.filter(l => l.state !== 'out')
  const heights = [...(shown.length > 0 ? shown : levels).map(l => l.level), ...d.curve.map(c => c.level)]
  const [least, most] = [Math.min(...heights), Math.max(...heights)]
  const step = roundAbove(Math.max(most - least, d.scale === 'dB' ? 0.4 : 1e-9 + Math.abs(most) / 100) / 4)
  // A curve that dips slightly under a line does not add another space below it.
  const [low, high] = [step * Math.floor(least / step + 0.1), step * Math.ceil(most / step - 0.1 + 1e-9)]
  const places = [first.x, last.x, ...d.gaps.flatMap(g => [g.from, g.to])]
  if (d.expected !== null) places.push(d.expected)
  const [from, to] = [Math.min(...places), Math.max(...places)]
  const span = to > from ? to - from : 1
  const x = (at: number) => n1(frame.x + frame.width * (0.02 + (0.96 * (at - from)) / span))
  const y = (level: number) =>
    n1(frame.y + (frame.height * (high - Math.min(high, Math.max(low, level)))) / Math.max(high - low, 1e-12))
  /** Keeps a word of that half width inside the frame. */
  const inside = (at: number, half: number) => Math.max(frame.x + half, Math.min(frame.x + frame.width - half, at))
  const decimals = Math.max(0, Math.min(6, -Math.floor(Math.log10(step) + 1e-9)))
  const where = (at: number): string =>
    d.along.kind === 'time'
      ? utcTime(d.along.startMs + 1000 * at)
      : Math.abs(at) < 0.05
        ? degrees(0, 1, 'decimal')
        : `${at < 0 ? MINUS : '+'}${degrees(Math.abs(at), 1, 'decimal')}`
  const unit = d.scale === 'dB' ? `${NBSP}dB` : ''
  const say = (l: DrawnLevel) => `${where(l.x)}: ${fixed(l.level, decimals + 1)}${unit}${STATE[l.state]}.`
  const peak =
    d.peak === null || d.peak.x < from || d.peak.x > to
      ? null
      : {
          x: x(d.peak.x),
          label: inside(x(d.peak.x), 16),
          from: x(d.peak.x - d.peak.sigma),
          to: x(d.peak.x + d.peak.sigma),
        }
  const lines = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, k) => ({
    y: y(low + k * step),
    label: fixed(low + k * step, decimals),
  }))
  return {
    width,
    height: HEIGHT,
    frame,
    lines,
    feet: [
      { x: x(from), label: where(from), anchor: 'start' },
      { x: x(to), label: where(to), anchor: 'end' },
    ],
    curve: pathOf(d.curve.filter(c => c.x >= from && c.x <= to).map(c => [x(c.x), y(c.level)])),
    gaps: d.gaps.map(g => ({ x: x(g.from), width: Math.max(2, n1(x(g.to) - x(g.from))) })),
    peak,
    expected: d.expected === null ? null : { x: x(d.expected), label: inside(x(d.expected), 32) },
    marks: thinned(levels).map(l => ({ id: l.id, shape: SHAPE[l.state], x: x(l.x), y: y(l.level), says: say(l) })),
    words: wordsOf(d, levels, where, (level: number) => `${fixed(level, decimals)}${unit}`),
  }
}

function wordsOf(
  d: ScanDrawing,
  levels: readonly DrawnLevel[],
  where: (x: number) => string,
  height: (level: number) => string,
): string[] {
  const shown = levels.filter(l => l.state !== 'out')
  const all = shown.length > 0 ? shown : levels
  const [first, last] = [all[0]!, all.at(-1)!]
  const top = all.reduce((a, l) => (l.level > a.level ? l : a))
  const low = all.reduce((a, l) => (l.level < a.level ? l : a))
  const words = [
    `${countOf(all.length, 'reading')} from ${where(first.x)} to ${where(last.x)}: lowest ${height(low.level)}, highest ${height(top.level)} at ${where(top.x)}.`,
  ]
  // Places count from the peak, so its own place is always 0.
  if (d.peak !== null && d.along.kind === 'time') words.push(`The fitted peak is at ${where(d.peak.x)}.`)
  if (d.gaps.length > 0) words.push(`${countOf(d.gaps.length, 'gap')} without readings.`)
  const aside = levels.filter(l => l.state === 'aside').length
  const out = levels.filter(l => l.state === 'out').length
  if (aside > 0) words.push(`${countOf(aside, 'reading')} not counted.`)
  if (out > 0) words.push(`${countOf(out, 'reading')} left out by hand.`)
  return words
}

/**
 * The curve of one arm of a cross scan, whose base is its own: height and base by least squares at the place and width that
 * the whole scan gave. Linear power inside.
 *
 * @param samples  place in degrees from the peak
 */
export function armCurve(
  samples: readonly { placeDeg: number; level: number; isKept: boolean }[],
  widthDeg: number,
  scale: 'dB' | 'linear',
): { x: number; level: number }[] {
  const kept = samples.filter(s => s.isKept)
  if (kept.length < 3) return []
  const power = (level: number) => (scale === 'dB' ? 10 ** (level / 10) : level)
  const g = (x: number) => Math.exp(-4 * Math.LN2 * (x / widthDeg) ** 2)
  let [n, sg, sgg, sp, sgp] = [0, 0, 0, 0, 0]
  for (const s of kept) {
    const [h, p] = [g(s.placeDeg), power(s.level)]
    n++
    sg += h
    sgg += h * h
    sp += p
    sgp += h * p
  }
  const det = n * sgg - sg * sg
  if (!(det > 1e-12)) return []
  const height = (n * sgp - sg * sp) / det
  const base = (sp - height * sg) / n
  const places = samples.map(s => s.placeDeg)
  const [from, to] = [Math.min(...places), Math.max(...places)]
  return Array.from({ length: 61 }, (_, k) => {
    const x = from + ((to - from) * k) / 60
    const p = height * g(x) + base
    return { x, level: scale === 'dB' ? 10 * Math.log10(Math.max(p, 1e-12)) : p }
  })
}
