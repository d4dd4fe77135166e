/**
 * The sky unrolled, azimuth along, elevation up, in cells of 5°: what a mount reaches is blank, what it does not is hatched by what
 * takes it (level lines: skyline and minimum elevation; strokes rising: the lower axis; falling: the upper axis; dots: no pose), with the
 * name in each. Thin lines: the Moon's path at its northernmost and southernmost. South of the equator north stands in the middle.
 */
import { enuFromHaDec } from '../../core/frames.ts'
import type { Hindrance } from '../../core/plan/hindrance.ts'
import type { WillReachJson } from '../../core/plan/willreachjson.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { azElFromEnu } from '../../core/vectors.ts'
import { n1, pathOf } from '../kit/marks.ts'

export type Hatch = 'level' | 'rising' | 'falling' | 'dots'

export interface SkyShapes {
  width: number
  height: number
  frame: { x: number; y: number; width: number; height: number }
  hatches: { hatch: Hatch; d: string }[]
  /** Where a hindrance's largest part lies. */
  labels: { word: string; x: number; y: number }[]
  paths: string[]
  winds: { word: string; x: number }[]
  heights: { word: string; y: number }[]
}

const WIDTH = 358
const LEFT = 30
const TOP = 8
const CELL_X = 4.5
const CELL_Y = 10
/** A part narrower than this gets no word; a wider one may be narrower than its word. */
const LEAST = 22

export const hatchOf = (h: Hindrance): Hatch =>
  h === 'floor' || h === 'mask'
    ? 'level'
    : h === 'no-pose' || h.endsWith('triangle')
      ? 'dots'
      : h.startsWith('lower')
        ? 'rising'
        : 'falling'

/** A cell's strokes, from its lower left corner. */
function strokeOf(hatch: Hatch, x: number, y: number): string {
  switch (hatch) {
    case 'level':
      return `M${n1(x)} ${n1(y - CELL_Y / 4)}h${CELL_X}M${n1(x)} ${n1(y - (3 * CELL_Y) / 4)}h${CELL_X}`
    case 'rising':
      return `M${n1(x)} ${n1(y)}l${CELL_X} ${-CELL_Y}`
    case 'falling':
      return `M${n1(x)} ${n1(y - CELL_Y)}l${CELL_X} ${CELL_Y}`
    case 'dots':
      return `M${n1(x + CELL_X / 2)} ${n1(y - CELL_Y / 2)}h0.1`
  }
}

/** The level runs of a hindrance, the longest first: the middle and the length, in cells. */
function runsOf(sky: WillReachJson['sky'], order: readonly number[], h: Hindrance) {
  const runs: { length: number; at: number; row: number }[] = []
  for (let row = 0; row < (sky[0]?.length ?? 0); row++) {
    let length = 0
    for (let k = 0; k <= order.length; k++) {
      const is = k < order.length && sky[order[k]!]![row] === h
      if (!is && length > 0) runs.push({ length, at: k - length / 2, row })
      length = is ? length + 1 : 0
    }
  }
  return runs.sort((a, b) => b.length - a.length)
}

export function skyShapes(
  { sky, years }: Pick<WillReachJson, 'sky' | 'years'>,
  latDeg: number,
  wordOf: (h: Hindrance) => string,
): SkyShapes {
  const columns = sky.length
  const rows = sky[0]?.length ?? 0
  const frame = { x: LEFT, y: TOP, width: n1(CELL_X * columns), height: CELL_Y * rows }
  const bottom = TOP + frame.height
  const firstDeg = latDeg < 0 ? 180 : 0
  const first = Math.round((firstDeg / 360) * columns)
  const order = Array.from({ length: columns }, (_, k) => (k + first) % columns)
  const strokes = new Map<Hatch, string[]>()
  const found = new Set<Hindrance>()
  for (const [k, a] of order.entries())
    for (let row = 0; row < rows; row++) {
      const h = sky[a]![row]
      if (h == null) continue
      found.add(h)
      const hatch = hatchOf(h)
      const list = strokes.get(hatch) ?? []
      strokes.set(hatch, list)
      list.push(strokeOf(hatch, LEFT + CELL_X * k, bottom - CELL_Y * row))
    }
  const labels: SkyShapes['labels'] = []
  for (const h of found) {
    const word = wordOf(h)
    const half = 4 * word.length
    // In the longest run where no other word stands; none where all are too short.
    for (const { length, at, row } of runsOf(sky, order, h)) {
      if (length * CELL_X < Math.min(half, LEAST)) break
      const x = n1(Math.max(LEFT + half, Math.min(LEFT + frame.width - half, LEFT + CELL_X * at)))
      const y = n1(Math.max(TOP + 12, bottom - CELL_Y * row - 1))
      if (labels.some(l => Math.abs(l.y - y) < 17 && Math.abs(l.x - x) < half + 4 * l.word.length + 4)) continue
      labels.push({ word, x, y })
      break
    }
  }
  const path = (decDeg: number): string => {
    const runs: [number, number][][] = []
    let open: [number, number][] | null = null
    for (let ha = -180; ha <= 180; ha += 2) {
      const { az, el } = azElFromEnu(enuFromHaDec(radFromDeg(ha), radFromDeg(decDeg), radFromDeg(latDeg)))
      const along = (((degFromRad(az) - firstDeg) % 360) + 360) % 360
      const point: [number, number] = [
        LEFT + (frame.width * along) / 360,
        bottom - (frame.height * degFromRad(el)) / 90,
      ]
      const last = open?.at(-1)
      if (el < 0 || (last && Math.abs(last[0] - point[0]) > frame.width / 2)) open = null
      if (el < 0) continue
      if (open === null) {
        open = []
        runs.push(open)
      }
      open.push(point)
    }
    return runs.map(run => pathOf(run)).join('')
  }
  return {
    width: WIDTH,
    height: bottom + 22,
    frame,
    hatches: [...strokes].map(([hatch, list]) => ({ hatch, d: list.join('') })),
    labels,
    paths: [Math.max(...years.map(y => y.northDeg)), Math.min(...years.map(y => y.southDeg))].map(path),
    winds: [0, 90, 180, 270].map((deg, k) => ({
      word: ['N', 'E', 'S', 'W'][(k + firstDeg / 90) % 4]!,
      x: n1(LEFT + (frame.width * deg) / 360),
    })),
    heights: [0, 30, 60, 90].map(deg => ({ word: `${deg}°`, y: n1(bottom - (frame.height * deg) / 90) })),
  }
}
