// A program of somebody's own, written from the text of a recipe alone: it imports nothing. Names as in the text.

const D = Math.PI / 180
const sin = x => Math.sin(x * D)
const cos = x => Math.cos(x * D)
const tan = x => Math.tan(x * D)
const acos = x => Math.acos(x) / D
const atan = x => Math.atan(x) / D
const atan2 = (y, x) => Math.atan2(y, x) / D

const vec = (az, el) => [cos(el) * sin(az), cos(el) * cos(az), sin(el)]
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const long = a => Math.sqrt(dot(a, a))
const times = (a, k) => a.map(x => x * k)
const plus = (...list) => list.reduce((a, b) => a.map((x, i) => x + b[i]))
const rot = (v, a, t) => plus(times(v, cos(t)), times(cross(a, v), sin(t)), times(a, dot(a, v) * (1 - cos(t))))

/** The numbers of a recipe's text: lines `name = number` or `name = (a, b, c)`. */
export function fromText(text) {
  const n = {}
  for (const line of text.split('\n')) {
    const m = /^ {2}([A-Za-z]\w*) = (\([^)]*\)|-?\d[\d.e+-]*)(?: {3}|$)/.exec(line)
    if (m) n[m[1]] = m[2].startsWith('(') ? m[2].slice(1, -1).split(',').map(Number) : Number(m[2])
  }
  return n
}

/** The same from the JSON. */
export function fromJson(recipe) {
  const n = {}
  for (const { name, path } of recipe.equations.symbols) n[name] = path.split('.').reduce((at, key) => at[key], recipe)
  for (const { id, value } of recipe.deviations) n[id] = value
  return n
}

// From readings to a direction

function angleOf(n, i, reading) {
  const x = reading + n[`shift${i}`]
  if (`base${i}` in n) {
    const base = n[`base${i}`]
    const rod = n[`rod${i}`]
    const length = n[`length${i}`] + x / n[`perMm${i}`]
    return n[`dir${i}`] * (acos((base ** 2 + rod ** 2 - length ** 2) / (2 * base * rod)) - n[`phi${i}`])
  }
  if (`perDeg${i}` in n) return (x - n[`counts${i}`]) / n[`perDeg${i}`]
  return x
}

export function direction(n, reading1, reading2) {
  const T = angleOf(n, 1, reading1) * (1 + (n.scale1 ?? 0)) + n.zero1
  const S = angleOf(n, 2, reading2) * (1 + (n.scale2 ?? 0)) + n.zero2
  const b = rot(rot(n.C, n.Q, n.s2 * S), n.P, n.s1 * T)
  const e = atan2(b[2], Math.sqrt(b[0] ** 2 + b[1] ** 2))
  const az = atan2(b[0], b[1])
  return { T, S, az: az < 0 ? az + 360 : az, el: e - n.droop * cos(e) }
}

// From a direction to readings

function readingOf(n, i, angle) {
  if (`base${i}` in n) {
    const corner = n[`dir${i}`] * angle + n[`phi${i}`]
    if (!(corner > 0 && corner < 180)) return null
    const base = n[`base${i}`]
    const rod = n[`rod${i}`]
    const length = Math.sqrt(base ** 2 + rod ** 2 - 2 * base * rod * cos(corner))
    return (length - n[`length${i}`]) * n[`perMm${i}`] - n[`shift${i}`]
  }
  if (`perDeg${i}` in n) return angle * n[`perDeg${i}`] + n[`counts${i}`] - n[`shift${i}`]
  return angle - n[`shift${i}`]
}

/** Null: out of reach. */
export function readings(n, az, el) {
  let e = el
  for (let i = 0; i < n.droopRounds; i++) e = el + n.droop * cos(e)
  const t = vec(az, e)
  const z = dot(n.P, t)
  const k = dot(n.P, n.Q)
  const m = dot(n.Q, n.C)
  const a = dot(n.P, n.C) - k * m
  const b = dot(n.P, cross(n.Q, n.C))
  const x = (z - k * m) / Math.sqrt(a ** 2 + b ** 2)
  if (Math.abs(x) > 1 + 1e-9) return null
  const half = acos(Math.max(-1, Math.min(1, x)))
  let best = null
  for (const turn of [atan2(b, a) + half, atan2(b, a) - half]) {
    const g = rot(n.C, n.Q, turn)
    const T0 = n.s1 * atan2(dot(n.P, cross(g, t)), dot(g, t) - z * dot(n.P, g))
    const S0 = n.s2 * turn - 360 * Math.round((n.s2 * turn) / 360)
    for (const i of [-2, -1, 0, 1, 2])
      for (const j of [-2, -1, 0, 1, 2]) {
        const T = T0 + 360 * i
        const S = S0 + 360 * j
        const lower = readingOf(n, 1, (T - n.zero1) / (1 + (n.scale1 ?? 0)))
        const upper = readingOf(n, 2, (S - n.zero2) / (1 + (n.scale2 ?? 0)))
        if (lower === null || upper === null) continue
        const out = Math.max(n.min1 - lower, lower - n.max1, n.min2 - upper, upper - n.max2)
        if (out > 0.000001) continue
        const far = (T - n.mid1) ** 2 + (S - n.mid2) ** 2
        if (best === null || far < best.far) best = { T, S, lower, upper, far }
      }
  }
  return best
}

// Air

export function lifted(n, h) {
  const lift = a => Math.max(0, (0.0000572957795 * n.N) / tan(a + 7.31 / (a + 4.4)))
  let el = h
  for (let i = 0; i < n.airRounds; i++) el = h + lift(el)
  return el
}

// Where P, Q, C and droop come from

export function built(n) {
  const of = name => n[name] ?? 0
  const { A1, A2, B0, U0 } = n
  let R
  if ('D1' in n) {
    const [first, second] = 'leanNorth' in n ? ['leanNorth', 'leanEast'] : ['poleEast', 'poleUp']
    const W = plus(times(cross(A1, n.D1), of(first)), times(cross(A1, n.D2), of(second)))
    R = v => (long(W) === 0 ? v : rot(v, times(W, 1 / long(W)), long(W)))
  } else R = v => rot(rot(v, cross(A1, [0, 0, 1]), of('level')), [0, 0, 1], -of('heading'))
  const right = of('squintRight') - n.bdf * atan(of('feedRight') / n.f)
  const up = of('squintUp') - n.bdf * atan(of('feedUp') / n.f)
  const b1 = rot(B0, cross(B0, U0), up)
  const b2 = rot(b1, U0, -right)
  const c0 = cross(B0, A2)
  return {
    P: R(A1),
    Q: R(plus(times(A2, cos(of('squareness'))), times(A1, sin(of('squareness'))))),
    C: R(rot(b2, times(c0, 1 / long(c0)), of('collimation'))),
    droop: of('sag') - (57.2957795131 * n.bdf * of('feedDroop')) / n.f,
  }
}
