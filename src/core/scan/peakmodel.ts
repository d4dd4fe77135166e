/** What a scan's fit is made of: the samples, the model P = A exp(-4 ln 2 |d|²/w²) + Σ c_j base_j and its gradient. */

const K = 4 * Math.LN2

export interface PeakPoint {
  /** Place of the sample: one or two coordinates. */
  at: readonly number[]
  /** Linear power. */
  level: number
  /** What each base coefficient is multiplied by, usually 1 and the time. */
  base: readonly number[]
  /** What each shift parameter adds to the peak's place for this sample, one vector a parameter. */
  shifts: readonly (readonly number[])[]
}

export interface PeakOptions {
  /** Full width at half power; null: free. */
  width: number | null
  /** A free width is looked for between these. */
  widths: readonly [number, number]
  /** 'proportional': each sample's noise goes with its own power, as in readings that scatter evenly in dB. */
  noise: 'even' | 'proportional'
  /** Where the first shifts (one for each coordinate) are looked for. */
  range: readonly (readonly [number, number])[]
}

/** How many values of each kind: the shifts, then the width when it is free, then A, then the base's coefficients. */
export interface PeakProblem {
  points: readonly PeakPoint[]
  shifts: number
  bases: number
  free: boolean
  o: PeakOptions
}

export const sizeOf = (p: PeakProblem): number => p.shifts + (p.free ? 1 : 0) + 1 + p.bases

/** Model and its gradient at one sample. */
export function evaluate(p: PeakProblem, values: Float64Array, i: number, gradient: Float64Array | null): number {
  const { at, base, shifts } = p.points[i]!
  const w = p.free ? values[p.shifts]! : p.o.width!
  const a = p.shifts + (p.free ? 1 : 0)
  let d2 = 0
  const d = [0, 0]
  for (let c = 0; c < at.length; c++) {
    let x = at[c]!
    for (let k = 0; k < p.shifts; k++) x -= values[k]! * shifts[k]![c]!
    d[c] = x
    d2 += x * x
  }
  const g = Math.exp((-K * d2) / (w * w))
  const height = values[a]!
  let level = height * g
  for (let j = 0; j < p.bases; j++) level += values[a + 1 + j]! * base[j]!
  if (gradient !== null) {
    const per = (2 * K * height * g) / (w * w)
    for (let k = 0; k < p.shifts; k++) {
      let along = 0
      for (let c = 0; c < at.length; c++) along += d[c]! * shifts[k]![c]!
      gradient[k] = per * along
    }
    if (p.free) gradient[p.shifts] = (per * d2) / w
    gradient[a] = g
    for (let j = 0; j < p.bases; j++) gradient[a + 1 + j] = base[j]!
  }
  return level
}

export const median = (list: readonly number[]): number => {
  const s = [...list].sort((x, y) => x - y)
  return s.length === 0 ? 0 : (s[(s.length - 1) >> 1]! + s[s.length >> 1]!) / 2
}
