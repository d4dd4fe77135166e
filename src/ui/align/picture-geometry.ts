/**
 * What a step of the alignment means on this kind of mount, in ink: the mount from behind the dish with what is done to it, or the sky
 * where the step is about that. Lower axis solid, upper axis dashed, what is only expected dotted. Pure; drawing units, 360 wide.
 */
import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { n1, pathOf } from '../kit/marks.ts'
import { mountBody } from '../kit/mountdrawing-geometry.ts'

type Point = readonly [x: number, y: number]

export interface StepPicture {
  width: number
  height: number
  fine: string[]
  heavy: string[]
  full: string[]
  dotted: string[]
  lower: string | null
  upper: string | null
  texts: { x: number; y: number; text: string; anchor: 'start' | 'middle' | 'end' }[]
}

const WIDTH = 360
const HEIGHT = 262
const GROUND = 244

const line = (a: Point, b: Point): string => `M${n1(a[0])} ${n1(a[1])}L${n1(b[0])} ${n1(b[1])}`
const circle = (x: number, y: number, r: number): string =>
  `M${x - r} ${y}a${r} ${r} 0 1 1 ${2 * r} 0a${r} ${r} 0 1 1 ${-2 * r} 0`
const box = (x: number, y: number, w: number, h: number): string => `M${x} ${y}h${w}v${h}h${-w}Z`

/** A box of length l and height h that lies on a line, its middle at a share of the way. */
function laidOn(a: Point, b: Point, share: number, l: number, h: number): string {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const way = Math.hypot(dx, dy)
  const [ux, uy] = [dx / way, dy / way]
  // Above the line, or at its left where it stands on end.
  const [nx, ny] = [uy, -ux]
  const [cx, cy] = [a[0] + share * dx, a[1] + share * dy]
  const at = (along: number, off: number): Point => [cx + along * ux + off * nx, cy + along * uy + off * ny]
  return pathOf([at(-l / 2, 2), at(l / 2, 2), at(l / 2, 2 + h), at(-l / 2, 2 + h)], true)
}

function arrow(from: Point, to: Point): { shaft: string; head: string } {
  const angle = Math.atan2(to[1] - from[1], to[0] - from[0])
  const at = (d: number, w: number): Point => [
    to[0] + d * Math.cos(angle) - w * Math.sin(angle),
    to[1] + d * Math.sin(angle) + w * Math.cos(angle),
  ]
  return { shaft: line(from, to), head: pathOf([at(12, 0), at(0, 7), at(0, -7)], true) }
}

const rays = (x: number, y: number, r: number): string =>
  Array.from({ length: 8 }, (_, k) => {
    const [c, s] = [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)]
    return line([x + (r + 3) * c, y + (r + 3) * s], [x + (r + 9) * c, y + (r + 9) * s])
  }).join('')

const endsOf = (path: string): [Point, Point] => {
  const n = path.match(/-?[\d.]+/g)!.map(Number)
  return [
    [n[0]!, n[1]!],
    [n[2]!, n[3]!],
  ]
}

const empty = (): StepPicture => ({
  width: WIDTH,
  height: HEIGHT,
  fine: [],
  heavy: [],
  full: [],
  dotted: [],
  lower: null,
  upper: null,
  texts: [],
})

function onMount(kind: MountKind, isSouth: boolean): StepPicture {
  const { fine, heavy, ground, lower, upper } = mountBody({ kind, isSouth, moves: [] })
  return { ...empty(), fine: [...fine, ...ground], heavy: [...heavy], lower, upper }
}

/** The words that stand in the pictures. */
interface PictureWords {
  level: string
  plumb: string
  mark: string
  counts: string
  shadow: string
  tape: string
  beam: string
  sun: string
  moon: string
  turn: string
  first: string
  second: string
  program: string
}

export function stepPicture(step: AlignmentStep, kind: MountKind, isSouth: boolean, words: PictureWords): StepPicture {
  const text = (x: number, y: number, of: string, anchor: 'start' | 'middle' | 'end' = 'start') => ({
    x,
    y,
    text: of,
    anchor,
  })
  switch (step) {
    case 'site-clock': {
      const p = empty()
      p.heavy.push(circle(118, 112, 76))
      for (let k = 0; k < 12; k++) {
        const [c, s] = [Math.cos((k * Math.PI) / 6), Math.sin((k * Math.PI) / 6)]
        p.fine.push(line([118 + 64 * c, 112 + 64 * s], [118 + 72 * c, 112 + 72 * s]))
      }
      p.heavy.push(line([118, 112], [118, 62]), line([118, 112], [154, 132]))
      p.fine.push(line([118, 112], [66, 142]))
      p.fine.push(circle(286, 112, 52), 'M234 112h104', 'M286 60v104', 'M286 60a26 52 0 0 1 0 104a26 52 0 0 1 0 -104')
      p.full.push(circle(304, 92, 5))
      p.texts.push(text(118, 216, 'UTC', 'middle'), text(286, 192, 'lat, lon', 'middle'))
      return p
    }
    case 'mast': {
      const p = onMount(kind, isSouth)
      p.fine.push(line([112, 132], [112, 226]))
      p.full.push('M112 240l-6 -12h12Z')
      p.heavy.push(box(190, 172, 12, 46))
      p.texts.push(text(104, 180, words.plumb, 'end'), text(212, 200, words.level))
      return p
    }
    case 'axes': {
      const p = onMount(kind, isSouth)
      const [a, b] = endsOf(p.upper!)
      p.heavy.push(laidOn(a, b, kind === 'az-over-el' ? 0.3 : 0.76, 40, 11))
      if (kind !== 'el-over-az') {
        const [c, d] = endsOf(p.lower!)
        p.heavy.push(laidOn(c, d, kind === 'ha-dec' ? 0.7 : 0.2, 40, 11))
      }
      p.texts.push(text(252, kind === 'az-over-el' ? 60 : 118, words.level))
      return p
    }
    case 'references': {
      const p = onMount(kind, isSouth)
      p.heavy.push(line([228, 236], [236, 196]), line([224, 236], [232, 196]))
      p.fine.push(line([234, 200], [243, 152]))
      p.heavy.push(line([226, 178], [252, 183]))
      p.texts.push(text(258, 188, words.mark), text(258, 228, words.counts))
      return p
    }
    case 'readouts': {
      const p = empty()
      const [x, y, r] = [76, 206, 150]
      const at = (deg: number, radius: number): Point => [
        x + radius * Math.cos((deg * Math.PI) / 180),
        y - radius * Math.sin((deg * Math.PI) / 180),
      ]
      p.fine.push(line([x, y], [x + r + 20, y]))
      p.fine.push(pathOf(Array.from({ length: 31 }, (_, k) => at(2.4 * k, r - 26))))
      for (const deg of [0, 18, 36, 54, 72]) {
        p.fine.push(line(at(deg, r - 32), at(deg, r - 20)))
        p.full.push(circle(n1(at(deg, r)[0]), n1(at(deg, r)[1]), 4))
      }
      p.heavy.push(line([x, y], at(54, r - 6)), laidOn(at(54, 30), at(54, 110), 0.5, 40, 11))
      p.heavy.push(box(248, 44, 92, 38))
      p.texts.push(text(294, 70, '0412', 'middle'), text(294, 106, words.counts, 'middle'))
      p.texts.push(text(x + r + 26, y + 6, '0°'))
      return p
    }
    case 'heading': {
      const p = empty()
      p.heavy.push(circle(62, 54, 22), rays(62, 54, 22))
      p.fine.push(line([176, 62], [176, 214]), line([150, 62], [202, 62]), line([202, 62], [202, GROUND]))
      p.full.push('M176 230l-7 -16h14Z')
      p.heavy.push(line([176, 232], [318, 256]))
      p.dotted.push(line([76, 64], [176, 110]))
      p.fine.push(line([20, GROUND], [340, GROUND]))
      p.texts.push(text(62, 108, words.sun, 'middle'), text(216, 110, words.plumb), text(330, 232, words.shadow, 'end'))
      return p
    }
    case 'feed': {
      const p = empty()
      p.heavy.push(circle(180, 130, 112))
      p.fine.push(
        line([180, 18], [180, 118]),
        line([180, 142], [180, 242]),
        line([68, 130], [168, 130]),
        line([192, 130], [292, 130]),
      )
      p.heavy.push(circle(180, 130, 12))
      p.dotted.push(circle(206, 148, 17))
      p.full.push('M180 4l-7 12h14Z')
      p.texts.push(text(172, 80, words.tape, 'end'), text(228, 168, words.shadow), text(194, 16, 'UP'))
      return p
    }
    case 'search': {
      const p = empty()
      const step = 46
      p.heavy.push(circle(180, 130, 26))
      for (let k = 0; k < 6; k++) {
        const a = (k * Math.PI) / 3
        p.fine.push(circle(n1(180 + step * Math.cos(a)), n1(130 + step * Math.sin(a)), 26))
      }
      for (let k = 0; k < 12; k++) {
        const a = (k * Math.PI) / 6 + 0.26
        p.dotted.push(circle(n1(180 + 2 * step * Math.cos(a)), n1(130 + 2 * step * Math.sin(a)), 26))
      }
      p.heavy.push(circle(262, 88, 7), rays(262, 88, 7))
      p.texts.push(text(180, 135, '1', 'middle'), text(276, 76, words.sun), text(8, 20, words.beam))
      return p
    }
    case 'sightings':
    case 'verify': {
      const p = empty()
      p.fine.push(line([14, 222], [346, 222]))
      const path = (low: number, high: number): Point[] =>
        Array.from({ length: 41 }, (_, k) => {
          const u = k / 40
          return [24 + 312 * u, low - (low - high) * Math.sin(Math.PI * u)]
        })
      const upperPath = path(216, 56)
      const lowerPath = path(218, 130)
      p.fine.push(pathOf(upperPath), pathOf(lowerPath))
      const disc = ([x, y]: Point) => circle(n1(x), n1(y), 7)
      for (const k of [6, 13, 20, 27, 34]) p.full.push(disc(upperPath[k]!))
      // Sightings of another day are rings: they prove the solution and are not part of it.
      for (const k of [8, 20, 32]) (step === 'verify' ? p.heavy : p.full).push(disc(lowerPath[k]!))
      if (step === 'verify') p.texts.push(text(180, 24, words.first, 'middle'), text(180, 168, words.second, 'middle'))
      else p.texts.push(text(180, 24, words.sun, 'middle'), text(180, 168, words.moon, 'middle'))
      p.texts.push(text(14, 246, isSouth ? 'W' : 'E'), text(346, 246, isSouth ? 'E' : 'W', 'end'))
      return p
    }
    case 'solve': {
      const p = onMount(kind, isSouth)
      p.heavy.push(circle(322, 36, 20))
      p.dotted.push(line([180, 72], [304, 44]))
      const beam = arrow([180, 72], [292, 122])
      p.heavy.push(beam.shaft)
      p.full.push(beam.head)
      p.texts.push(text(322, 76, words.moon, 'middle'), text(300, 156, words.beam, 'end'))
      return p
    }
    case 'bolts': {
      const p = onMount(kind, isSouth)
      const up = arrow([256, 178], [256, 148])
      p.heavy.push(up.shaft, 'M216 222A36 12 0 0 1 146 228')
      p.full.push(up.head, 'M134 221l14 1l-7 12Z')
      p.texts.push(text(268, 168, words.turn))
      return p
    }
    case 'carry': {
      const p = empty()
      p.heavy.push(box(34, 50, 92, 158), box(232, 70, 104, 84))
      p.fine.push(
        'M46 78h68M46 100h68M46 122h48M46 144h68M46 166h40',
        'M244 94h80M244 114h56M244 134h72',
        'M262 174h44M284 154v20',
      )
      const over = arrow([140, 118], [210, 118])
      p.heavy.push(over.shaft)
      p.full.push(over.head)
      p.texts.push(text(284, 200, words.program, 'middle'))
      return p
    }
  }
}
