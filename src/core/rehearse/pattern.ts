/**
 * The beam's pattern, side lobes included: a round aperture lit most strongly in the middle. Degrees, power ratios.
 *
 * Lighting over the aperture: E(ρ) = C + (1 - C)(1 - ρ²), a parabola on a pedestal of -12 dB, the usual picture of a dish that is
 * lit by a feed (Stutzman & Thiele, table of tapered apertures, from memory). Its far field is closed:
 * F(u) = [C Λ1(u) + (1 - C)/2 Λ2(u)] / [C + (1 - C)/2], Λn(u) = 2ⁿ n! Jn(u)/uⁿ, u = π (D/λ) sin θ.
 * What a feed off the axis does to the shape (coma) is left out: the beam moves, the shape stays.
 */
import { DEG } from '../units.ts'

const PEDESTAL = 10 ** (-12 / 20)
/** The floor of the pattern: scatter from struts, surface and back. Common practice, no source. */
const LEAST = 1e-5

/**
 * Jn(x), n whole, x ≥ 0: the mean of cos(nt - x sin t) round the circle. The sum over a period gains digits exponentially once it
 * has more points than x; with these it is good to 1e-12.
 */
export function bessel(n: number, x: number): number {
  const points = 40 + n + 2 * Math.ceil(x)
  let sum = 0
  for (let k = 0; k < points; k++) {
    const t = (2 * Math.PI * (k + 0.5)) / points
    sum += Math.cos(n * t - x * Math.sin(t))
  }
  return sum / points
}

/** Field of the aperture at u, 1 on the axis. */
export function farField(u: number): number {
  if (u < 1e-4) return 1
  const first = (2 * bessel(1, u)) / u
  const second = (8 * bessel(2, u)) / (u * u)
  const rest = (1 - PEDESTAL) / 2
  return (PEDESTAL * first + rest * second) / (PEDESTAL + rest)
}

/** Where the power is down by half. The tests find it again from the aperture. */
export const HALF_POWER_U: number = (() => {
  let [low, high] = [1, 3]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (farField(middle) ** 2 > 0.5) low = middle
    else high = middle
  }
  return low
})()

/** Power at an angle from the beam's axis, 1 on it. @param hpbwDeg  the beamwidth at half power, all across */
export function power(offDeg: number, hpbwDeg: number): number {
  if (offDeg >= 90) return LEAST
  const u = (HALF_POWER_U * Math.sin(offDeg * DEG)) / Math.sin((hpbwDeg / 2) * DEG)
  return Math.max(LEAST, farField(u) ** 2)
}

/** The radius of rings that part a disc into equal areas, and how many points on each. */
const RINGS: readonly [part: number, points: number][] = [
  [0, 1],
  [0.54, 6],
  [0.86, 12],
]

/**
 * Mean power over a disc that stands off the beam's axis. @param off  degrees right and up of the beam
 */
export function powerOverDisc(off: readonly [number, number], discDeg: number, hpbwDeg: number): number {
  let sum = 0
  let count = 0
  for (const [part, points] of RINGS)
    for (let k = 0; k < points; k++) {
      const a = (2 * Math.PI * k) / points
      const r = (part * discDeg) / 2
      sum += power(Math.hypot(off[0] + r * Math.cos(a), off[1] + r * Math.sin(a)), hpbwDeg)
      count++
    }
  return sum / count
}
