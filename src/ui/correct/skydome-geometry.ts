/**
 * The sky as on a map: zenith in the middle, north up, east to the right, elevation even along the radius. (Held over the
 * head instead of on the table, east would be left; on the table it matches the ground.)
 * Azimuth and elevation in degrees; drawing units, y down.
 */
import { maskAt, maskFromPoints } from '../../core/sky/horizonmask.ts'
import { DEG, degFromRad, radFromDeg } from '../../core/units.ts'
import { fixed, seenText } from '../kit/format.ts'
import { n1, type PlotMark, pathOf, STATUS_WORDS } from '../kit/marks.ts'
import { reachEdge } from './reachedge.ts'

export interface DomePoint {
  azDeg: number
  elDeg: number
}

export interface SkyDome {
  /** Side of the square drawing. */
  size?: number
  /** In order of time; what lies below the horizon is not drawn. */
  paths: readonly { body: 'sun' | 'moon'; label: string; points: readonly DomePoint[] }[]
  /** Cells from azimuth 0 eastward and elevation 0 upward: rows[elevation][azimuth], true where the mount can point. */
  reach?: { azStepDeg: number; elStepDeg: number; rows: readonly (readonly boolean[])[] }
  /** Linear between the points, round the circle; empty is a free horizon. */
  mask?: readonly DomePoint[]
  /** Left out: this drawing is not about past sightings. */
  sightings?: readonly (DomePoint & { id: string; status: 'used' | 'outlier' | 'excluded'; label: string })[]
  /** What one sighting there would take off what is open, 0 to 1: a bead as large. */
  beads?: readonly (DomePoint & { share: number })[]
  /** Sightings to make. */
  steps?: readonly (DomePoint & { id: string; label: string })[]
  now?: readonly (DomePoint & { body: 'sun' | 'moon'; label: string })[]
  next?: (DomePoint & { label: string }) | null
}

export interface SkyDomeShapes {
  size: number
  centre: number
  radius: number
  ringRadii: { elDeg: number; r: number }[]
  /** Fine marks every 10° round the horizon, longer every 30°. */
  ticks: string
  compass: { word: string; x: number; y: number }[]
  paths: { body: 'sun' | 'moon'; label: string; d: string; labelX: number; labelY: number }[]
  /** Stipple where the mount cannot point, and the line round it. */
  stipple: string
  edge: string
  edgeLabel: { x: number; y: number } | null
  /** Hatching up to the horizon mask, and its upper line. */
  hills: string
  skyline: string
  beads: { x: number; y: number; r: number }[]
  marks: PlotMark[]
  words: string[]
}

/** Radius of a bead whose sighting would leave nothing open. */
const BEAD = 8

const MARGIN = 24

/** Where a direction is drawn. Elevations below the horizon lie outside the circle. */
export const domePoint = (p: DomePoint, centre: number, radius: number): [number, number] => {
  const r = (radius * (90 - p.elDeg)) / 90
  return [centre + r * Math.sin(p.azDeg * DEG), centre - r * Math.cos(p.azDeg * DEG)]
}

/** The stretches of a path that lie above the horizon, cut where it crosses. */
function aboveHorizon(points: readonly DomePoint[]): DomePoint[][] {
  const stretches: DomePoint[][] = []
  let open: DomePoint[] | null = null
  points.forEach((p, i) => {
    const before = points[i - 1]
    if (before && before.elDeg < 0 !== p.elDeg < 0) {
      const k = before.elDeg / (before.elDeg - p.elDeg)
      const turn = ((p.azDeg - before.azDeg + 540) % 360) - 180
      const cut = { azDeg: before.azDeg + k * turn, elDeg: 0 }
      if (open) open.push(cut)
      else {
        open = [cut]
        stretches.push(open)
      }
    }
    if (p.elDeg < 0) open = null
    else if (open) open.push(p)
    else {
      open = [p]
      stretches.push(open)
    }
  })
  return stretches
}

const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west']
const wind = (azDeg: number): string => WINDS[Math.round((((azDeg % 360) + 360) % 360) / 45) % 8]!
const place = (p: DomePoint): string => `azimuth ${fixed(p.azDeg, 0)}°, elevation ${fixed(p.elDeg, 0)}°`

/** How far a place is from what is drawn already; the search stops once it is no more than `least`. */
function roomAt(x: number, y: number, most: number, least: number, busy: readonly (readonly [number, number])[]) {
  let room = most
  for (const [bx, by] of busy) {
    if (room <= least) break
    // The word takes about 90 × 16 units: it wants room beside it more than above it.
    room = Math.min(room, Math.hypot((bx - x) / 2.5, by - y))
  }
  return room
}

/** Where the name of a path stands: beside its line, within the circle, where most is free round it. */
function labelSpot(
  line: readonly (readonly [number, number])[],
  centre: number,
  radius: number,
  busy: readonly (readonly [number, number])[],
): [number, number] {
  let best: [number, number] = [centre, centre]
  let bestRoom = -1
  // From the middle of the line outward: of places as good as each other the first one stays.
  for (const k of [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88]) {
    const spot = line[Math.floor(k * (line.length - 1))]
    if (!spot) continue
    const out = Math.hypot(spot[0] - centre, spot[1] - centre) || 1
    for (const away of [-14, 14, -24, 24]) {
      const x = spot[0] + (away * (spot[0] - centre)) / out
      const y = spot[1] + (away * (spot[1] - centre)) / out
      if (Math.hypot(Math.abs(x - centre) + 20, Math.abs(y - centre) + 8) > radius) continue
      let room = 60
      // A name takes about 40 × 16 units.
      for (const [bx, by] of busy) room = Math.min(room, Math.hypot(Math.max(0, Math.abs(bx - x) - 18), by - y))
      if (room > bestRoom + 0.5) {
        bestRoom = room
        best = [x, y]
      }
    }
  }
  return best
}

/** Reach as stipple, edge and the place of its label; the grid's own ends are no edge. */
function reachShapes(
  reach: NonNullable<SkyDome['reach']>,
  centre: number,
  radius: number,
  busy: readonly (readonly [number, number])[],
) {
  const { azStepDeg, elStepDeg, rows } = reach
  const columns = rows[0]?.length ?? 0
  const can = (row: number, column: number) => rows[row]?.[((column % columns) + columns) % columns] ?? false
  let edge = ''
  const edgePoints: [number, number][] = []
  for (const piece of reachEdge(rows)) {
    const [a, b] = piece.map(([c, r]) => domePoint({ azDeg: c * azStepDeg, elDeg: r * elStepDeg }, centre, radius))
    edge += pathOf([a!, b!])
    edgePoints.push(a!)
  }
  let stipple = ''
  let best: { x: number; y: number } | null = null
  let bestRoom = 14
  const step = 9
  const inTheWay = [...edgePoints, ...busy]
  for (let y = centre - radius; y < centre + radius; y += step)
    for (let x = centre - radius + (Math.round(y / step) % 2 ? step / 2 : 0); x < centre + radius; x += step) {
      const r = Math.hypot(x - centre, y - centre)
      if (r > radius - 3) continue
      const az = (Math.atan2(x - centre, centre - y) / DEG + 360) % 360
      if (can(Math.floor((90 - (90 * r) / radius) / elStepDeg), Math.floor(az / azStepDeg))) continue
      stipple += `M${n1(x)} ${n1(y)}h.1`
      if (Math.abs(x - centre) + 48 > Math.sqrt(Math.max(0, radius ** 2 - (y - centre) ** 2))) continue
      const room = roomAt(x, y, radius - r, bestRoom, inTheWay)
      if (room > bestRoom) {
        bestRoom = room
        best = { x: n1(x), y: n1(y) }
      }
    }
  return { stipple, edge, edgeLabel: best }
}

/** The share of the sky (by solid angle) that the cells marked true cover, 0 to 1. */
export function shareOfSky(reach: NonNullable<SkyDome['reach']>): number {
  let within = 0
  let all = 0
  reach.rows.forEach((cells, row) => {
    const band = Math.sin(Math.min(90, (row + 1) * reach.elStepDeg) * DEG) - Math.sin(row * reach.elStepDeg * DEG)
    for (const cell of cells) {
      all += band
      if (cell) within += band
    }
  })
  return all === 0 ? 0 : within / all
}

export function skyDome(dome: SkyDome): SkyDomeShapes {
  const size = dome.size ?? 358
  const centre = size / 2
  const radius = centre - MARGIN
  const at = (p: DomePoint) => domePoint(p, centre, radius)

  let ticks = ''
  for (let az = 0; az < 360; az += 10)
    ticks += pathOf([at({ azDeg: az, elDeg: 0 }), at({ azDeg: az, elDeg: az % 30 === 0 ? -4 : -2 })])

  // What the names of the paths must not stand on: marks, the rings' own numbers, and the lines.
  const ringNumbers = [30, 60].map((elDeg): [number, number] => [centre + 12, at({ azDeg: 0, elDeg })[1] - 8])
  const drawn: [number, number][] = [
    ...ringNumbers,
    ...(dome.sightings ?? []).map(at),
    ...(dome.steps ?? []).map(at),
    ...(dome.now ?? []).filter(b => b.elDeg >= 0).map(at),
    ...(dome.next ? [at(dome.next)] : []),
    ...dome.paths.flatMap(p => p.points.filter(q => q.elDeg >= 0).map(at)),
  ]
  const paths = dome.paths.map(path => {
    const stretches = aboveHorizon(path.points)
    const longest = stretches.reduce<DomePoint[]>((a, b) => (b.length > a.length ? b : a), [])
    const [labelX, labelY] = labelSpot(longest.map(at), centre, radius, drawn)
    if (longest.length > 0) drawn.push([labelX - 18, labelY], [labelX, labelY], [labelX + 18, labelY])
    return {
      body: path.body,
      label: path.label,
      d: stretches.map(s => pathOf(s.map(at))).join(''),
      labelX: n1(labelX),
      labelY: n1(labelY),
    }
  })

  const points = dome.mask ?? []
  const mask = maskFromPoints(points)
  let hills = ''
  const skyline: [number, number][] = []
  if (mask.length > 0)
    for (let az = 0; az <= 360; az += 2) {
      const top = at({ azDeg: az, elDeg: Math.max(0, degFromRad(maskAt(mask, radFromDeg(az)))) })
      skyline.push(top)
      if (az < 360) hills += pathOf([at({ azDeg: az, elDeg: 0 }), top])
    }

  const marks: PlotMark[] = []
  const put = (id: string, shape: PlotMark['shape'], p: DomePoint, says: string) => {
    const [x, y] = at(p)
    marks.push({ id, shape, x: n1(x), y: n1(y), says })
  }
  for (const s of dome.sightings ?? [])
    put(s.id, s.status, s, `${seenText(s.label)}: ${place(s)}, ${STATUS_WORDS[s.status]}.`)
  for (const b of dome.now ?? []) if (b.elDeg >= 0) put(`now-${b.body}`, b.body, b, `${b.label} now: ${place(b)}.`)
  for (const s of dome.steps ?? []) put(s.id, 'next', s, `${s.label}: ${place(s)}.`)
  if (dome.next) put('next', 'next', dome.next, `Worth doing next: ${dome.next.label}, ${place(dome.next)}.`)

  const words = ['The sky as on a map: north up, east to the right, zenith in the middle.']
  for (const path of dome.paths) {
    const up = path.points.filter(p => p.elDeg >= 0)
    if (up.length === 0) {
      words.push(`${path.label}: stays below the horizon.`)
      continue
    }
    const top = up.reduce((a, b) => (b.elDeg > a.elDeg ? b : a))
    words.push(
      `${path.label}: from the ${wind(up[0]!.azDeg)} to the ${wind(up.at(-1)!.azDeg)}, highest ${fixed(top.elDeg, 0)}° in the ${wind(top.azDeg)}.`,
    )
  }
  for (const b of dome.now ?? []) words.push(`${b.label} now: ${b.elDeg >= 0 ? place(b) : 'below the horizon'}.`)
  if (dome.reach) words.push(`The mount reaches ${fixed(100 * shareOfSky(dome.reach), 0)} % of the sky.`)
  if (mask.length > 0) {
    const highest = points.reduce((a, b) => (b.elDeg > a.elDeg ? b : a))
    words.push(`The skyline is highest in the ${wind(highest.azDeg)}, ${fixed(highest.elDeg, 0)}°.`)
  }
  const { sightings } = dome
  if (sightings) {
    const count = (status: keyof typeof STATUS_WORDS) => sightings.filter(s => s.status === status).length
    words.push(
      sightings.length === 0
        ? 'No sightings yet.'
        : `Sightings: ${count('used')} used, ${count('outlier')} set aside, ${count('excluded')} left out.`,
    )
  }
  for (const s of dome.steps ?? []) words.push(`To sight: ${s.label}, ${place(s)}.`)
  if (dome.next) words.push(`Worth doing next: ${dome.next.label}, ${place(dome.next)}.`)

  const r = dome.reach ? reachShapes(dome.reach, centre, radius, drawn) : { stipple: '', edge: '', edgeLabel: null }
  return {
    size,
    centre,
    radius,
    ringRadii: [30, 60].map(elDeg => ({ elDeg, r: (radius * (90 - elDeg)) / 90 })),
    ticks,
    compass: [
      { word: 'N', x: centre, y: 11 },
      { word: 'E', x: size - 9, y: centre },
      { word: 'S', x: centre, y: size - 9 },
      { word: 'W', x: 9, y: centre },
    ],
    paths,
    ...r,
    hills,
    skyline: pathOf(skyline),
    beads: (dome.beads ?? []).map(bead => {
      const [x, y] = at(bead)
      return { x: n1(x), y: n1(y), r: n1(Math.max(0.8, BEAD * Math.sqrt(Math.max(0, Math.min(1, bead.share))))) }
    }),
    marks,
    words,
  }
}
