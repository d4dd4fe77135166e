/**
 * A compass rose seen from above, north up: the Sun's line (thin toward the Sun, heavy where the shadow falls) and the way the mount faces.
 * True azimuths in degrees in, drawing units out. Letters of the winds stand inside the ring, words of the lines outside; none overlap.
 */
export interface Rose {
  /** Null where the Sun casts no shadow now. */
  sunAzDeg: number | null
  shadowAzDeg: number | null
  /** Null for a mount that has no heading, and where none is given. */
  headingDeg: number | null
}

export interface RoseShapes {
  size: number
  centre: number
  radius: number
  ticks: { x1: number; y1: number; x2: number; y2: number; isWind: boolean }[]
  winds: { word: string; x: number; y: number }[]
  lines: { kind: 'sun' | 'shadow' | 'mount'; x1: number; y1: number; x2: number; y2: number; head: string | null }[]
  labels: { kind: 'sun' | 'shadow' | 'mount'; word: string; x: number; y: number }[]
  words: string[]
}

export const ROSE_SIZE = 320
const RADIUS = 104
const WIND_AT = 76
const LABEL_AT = 136
/** The mount's mark stands on the ring, outside, clear of the letters. */
const MARK_AT = 120
/** Words closer than this along the ring would touch. */
export const APART_DEG = 24
/** Advance of a letter of the labels, rather too wide. */
const LETTER = 9.2
const WORDS = { sun: 'Sun', shadow: 'shadow', mount: 'mount' } as const
const LONG = { sun: 'The Sun stands at', shadow: 'the shadow falls toward', mount: 'the mount faces' } as const

const at = (azDeg: number, r: number): { x: number; y: number } => {
  const a = (azDeg * Math.PI) / 180
  return { x: ROSE_SIZE / 2 + r * Math.sin(a), y: ROSE_SIZE / 2 - r * Math.cos(a) }
}

/** A word about its middle, whole inside the drawing: one due east or west is drawn in a little. */
function inside({ x, y }: { x: number; y: number }, word: string): { x: number; y: number } {
  const half = (LETTER * word.length) / 2 + 1
  return { x: Math.min(Math.max(x, half), ROSE_SIZE - half), y }
}

function head(azDeg: number, r: number): string {
  const [tip, left, right] = [at(azDeg, r), at(azDeg - 5, r - 16), at(azDeg + 5, r - 16)]
  const corners = [tip, left, right].map(p => `${p.x.toFixed(1)} ${p.y.toFixed(1)}`)
  return `M${corners.join(' L')} Z`
}

/** From a to b the short way, degrees, -180 to 180. */
const between = (a: number, b: number): number => ((((b - a + 180) % 360) + 360) % 360) - 180

export function rose({ sunAzDeg, shadowAzDeg, headingDeg }: Rose): RoseShapes {
  const centre = ROSE_SIZE / 2
  const given = [
    ['sun', sunAzDeg],
    ['shadow', shadowAzDeg],
    ['mount', headingDeg],
  ] as const
  const lines: RoseShapes['lines'] = []
  const labels: RoseShapes['labels'] = []
  const taken: number[] = []
  for (const [kind, azDeg] of given) {
    if (azDeg === null) continue
    const isArrow = kind !== 'sun'
    const tip = kind === 'mount' ? MARK_AT : RADIUS
    const from = at(azDeg, kind === 'mount' ? RADIUS : 0)
    const end = at(azDeg, isArrow ? tip - 10 : tip)
    lines.push({ kind, x1: from.x, y1: from.y, x2: end.x, y2: end.y, head: isArrow ? head(azDeg, tip) : null })
    // Beside a word that stands there already, on the side where this one is.
    let label = azDeg
    for (const other of taken) {
      const off = between(other, label)
      if (Math.abs(off) < APART_DEG) label = other + (off < 0 ? -APART_DEG : APART_DEG)
    }
    taken.push(label)
    labels.push({ kind, word: WORDS[kind], ...inside(at(label, LABEL_AT), WORDS[kind]) })
  }
  return {
    size: ROSE_SIZE,
    centre,
    radius: RADIUS,
    ticks: Array.from({ length: 36 }, (_, k) => {
      const isWind = k % 9 === 0
      const [a, b] = [at(10 * k, RADIUS), at(10 * k, RADIUS - (isWind ? 12 : k % 3 === 0 ? 9 : 5))]
      return { x1: a.x, y1: a.y, x2: b.x, y2: b.y, isWind }
    }),
    winds: (['N', 'E', 'S', 'W'] as const).map((word, k) => ({ word, ...at(90 * k, WIND_AT) })),
    lines,
    labels,
    words: [
      `${given
        .filter(([, azDeg]) => azDeg !== null)
        .map(([kind, azDeg]) => `${LONG[kind]} ${Math.round(azDeg!) % 360}°`)
        .join(', ')}; true azimuths.`,
    ],
  }
}
