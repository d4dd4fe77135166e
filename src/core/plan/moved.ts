/**
 * After a storm, one sighting: the dish is peaked on the Sun by its signal, and the feed's shadow read in the same pose. Where the
 * shadow falls while the beam is on the Sun depends on neither mount nor counters. Changed: the feed or the dish was bent.
 * Unchanged: mount or counter, and the miss of the signal says by how much and which axis fits it best. Dish frame as seen
 * from behind; radians, millimetres, true UTC.
 */
import { sunFromShadow } from '../dish/shadow.ts'
import { offsetInPose, offsetPartials } from '../fit/residuals.ts'
import { builtFor, type Solved } from '../fit/solution.ts'
import { poseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, lowerAxisIds, SLOT, SLOTS } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis, ParameterId } from '../records/fieldbook.ts'
import type { Feed } from '../records/station.ts'
import { apparentPlace } from '../sky/targets.ts'
import type { Mm, Rad, UtcMs } from '../units.ts'

export interface StormSighting {
  utcMs: UtcMs
  lower: number
  upper: number
  /** Where the shadow fell, mm right and up of the vertex as seen from behind; null: not read (cloud). */
  shadow: { rightMm: Mm; upMm: Mm } | null
  /** σ of the peak (each way) and of the shadow's place. Defaults 0.1 HPBW, 8 mm. */
  sigmaPeak?: Rad
  sigmaShadowMm?: Mm
}

/** One thing that may have moved, and how well it explains the miss. */
export interface Culprit {
  id: ParameterId
  /** By how much it would have changed, radians, and σ. */
  change: Rad
  sigma: Rad
  /** For a zero of an axis in counts: the change of its reading that this is. */
  counts: number | null
  /** What of the miss it leaves, χ² of one coordinate: below 4 it explains the miss. */
  leftChi2: number
}

export interface StormCheck {
  verdict: /** Both agree with the mount as it was. */
    | 'as-before'
    /** The shadow at the peak has moved: feed or dish. */
    | 'feed-or-dish'
    /** The shadow at the peak is where it was: mount or counter. */
    | 'mount-or-counter'
    /** Shadow moved and a miss besides that the feed does not explain. */
    | 'both'
    /** The signal misses; without the shadow nobody can tell which. */
    | 'moved'
  /** Signal: where the Sun was found by the peak minus where the mount as it was puts it; right, up; its χ² (two coordinates). */
  miss: { right: Rad; up: Rad; sigmaRight: Rad; sigmaUp: Rad; chi2: number }
  /** Shadow at the peak minus where it was before; mm; null without a shadow. */
  shadow: { rightMm: Mm; upMm: Mm; sigmaRight: Mm; sigmaUp: Mm; chi2: number } | null
  /** The feed's move that explains the shadow's: mm right and up, σ each. */
  feed: { rightMm: Mm; upMm: Mm; sigmaMm: Mm } | null
  /** What explains the miss, best first; empty where there is none. */
  culprits: Culprit[]
  /** The best explains the miss and the next does not. */
  isClear: boolean
}

/** χ² of two coordinates that chance passes once in a hundred; an unexplained one-coordinate rest that it passes once in twenty. */
const MOVED = 9.21
const EXPLAINED = 3.84

interface Two {
  x: number
  y: number
  cov: [number, number, number]
}

const chi2Of = ({ x, y, cov: [xx, xy, yy] }: Two): number => {
  const det = xx * yy - xy * xy
  return det > 0 ? (yy * x * x - 2 * xy * x * y + xx * y * y) / det : 0
}

/** @returns null when a jack's triangle does not close at the readings */
export function stormCheck(solved: Solved, feed: Feed, s: StormSighting): StormCheck | null {
  const { station } = solved
  const { model } = station
  const { built, covariance: C } = builtFor(solved, s.utcMs, feed)
  const T = trueAngle(model, built, 'lower', s.lower)
  const S = trueAngle(model, built, 'upper', s.upper)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const sun = { type: 'sun' } as const
  const radio = apparentPlace(sun, s.utcMs, station.site, 'radio').direction
  const optical = apparentPlace(sun, s.utcMs, station.site, 'optical').direction
  const J = new Float64Array(2 * SLOTS)
  const K = new Float64Array(2 * SLOTS)
  const beam = offsetPartials(model, built, 'beam', radio, s.lower, s.upper, 0, 0, J)!
  offsetPartials(model, built, 'shadow', optical, s.lower, s.upper, 0, 0, K)
  const peak = (s.sigmaPeak ?? 0.1 * feed.hpbw) ** 2
  const steps = countNoise(solved, built, s, J)
  // On the peak the Sun stands in the beam: offset 0. The mount as it was puts it at `beam`, so it is wrong by the opposite.
  const own = form(J, C)
  const miss: Two = {
    x: -beam[0],
    y: -beam[1],
    cov: [own[0] + peak + steps[0], own[1] + steps[1], own[2] + peak + steps[2]],
  }

  let shadow: StormCheck['shadow'] = null
  let feedMove: StormCheck['feed'] = null
  let shadowChi2 = 0
  const f = model.focalLength
  if (s.shadow !== null) {
    // The Sun's offset from the shadow line less its offset from the beam: only feed, squint and sinking are left in it.
    const seen = offsetInPose(poseAt(model, built, T.angle, S.angle, 'shadow'), optical)
    const measured = sunFromShadow(f, s.shadow.rightMm, s.shadow.upMm)
    const D = K.map((k, i) => k - J[i]!)
    const before = form(D, C)
    const read = ((s.sigmaShadowMm ?? 8) / f) ** 2 + peak
    const two: Two = {
      x: measured.right - (seen[0] - beam[0]),
      y: measured.up - (seen[1] - beam[1]),
      cov: [before[0] + read, before[1], before[2] + read],
    }
    shadowChi2 = chi2Of(two)
    // The shadow falls opposite to the Sun.
    shadow = {
      rightMm: -f * two.x,
      upMm: -f * two.y,
      sigmaRight: f * Math.sqrt(two.cov[0]),
      sigmaUp: f * Math.sqrt(two.cov[2]),
      chi2: shadowChi2,
    }
    // Shadow line minus beam turns by (1 + BDF)/f for a millimetre; the Sun's offset from the line by the opposite.
    const per = (1 + model.bdf) / f
    feedMove = {
      rightMm: -two.x / per,
      upMm: -two.y / per,
      sigmaMm: Math.sqrt((two.cov[0] + two.cov[2]) / 2) / per,
    }
  }
  const isFeed = shadowChi2 > MOVED
  // A feed that moved takes the beam with it: that part of the miss is its own.
  const rest: Two =
    isFeed && feedMove !== null
      ? {
          x: miss.x - (model.bdf * feedMove.rightMm) / f,
          y: miss.y - (model.bdf * feedMove.upMm) / f,
          cov: [
            miss.cov[0] + ((model.bdf * feedMove.sigmaMm) / f) ** 2,
            miss.cov[1],
            miss.cov[2] + ((model.bdf * feedMove.sigmaMm) / f) ** 2,
          ],
        }
      : miss
  const restChi2 = chi2Of(rest)
  const culprits = restChi2 > MOVED ? culpritsOf(solved, built, s, rest, J) : []
  return {
    verdict:
      isFeed && restChi2 > MOVED
        ? 'both'
        : isFeed
          ? 'feed-or-dish'
          : restChi2 > MOVED
            ? shadow === null
              ? 'moved'
              : 'mount-or-counter'
            : 'as-before',
    miss: {
      right: miss.x,
      up: miss.y,
      sigmaRight: Math.sqrt(miss.cov[0]),
      sigmaUp: Math.sqrt(miss.cov[2]),
      chi2: chi2Of(miss),
    },
    shadow,
    feed: isFeed ? feedMove : null,
    culprits,
    isClear:
      culprits.length > 0 &&
      culprits[0]!.leftChi2 < EXPLAINED &&
      (culprits.length === 1 || culprits[1]!.leftChi2 - culprits[0]!.leftChi2 > EXPLAINED),
  }
}

/** J C Jᵀ of two rows: xx, xy, yy. */
function form(J: Float64Array, C: Float64Array): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0]
  for (let i = 0; i < SLOTS; i++)
    for (let j = 0; j < SLOTS; j++) {
      const c = C[i * SLOTS + j]!
      out[0] += J[i]! * c * J[j]!
      out[1] += J[i]! * c * J[SLOTS + j]!
      out[2] += J[SLOTS + i]! * c * J[SLOTS + j]!
    }
  return out
}

const ZEROS = { lower: SLOT.lowerZero, upper: SLOT.upperZero } as const

/** Radians of true angle per reading; a count's resolution on the sky comes from it. */
function perReading(solved: Solved, built: Built, axis: Axis, reading: number): number {
  const at = trueAngle(solved.station.model, built, axis, reading)
  return at.kind === 'angle' ? at.perReading : 0
}

function countNoise(solved: Solved, built: Built, s: StormSighting, J: Float64Array): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0]
  for (const axis of ['lower', 'upper'] as const) {
    if (!countsSteps(solved.station.model[axis].readout)) continue
    const k = perReading(solved, built, axis, s[axis]) / Math.sqrt(12)
    const x = J[ZEROS[axis]]! * k
    const y = J[SLOTS + ZEROS[axis]]! * k
    out[0] += x * x
    out[1] += x * y
    out[2] += y * y
  }
  return out
}

/** Each of the two zeros and the lower axis's two angles as the only one that moved: least squares of the miss along its way. */
function culpritsOf(solved: Solved, built: Built, s: StormSighting, miss: Two, J: Float64Array): Culprit[] {
  const { model } = solved.station
  const [xx, xy, yy] = miss.cov
  const det = xx * yy - xy * xy
  const inner = (a: [number, number], b: [number, number]): number =>
    (yy * a[0] * b[0] - xy * (a[0] * b[1] + a[1] * b[0]) + xx * a[1] * b[1]) / det
  const whole = chi2Of(miss)
  const [a, b] = lowerAxisIds(model.kind)
  const list: [ParameterId, number, Axis | null][] = [
    ['lowerZero', SLOT.lowerZero, 'lower'],
    ['upperZero', SLOT.upperZero, 'upper'],
    [a, SLOT.axisA, null],
    [b, SLOT.axisB, null],
  ]
  return list
    .flatMap(([id, slot, axis]): Culprit[] => {
      const way: [number, number] = [J[slot]!, J[SLOTS + slot]!]
      const own = inner(way, way)
      // An axis that does not move the beam here explains nothing.
      if (!(Math.hypot(way[0], way[1]) > 0.05)) return []
      const change = inner(way, [miss.x, miss.y]) / own
      const per = axis === null || !countsSteps(model[axis].readout) ? null : perReading(solved, built, axis, s[axis])
      return [
        {
          id,
          change,
          sigma: 1 / Math.sqrt(own),
          // The true angle is larger than read: the counter shows so much too little.
          counts: per === null || per === 0 ? null : -change / per,
          leftChi2: Math.max(0, whole - change * change * own),
        },
      ]
    })
    .sort((p, q) => p.leftChi2 - q.leftChi2)
}
