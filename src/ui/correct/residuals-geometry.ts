/**
 * What is left at each sighting: where the target stood against the beam as solved (`kit/miss.ts`), right and high in the
 * dish frame, degrees. Equal axes; circles of what is tolerated and of the beam. With `before`, an arrow leads from the
 * error before correction to what is left. Drawing units, y down.
 */
import { degrees, seenText } from '../kit/format.ts'
import { n1, type PlotMark, STATUS_WORDS } from '../kit/marks.ts'
import { missWords } from '../kit/miss.ts'
import { roundAbove } from '../kit/roundabove.ts'

export interface Residuals {
  size?: number
  points: readonly {
    id: string
    rightDeg: number
    upDeg: number
    /** Of the sighting: how many digits its words have. */
    sigmaDeg?: number
    status: 'used' | 'outlier' | 'excluded'
    label: string
    before?: { rightDeg: number; upDeg: number }
  }[]
  toleranceDeg: number
  /** Full width at half power. */
  beamwidthDeg: number
}

export interface ResidualShapes {
  size: number
  centre: number
  /** Degrees from the middle to the frame. */
  rangeDeg: number
  toleranceR: number
  /** null where the beam is wider than the picture. */
  beamR: number | null
  rings: { r: number; label: string }[]
  arrows: { id: string; x1: number; y1: number; x2: number; y2: number }[]
  marks: PlotMark[]
  /** Labels at the frame for what lies off the scale. */
  beyond: { x: number; y: number; text: string }[]
  /** The word "high" stands left of the middle where an arrowhead at the top has its size at the right. */
  highLeft: boolean
  words: string[]
}

const PADDING = 8

/** Room that the size of an arrowhead takes, "12.3°". */
const LABEL = { width: 44, height: 18 }

/** The half width that shows tolerance and every used point, and of the others those within three times that. */
export function residualRange(r: Residuals): number {
  const sizes = (used: boolean) =>
    r.points.filter(p => (p.status === 'used') === used).map(p => Math.hypot(p.rightDeg, p.upDeg))
  const inner = Math.max(1.3 * r.toleranceDeg, 1.1 * Math.max(0, ...sizes(true)))
  const rest = Math.max(0, ...sizes(false).filter(s => 1.1 * s <= 3 * inner))
  return Math.max(inner, 1.1 * rest)
}

const angleText = (deg: number) => degrees(deg, deg < 0.95 ? 2 : deg < 9.5 ? 1 : 0)

export function residualShapes(r: Residuals): ResidualShapes {
  const size = r.size ?? 358
  const centre = size / 2
  const frame = centre - PADDING
  const rangeDeg = residualRange(r)
  const scale = frame / rangeDeg
  const marks: PlotMark[] = []
  const arrows: ResidualShapes['arrows'] = []
  const beyond: ResidualShapes['beyond'] = []
  for (const p of r.points) {
    const length = Math.hypot(p.rightDeg, p.upDeg)
    const says = `${seenText(p.label)}: ${missWords(p, p.sigmaDeg ?? 0.05)}, ${STATUS_WORDS[p.status]}.`
    if (length > rangeDeg) {
      const ux = p.rightDeg / length
      const uy = p.upDeg / length
      // At the square's edge, not the circle's.
      const reach = frame / Math.max(Math.abs(ux), Math.abs(uy))
      const x = centre + (reach - 15) * ux
      const y = centre - (reach - 15) * uy
      marks.push({
        id: p.id,
        shape: 'over',
        x: n1(x),
        y: n1(y),
        says,
        turnDeg: Math.round((Math.atan2(ux, uy) * 180) / Math.PI),
      })
      // Beside the arrowhead, along the frame: further in it would stand on the circle allowed, and be read as its size.
      const along = Math.abs(ux) > Math.abs(uy)
      const size = {
        x: n1(along ? Math.min(Math.max(x, 30), 2 * centre - 30) : x + (x < centre - 12 ? -28 : 28)),
        y: n1(along ? y + (y < centre - 2 ? -20 : 20) : y),
        text: angleText(length),
      }
      // Where another label stands already, a tap on the mark says it.
      if (beyond.every(b => Math.abs(b.x - size.x) > LABEL.width || Math.abs(b.y - size.y) > LABEL.height))
        beyond.push(size)
      continue
    }
    const x = n1(centre + scale * p.rightDeg)
    const y = n1(centre - scale * p.upDeg)
    marks.push({ id: p.id, shape: p.status, x, y, says })
    if (p.before) {
      // An arrow from beyond the frame begins at the frame.
      const far = Math.hypot(p.before.rightDeg, p.before.upDeg)
      const k = far > rangeDeg ? rangeDeg / far : 1
      arrows.push({
        id: p.id,
        x1: n1(centre + scale * k * p.before.rightDeg),
        y1: n1(centre - scale * k * p.before.upDeg),
        x2: x,
        y2: y,
      })
    }
  }
  const step = roundAbove(rangeDeg / 3)
  const rings: ResidualShapes['rings'] = []
  for (let k = 1; k * step <= rangeDeg; k++)
    rings.push({
      r: n1(k * step * scale),
      label: degrees(k * step, Math.max(0, -Math.floor(Math.log10(step) + 1e-9))),
    })
  const used = r.points.filter(p => p.status === 'used')
  const within = used.filter(p => Math.hypot(p.rightDeg, p.upDeg) <= r.toleranceDeg).length
  const words = [
    'Where the target stood against the beam at each sighting, as seen from behind the dish.',
    used.length === 0
      ? 'No sighting is used yet.'
      : `${within} of ${used.length} used sightings lie within the ${angleText(r.toleranceDeg)} allowed.`,
  ]
  for (const p of r.points) if (p.status === 'outlier') words.push(marks.find(m => m.id === p.id)!.says)
  const beamR = (r.beamwidthDeg / 2) * scale
  if (beamR > frame) words.push(`The beam, ${angleText(r.beamwidthDeg)} wide, is wider than the picture.`)
  return {
    size,
    centre,
    rangeDeg,
    toleranceR: n1(r.toleranceDeg * scale),
    beamR: beamR > frame ? null : n1(beamR),
    rings,
    arrows,
    marks,
    beyond,
    highLeft: beyond.some(b => b.x > centre && b.x < centre + 90 && b.y < centre - frame + 40),
    words,
  }
}
