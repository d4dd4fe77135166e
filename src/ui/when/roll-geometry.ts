/**
 * The roll of the UP mark over a pass, heavy, and the size of the spatial offset to the other end, thin: degrees against time, 0 a line of its own.
 * Drawing units, y down.
 */
import { fixed, utcTime } from '../kit/format.ts'
import { n1, pathOf } from '../kit/marks.ts'

export interface RollRow {
  ms: number
  rollDeg: number | null
  /** Its size, 0 to 90: null without a partner, and while the target is down there. */
  offsetDeg: number | null
}

export interface RollShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  lines: { y: number; label: string; isZero: boolean }[]
  feet: { x: number; label: string; anchor: 'start' | 'middle' | 'end' }[]
  roll: string
  offset: string
  labels: { word: string; x: number; y: number }[]
  now: number | null
}

const WIDTH = 358
const HEIGHT = 220
const LEFT = 46
const TOP = 14
const FOOT = 28
const STEPS = [1, 2, 5, 10, 15, 30, 45, 90]

/** Runs without a gap; a jump over half a circle is the seam at ±180°. */
function runs(points: readonly (readonly [number, number | null])[]): [number, number][][] {
  const out: [number, number][][] = []
  let open: [number, number][] | null = null
  for (const [ms, deg] of points) {
    const last = open?.at(-1)
    if (deg === null || (last && Math.abs(last[1] - deg) > 180)) open = null
    if (deg === null) continue
    if (open === null) {
      open = []
      out.push(open)
    }
    open.push([ms, deg])
  }
  return out
}

export function rollShapes(rows: readonly RollRow[], nowMs: number): RollShapes {
  const frame = { x: LEFT, y: TOP, width: WIDTH - LEFT - 8, height: HEIGHT - TOP - FOOT }
  const empty = {
    width: WIDTH,
    height: HEIGHT,
    frame,
    lines: [],
    feet: [],
    roll: '',
    offset: '',
    labels: [],
    now: null,
  }
  const [first, last] = [rows[0], rows.at(-1)]
  if (first === undefined || last === undefined || !(last.ms > first.ms)) return empty
  const all = rows.flatMap(r => [r.rollDeg, r.offsetDeg]).filter(deg => deg !== null)
  const [least, most] = [Math.min(0, ...all), Math.max(0, ...all)]
  const step = STEPS.find(s => (most - least) / s <= 5) ?? 90
  const low = step * Math.floor(least / step)
  const high = Math.max(low + step, step * Math.ceil(most / step))
  const x = (ms: number) => n1(frame.x + (frame.width * (ms - first.ms)) / (last.ms - first.ms))
  const y = (deg: number) => n1(frame.y + (frame.height * (high - deg)) / (high - low))
  const drawn = (line: [number, number][][]) =>
    line.map(run => pathOf(run.map(([ms, deg]) => [x(ms), y(deg)]))).join('')
  const roll = runs(rows.map(r => [r.ms, r.rollDeg]))
  const offset = runs(rows.map(r => [r.ms, r.offsetDeg]))
  const labels: RollShapes['labels'] = []
  for (const [word, line] of [
    ['UP mark', roll],
    ['other end', offset],
  ] as const) {
    const longest = [...line].sort((a, b) => b.length - a.length)[0]
    if (longest === undefined) continue
    // The one at its beginning, the other at its end.
    const k = Math.floor(((labels.length === 0 ? 1 : 6) * longest.length) / 8)
    const [ms, deg] = longest[k]!
    // Where the line rises to the right the word stands under it, else over it; and clear of a word that stands there already.
    const isRising = (longest[k + 1] ?? longest.at(-1)!)[1] > deg
    const under = y(deg) + 22
    const over = y(deg) - 10
    let at = isRising ? under : over
    if (labels.some(l => Math.abs(l.y - at) < 18 && Math.abs(l.x - x(ms)) < 80)) at = isRising ? over : under
    labels.push({
      word,
      x: Math.min(x(ms) + 4, WIDTH - 76),
      y: Math.max(TOP + 12, Math.min(frame.y + frame.height - 4, at)),
    })
  }
  return {
    ...empty,
    lines: Array.from({ length: Math.round((high - low) / step) + 1 }, (_, k) => low + k * step).map(deg => ({
      y: y(deg),
      label: `${fixed(deg, 0)}°`,
      isZero: deg === 0,
    })),
    feet: [0, 0.5, 1].map((f, k) => ({
      x: n1(frame.x + f * frame.width),
      label: utcTime(first.ms + f * (last.ms - first.ms), 'minute'),
      anchor: (['start', 'middle', 'end'] as const)[k]!,
    })),
    roll: drawn(roll),
    offset: drawn(offset),
    labels,
    now: nowMs >= first.ms && nowMs <= last.ms ? x(nowMs) : null,
  }
}
