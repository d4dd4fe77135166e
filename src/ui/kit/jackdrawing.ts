/**
 * The triangle of a jack as a line drawing: pivot, fixed end, rod end, and where each length is taped. To scale where the
 * lengths close a triangle, else an ordinary one. Drawing units, y down.
 */
import { includedAngle } from '../../core/readout/jack.ts'
import { n1, pathOf } from './marks.ts'

interface JackShapes {
  width: number
  height: number
  base: string
  rod: string
  jack: string
  /** The fatter tube of the jack, on its fixed side. */
  tube: string
  arc: string
  pins: { x: number; y: number }[]
  labels: { base: Place; rod: Place; jack: Place; pivot: Place }
  toScale: boolean
}
interface Place {
  x: number
  y: number
  anchor: 'start' | 'middle' | 'end'
}

const USUAL = { base: 620, rod: 410, length: 700 }

/** @param base, rod, length  mm; null where not written yet */
export function jackDrawing(base: number | null, rod: number | null, length: number | null, width = 358): JackShapes {
  const own = base && rod && length ? includedAngle(length, base, rod) : null
  // A triangle as thin as a line shows nothing; then the usual one stands.
  const toScale = own !== null && Math.sin(own.phi) > 0.15 && Math.min(base! / rod!, rod! / base!) > 0.15
  const a = toScale ? base! : USUAL.base
  const b = toScale ? rod! : USUAL.rod
  const phi = toScale ? own!.phi : includedAngle(USUAL.length, USUAL.base, USUAL.rod)!.phi
  // The fixed arm lies along the foot, the pivot to its left. Wide as the page, or as high as a hand.
  const top = b * Math.sin(phi)
  const left = Math.min(0, b * Math.cos(phi))
  const right = Math.max(a, b * Math.cos(phi))
  const k = Math.min((width - 130) / (right - left), (0.55 * width) / top)
  const height = Math.round(k * top + 74)
  // More room on the left, where a word stands beside the rod arm.
  const x0 = (width - k * (right + left)) / 2 + 24
  const y0 = height - 48
  const pivot = { x: n1(x0), y: n1(y0) }
  const fixed = { x: n1(x0 + k * a), y: n1(y0) }
  const end = { x: n1(x0 + k * b * Math.cos(phi)), y: n1(y0 - k * top) }
  const line = (p: { x: number; y: number }, q: { x: number; y: number }) =>
    pathOf([
      [p.x, p.y],
      [q.x, q.y],
    ])
  const between = (p: { x: number; y: number }, q: { x: number; y: number }, t: number) => ({
    x: p.x + t * (q.x - p.x),
    y: p.y + t * (q.y - p.y),
  })
  // Words stand outside the triangle, square to their lines.
  const beside = (p: { x: number; y: number }, q: { x: number; y: number }, t: number, side: 1 | -1, half: number) => {
    const m = between(p, q, t)
    const l = Math.hypot(q.x - p.x, q.y - p.y) || 1
    const [nx, ny] = [(side * (q.y - p.y)) / l, (-side * (q.x - p.x)) / l]
    // As far as half the word's width needs to be clear of a slanting line.
    const out = 12 + half * Math.abs(nx)
    const x = m.x + nx * out
    return {
      x: n1(Math.max(half, Math.min(width - half, x))),
      y: n1(m.y + ny * (12 + 6 * Math.abs(ny)) + 5),
      anchor: 'middle' as const,
    }
  }
  const r = Math.min(34, 0.35 * k * Math.min(a, b))
  const arc = Array.from({ length: 13 }, (_, i): [number, number] => {
    const t = (phi * i) / 12
    return [x0 + r * Math.cos(t), y0 - r * Math.sin(t)]
  })
  return {
    width,
    height,
    base: line(pivot, fixed),
    rod: line(pivot, end),
    jack: line(fixed, end),
    tube: line(fixed, between(fixed, end, 0.55)),
    arc: pathOf(arc),
    pins: [pivot, fixed, end],
    labels: {
      base: { x: n1((pivot.x + fixed.x) / 2), y: n1(y0 + 34), anchor: 'middle' },
      rod: beside(pivot, end, 0.55, 1, 48),
      jack: beside(end, fixed, 0.3, 1, 64),
      pivot: { x: n1(Math.max(28, pivot.x)), y: n1(y0 + 34), anchor: 'middle' },
    },
    toScale,
  }
}
