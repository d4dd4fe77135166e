/**
 * Taps instead of figures while a target drifts through: the level rises through a place of the needle and later falls through
 * the same; halfway between the two moments lies the peak. Or the moment of the peak itself, ten times less sharp. Seconds.
 */
import type { TapMark } from '../records/scans.ts'
import { sigmaAtLevel } from './midpoint.ts'

interface TapPair {
  fromS: number
  toS: number
}

export interface Paired {
  pairs: TapPair[]
  /** Rising ones that wait for their fall, the next one last. */
  open: number[]
  peaks: number[]
}

/** What rose last falls first: each fall belongs to the last rising mark that is still open. */
export function pairsOf(marks: readonly TapMark[]): Paired {
  const out: Paired = { pairs: [], open: [], peaks: [] }
  for (const { s, mark } of [...marks].sort((a, b) => a.s - b.s)) {
    if (mark === 'rising') out.open.push(s)
    else if (mark === 'peak') out.peaks.push(s)
    else {
      const fromS = out.open.pop()
      if (fromS !== undefined && mark === 'same') out.pairs.push({ fromS, toS: s })
    }
  }
  return out
}

interface TappedPeak {
  s: number
  sigmaS: number
  from: 'pairs' | 'peaks'
  count: number
  /** Scatter of one pair's middle; null with one. */
  spreadS: number | null
}

/** How well a needle is seen to pass a place, and a finger follows. Common practice, no source. */
const NEEDLE_DB = 0.2
const FINGER_S = 0.5
/** Peaking by ear: a tenth of a beamwidth, as for a sighting at the strongest signal. */
const PEAKING = 0.1

/**
 * The moment of the peak; null without a pair and without a peak. Pairs far apart are sharper than close ones, since the level
 * falls faster there: they are weighed so. σ is not below what the middles scatter by.
 *
 * @param widthS  full width at half power, seconds
 */
export function tappedPeak({ pairs, peaks }: Paired, widthS: number): TappedPeak | null {
  const middles = pairs.map(p => {
    const half = Math.max((p.toS - p.fromS) / 2, widthS / 50)
    // Beyond one width from the peak a beam is no Gaussian any more, and the sky's level takes over: no sharper than there.
    const drop = 12.04 * (Math.min(half, widthS) / widthS) ** 2
    const each = Math.hypot(sigmaAtLevel(drop, widthS, NEEDLE_DB), FINGER_S)
    return { s: (p.fromS + p.toS) / 2, sigma: each / Math.SQRT2 }
  })
  const from = middles.length > 0 ? 'pairs' : 'peaks'
  const list = from === 'pairs' ? middles : peaks.map(s => ({ s, sigma: Math.hypot(PEAKING * widthS, FINGER_S) }))
  if (list.length === 0) return null
  const weight = list.reduce((a, m) => a + m.sigma ** -2, 0)
  const s = list.reduce((a, m) => a + m.s * m.sigma ** -2, 0) / weight
  const n = list.length
  const spreadS = n === 1 ? null : Math.sqrt(list.reduce((a, m) => a + (m.s - s) ** 2, 0) / (n - 1))
  // Several taps for one peak share the slowness of the ear: their mean is no sharper than one.
  const inner = from === 'pairs' ? weight ** -0.5 : list[0]!.sigma
  return { s, sigmaS: Math.max(inner, (spreadS ?? 0) / Math.sqrt(n)), from, count: n, spreadS }
}
