/**
 * What a feed off the axis costs even when the dish is pointed right: the wave across the aperture is no longer flat. Worked out by
 * summing the field over the aperture, the feed's path lengths exact. Millimetres, radians, dB one way.
 * Source of the idea: Ruze 1965, Lateral feed displacement in a paraboloid, IEEE AP-13, 660 (from memory).
 */
import type { MHz, Mm, Rad } from '../units.ts'
import { wavelengthM } from './optics.ts'

interface Coma {
  /** Loss at the best pointing, against the feed on the axis. */
  lossDb: number
  /** How far the beam moved, as a share of the feed's own angle atan(d/f): the beam deviation factor of this feed. */
  deviation: number
}

/** Edge of the aperture below its middle, -10 dB (common practice); the field falls as 1 - (1 - τ) ρ². */
const EDGE = 10 ** (-10 / 20)
const RINGS = 24
const SPOKES = 48

/** @param lateral feed from the axis, mm @param radius of the rim, mm */
export function comaOf(lateral: Mm, focalLength: Mm, radius: Mm, frequency: MHz): Coma {
  const d = Math.abs(lateral)
  const feedAngle = Math.atan(d / focalLength)
  if (feedAngle === 0) return { lossDb: 0, deviation: 0 }
  const k = (2 * Math.PI) / (1000 * wavelengthM(frequency))
  // Rings of equal area, the middle of each; x along the displacement.
  const cells: { x: number; path: number; field: number }[] = []
  for (let i = 0; i < RINGS; i++) {
    const rho2 = (i + 0.5) / RINGS
    const r = radius * Math.sqrt(rho2)
    const z = (r * r) / (4 * focalLength)
    const field = 1 - (1 - EDGE) * rho2
    for (let j = 0; j < SPOKES; j++) {
      const angle = (2 * Math.PI * (j + 0.5)) / SPOKES
      const x = r * Math.cos(angle)
      const y = r * Math.sin(angle)
      cells.push({ x, path: Math.hypot(x - d, y, z - focalLength) - Math.hypot(x, y, z - focalLength), field })
    }
  }
  const powerAt = (tilt: Rad): number => {
    let re = 0
    let im = 0
    for (const c of cells) {
      // The far point at an angle on the other side of the axis is nearer to +x by -x tilt.
      const phase = k * (c.path + c.x * tilt)
      re += c.field * Math.cos(phase)
      im += c.field * Math.sin(phase)
    }
    return re * re + im * im
  }
  // The best tilt lies between half and all of the feed's angle; golden section, then done.
  const G = (Math.sqrt(5) - 1) / 2
  let a = 0.4 * feedAngle
  let b = 1.1 * feedAngle
  for (let step = 0; step < 40; step++) {
    const c = b - G * (b - a)
    const e = a + G * (b - a)
    if (powerAt(c) > powerAt(e)) b = e
    else a = c
  }
  const best = (a + b) / 2
  const flat = cells.reduce((s, c) => s + c.field, 0) ** 2
  return { lossDb: Math.max(0, -10 * Math.log10(powerAt(best) / flat)), deviation: best / feedAngle }
}
