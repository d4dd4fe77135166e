/**
 * A tracking program that knows one page and no more: the mount as entered, the page's numbers as printed, the sky. Written from the
 * page's own sentences with vector maths of its own; it imports nothing of the program. Degrees.
 */
type V = [number, number, number]
type Axis = 'lower' | 'upper'

interface Form {
  form: 'poly' | 'offset' | 'jack' | 'table'
  degree?: number
  way?: 'command' | 'reading'
  rows?: [number, number][]
}
interface AxisOfPage {
  unit: 'counts' | 'degrees'
  form: Form
  fromDeg: number
  toDeg: number
  leastOutput: number
  mostOutput: number
  entered: {
    type: string
    zeroCounts?: number
    countsPerDeg?: number
    baseArmMm?: number
    rodArmMm?: number
    lengthAtReadingZeroMm?: number
    countsPerMm?: number
    phiAtAngleZeroDeg?: number
    direction?: number
  }
}
/** As it comes out of JSON. */
export interface PageText {
  wish: { aiming: string }
  paper: {
    kind: string
    latDeg: number
    lonDeg: number
    headingDeg: number | null
    dishOffsetDeg: number | null
    upperSense: number
  }
  axes: Record<Axis, AxisOfPage>
  numbers: { id: string; text: string }[]
}

/** Where the target stands, apparent, seen from a place: what any tracking program's almanac knows. */
export type Almanac = (latDeg: number, lonDeg: number) => { azDeg: number; elDeg: number }

const D = Math.PI / 180
const sin = (deg: number) => Math.sin(deg * D)
const cos = (deg: number) => Math.cos(deg * D)
const dir = (az: number, el: number): V => [cos(el) * sin(az), cos(el) * cos(az), sin(el)]
const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const mix = (a: V, x: number, b: V, y: number): V => [a[0] * x + b[0] * y, a[1] * x + b[1] * y, a[2] * x + b[2] * y]
const unit = (a: V): V => {
  const n = Math.hypot(...a)
  return [a[0] / n, a[1] / n, a[2] / n]
}
const square = (n: V, v: V): V => unit(mix(v, 1, n, -dot(n, v)))

/**
 * The mount as the page gives it. The dish looks along cos(out) (zero cos B + n sin B) + sin(out) side, turned about n by A: A the lower angle with
 * its sense, B the upper with its own; `out` is how far it looks out of the plane that the upper axis sweeps.
 */
interface Frame {
  /** The lower axis. */
  n: V
  /** Where the dish looks at both angles 0 and no offset. */
  zero: V
  /** The end of the upper axis from which the offset is counted: right, west at the meridian, up. */
  side: V
  lowerSense: number
  upperSense: number
  out: number
}

function frameOf(page: PageText, num: (id: string) => number): Frame {
  const { kind, latDeg, headingDeg, dishOffsetDeg, upperSense } = page.paper
  const told = page.wish.aiming === 'geometry'
  const polar = told || page.wish.aiming === 'pole'
  const out = told ? num('dishOffsetDeg') : (dishOffsetDeg ?? 0)
  const h = told && headingDeg !== null ? num('headingDeg') : (headingDeg ?? 0)
  switch (kind) {
    case 'el-over-az': {
      const n: V = told ? dir(num('leanAzDeg'), 90 - num('leanDeg')) : [0, 0, 1]
      // Azimuth zero: north lies in the plane that the dish sweeps. To the east azimuth grows.
      const zero = square(n, [0, 1, 0])
      return { n, zero, side: cross(zero, n), lowerSense: -1, upperSense, out }
    }
    case 'ha-dec': {
      const upEnd = polar ? dir(num('axisAzDeg'), num('axisElDeg')) : dir(latDeg < 0 ? 180 : 0, Math.abs(latDeg))
      const n: V = latDeg < 0 ? [-upEnd[0], -upEnd[1], -upEnd[2]] : upEnd
      // Hour angle zero: the vertical plane through the axis, upper side. To the west hour angle grows.
      const zero = square(n, [0, 0, 1])
      return { n, zero, side: cross(zero, n), lowerSense: -1, upperSense, out }
    }
    case 'az-over-el': {
      // The right-hand end of the tilt axis; at tilt 0 the swing's middle is level. Tilt lifts, swing goes to the right.
      const n = dir(h + 90, told ? num('axisElDeg') : 0)
      const zero: V = [sin(h), cos(h), 0]
      return { n, zero, side: cross(n, zero), lowerSense: 1, upperSense, out }
    }
    default: {
      // The forward end of the X axis; both zero in the vertical plane through it. X tips right, Y forward.
      const n = dir(h, told ? num('axisElDeg') : 0)
      const zero = square(n, [0, 0, 1])
      return { n, zero, side: cross(n, zero), lowerSense: 1, upperSense, out }
    }
  }
}

/** Both poses for a direction, degrees. */
function poses(f: Frame, t: V): { lower: number; upper: number }[] {
  const s = dot(t, f.n) / cos(f.out)
  if (Math.abs(s) > 1) return []
  return [Math.asin(s) / D, 180 - Math.asin(s) / D].map(B => {
    const v = mix(mix(f.zero, cos(f.out) * cos(B), f.n, cos(f.out) * sin(B)), 1, f.side, sin(f.out))
    const a = mix(v, 1, f.n, -dot(v, f.n))
    const b = mix(t, 1, f.n, -dot(t, f.n))
    const A = Math.atan2(dot(f.n, cross(a, b)), dot(a, b)) / D
    return { lower: f.lowerSense * A, upper: f.upperSense * B }
  })
}

function turnNearest(angle: number, axis: AxisOfPage): { angle: number; inside: boolean } {
  const mid = (axis.fromDeg + axis.toDeg) / 2
  const a = angle + 360 * Math.round((mid - angle) / 360)
  return { angle: a, inside: a >= axis.fromDeg && a <= axis.toDeg }
}

function chosen(page: PageText, all: { lower: number; upper: number }[]): { lower: number; upper: number } | null {
  const ranked = all.map(p => {
    const l = turnNearest(p.lower, page.axes.lower)
    const u = turnNearest(p.upper, page.axes.upper)
    const mid = (a: AxisOfPage) => (a.fromDeg + a.toDeg) / 2
    const away = Math.hypot(l.angle - mid(page.axes.lower), u.angle - mid(page.axes.upper))
    return { lower: l.angle, upper: u.angle, cost: away + (l.inside && u.inside ? 0 : 1e6) }
  })
  ranked.sort((a, b) => a.cost - b.cost)
  return ranked[0] ?? null
}

type Readout = AxisOfPage['entered']

function countsAsEntered(r: Readout, angle: number): number {
  if (r.type === 'degrees') return angle
  if (r.type === 'linear-counts') return r.zeroCounts! + angle * r.countsPerDeg!
  return triangle(
    angle,
    r.baseArmMm!,
    r.rodArmMm!,
    r.lengthAtReadingZeroMm!,
    r.countsPerMm!,
    r.phiAtAngleZeroDeg!,
    r.direction!,
  )
}

function triangle(
  angle: number,
  a: number,
  b: number,
  zero: number,
  perMm: number,
  phi0: number,
  sense: number,
): number {
  const phi = phi0 + sense * angle
  return (Math.sqrt(a * a + b * b - 2 * a * b * cos(phi)) - zero) * perMm
}

/** y with Σ c_k y^k = angle, by halving. */
function halved(c: number[], angle: number, from: number, to: number): number {
  const at = (y: number) => c.reduce((sum, ck, k) => sum + ck * y ** k, 0) - angle
  const span = to - from
  let [lo, hi] = [from - 0.1 * span, to + 0.1 * span]
  if (at(lo) * at(hi) > 0) return Number.NaN
  for (let i = 0; i < 80; i++) {
    const mid = (lo + hi) / 2
    if (at(lo) * at(mid) <= 0) hi = mid
    else lo = mid
  }
  return (lo + hi) / 2
}

function lookedUp(rows: [number, number][], angle: number): number {
  const up = [...rows].sort((p, q) => p[0] - q[0])
  let i = 0
  while (i < up.length - 2 && angle > up[i + 1]![0]) i++
  const [a, b] = [up[i]!, up[i + 1]!]
  return a[1] + ((angle - a[0]) / (b[0] - a[0])) * (b[1] - a[1])
}

/** The reading to which the program sends an axis. */
function readingFor(axis: Axis, of: AxisOfPage, num: (id: string) => number, angle: number): number {
  const { form, unit } = of
  const jack = (what: string) => num(`${axis}.${what}`)
  let out: number
  switch (form.form) {
    case 'poly': {
      const c = Array.from({ length: form.degree! + 1 }, (_, k) => num(`${axis}.${k}`))
      out =
        form.way === 'command'
          ? c.reduce((sum, ck, k) => sum + ck * angle ** k, 0)
          : halved(c, angle, of.leastOutput, of.mostOutput)
      break
    }
    case 'offset':
      out = (unit === 'degrees' ? angle : countsAsEntered(of.entered, angle)) + num(`${axis}.0`)
      break
    case 'jack':
      out = triangle(
        angle,
        jack('baseArmMm'),
        jack('rodArmMm'),
        jack('lengthAtReadingZeroMm'),
        jack('countsPerMm'),
        jack('phiAtAngleZeroDeg'),
        jack('direction'),
      )
      break
    case 'table':
      out = lookedUp(form.rows!, angle)
  }
  // Degrees on a counted axis go through the readout as entered.
  return unit === 'degrees' ? countsAsEntered(of.entered, out) : out
}

/** The readings that the program sets for a target; null where it finds none. */
export function track(page: PageText, almanac: Almanac): { lower: number; upper: number } | null {
  const num = (id: string): number => {
    const n = page.numbers.find(x => x.id === id)
    if (n === undefined) throw new RangeError(`the page has no number ${id}`)
    return Number(n.text)
  }
  const isSite = page.wish.aiming === 'site'
  const seen = isSite ? almanac(num('latDeg'), num('lonDeg')) : almanac(page.paper.latDeg, page.paper.lonDeg)
  const t = dir(seen.azDeg + (isSite ? num('turnDeg') : 0), seen.elDeg)
  const angles = chosen(page, poses(frameOf(page, num), t))
  if (angles === null) return null
  const lower = readingFor('lower', page.axes.lower, num, angles.lower)
  const upper = readingFor('upper', page.axes.upper, num, angles.upper)
  return Number.isFinite(lower) && Number.isFinite(upper) ? { lower, upper } : null
}
