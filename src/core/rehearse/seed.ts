/**
 * Seeded random numbers of a rehearsal: the same seed gives the same dish on every phone. Whatever fluctuates (a level, a hand with a
 * tape) draws from `chanceAbout` its seed and its subject, so looking twice in the same second shows the same.
 */
export interface Chance {
  /** Uniform in [0, 1). */
  next(): number
  /** Uniform in [a, b). */
  between(a: number, b: number): number
  /** A whole number in [a, b]. */
  whole(a: number, b: number): number
  /** Gaussian with σ about 0, cut off at `most` σ (by drawing again). */
  normal(sigma: number, most?: number): number
  one<T>(list: readonly T[]): T
  sign(): 1 | -1
}

/** mulberry32. */
export function chance(seed: number): Chance {
  let a = seed | 0
  const next = (): number => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  const normal = (sigma: number, most = Infinity): number => {
    for (;;) {
      const x = Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
      if (Math.abs(x) <= most) return sigma * x
    }
  }
  return {
    next,
    between: (from, to) => from + (to - from) * next(),
    whole: (from, to) => from + Math.floor((to - from + 1) * next()),
    normal,
    one: list => list[Math.floor(next() * list.length)]!,
    sign: () => (next() < 0.5 ? 1 : -1),
  }
}

/** Independent random numbers for each subject of a seed. Source of the mixing: FNV-1a, 32 bit. */
export function chanceAbout(seed: number, ...about: readonly (string | number)[]): Chance {
  let hash = 0x811c9dc5 ^ seed
  for (const letter of about.join('|')) hash = Math.imul(hash ^ letter.codePointAt(0)!, 0x01000193)
  return chance(hash)
}
