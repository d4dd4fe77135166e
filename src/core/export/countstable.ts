/**
 * The counts-to-angle table of a counted axis as built: for tracking software that can take a table, since a jack's angle
 * is no straight line of its counts. Readings in counts; degrees out: these are figures to hand over.
 */
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import { SLOTS } from '../mount/slots.ts'
import { angleFromReading, countsSteps } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Station } from '../records/station.ts'
import { type Deg, degFromRad } from '../units.ts'

export interface CountsRow {
  reading: number
  /** The true angle, by the solved readout; play left aside. */
  angleDeg: Deg
  /** The angle that the readout has on paper; null outside its triangle. */
  paperDeg: Deg | null
  /** How sure the angle is: σ of zero, scale and arms together. */
  sigmaDeg: Deg
}

export interface CountsTable {
  axis: Axis
  /** Counts between rows, but for the two ends. */
  step: number
  /** From the lower limit to the upper. */
  rows: CountsRow[]
  /** The worst that straight lines between neighbouring rows are off. */
  betweenDeg: Deg
  /** The best straight line through the whole range (least squares), and the worst that it is off. */
  line: { degPerCount: number; degAtZero: Deg; worstDeg: Deg }
}

/** Samples of a step, to find what lies between rows. */
const FINE = 8

/** 1, 2 or 5 times a power of ten, at least 1: about `wanted` steps in the range. */
export function roundStep(range: number, wanted: number): number {
  const least = Math.max(1, range / Math.max(1, wanted))
  const power = 10 ** Math.floor(Math.log10(least))
  const times = [1, 2, 5, 10].find(k => k * power >= least * (1 - 1e-9))!
  return times * power
}

/**
 * @param C       SLOTS × SLOTS covariance of the mount as built
 * @param wanted  about how many rows
 * @returns null for an axis read in degrees; a reading where the solved triangle does not close has no row
 */
export function countsTableOf(
  station: Station,
  built: Built,
  C: Float64Array,
  axis: Axis,
  wanted: number,
): CountsTable | null {
  const { readout, minReading, maxReading } = station.model[axis]
  if (!countsSteps(readout)) return null
  const step = roundStep(maxReading - minReading, wanted)
  const readings = [minReading]
  for (let k = Math.floor(minReading / step) + 1; k * step < maxReading; k++) readings.push(k * step)
  readings.push(maxReading)

  const rows: CountsRow[] = []
  for (const reading of readings) {
    const at = trueAngle(station.model, built, axis, reading)
    if (at.kind !== 'angle') continue
    const paper = angleFromReading(readout, reading)
    const slots = AXIS_SLOTS[axis]
    const gradient = new Map<number, number>([
      [slots.zero, 1],
      [slots.scale, at.perScale],
      [slots.base, at.perBase],
      [slots.rod, at.perRod],
      [slots.shift, at.perReading],
    ])
    let variance = 0
    for (const [i, gi] of gradient) for (const [j, gj] of gradient) variance += gi * C[i * SLOTS + j]! * gj
    rows.push({
      reading,
      angleDeg: degFromRad(at.angle),
      paperDeg: paper.kind === 'angle' ? degFromRad(paper.angle) : null,
      sigmaDeg: degFromRad(Math.sqrt(Math.max(0, variance))),
    })
  }

  const angleAt = (x: number): Deg | null => {
    const at = trueAngle(station.model, built, axis, x)
    return at.kind === 'angle' ? degFromRad(at.angle) : null
  }
  let between = 0
  rows.forEach((a, k) => {
    const b = rows[k + 1]
    for (let i = 1; b && i < FINE; i++) {
      const y = angleAt(a.reading + ((b.reading - a.reading) * i) / FINE)
      if (y === null) continue
      between = Math.max(between, Math.abs(y - a.angleDeg - ((b.angleDeg - a.angleDeg) * i) / FINE))
    }
  })
  // Evenly over the range: the rows stand closer at the two limits, and would weigh more there.
  const even = FINE * readings.length
  const fine = Array.from({ length: even + 1 }, (_, k) => minReading + ((maxReading - minReading) * k) / even).flatMap(
    x => {
      const y = angleAt(x)
      return y === null ? [] : [{ x, y }]
    },
  )
  return {
    axis,
    step,
    rows,
    betweenDeg: between,
    line: bestLine(fine),
  }
}

/** Least squares, about the middle of the points so that nothing cancels. */
function bestLine(points: readonly { x: number; y: number }[]): CountsTable['line'] {
  const n = Math.max(1, points.length)
  const mx = points.reduce((a, p) => a + p.x, 0) / n
  const my = points.reduce((a, p) => a + p.y, 0) / n
  const xx = points.reduce((a, p) => a + (p.x - mx) ** 2, 0)
  const xy = points.reduce((a, p) => a + (p.x - mx) * (p.y - my), 0)
  const slope = xx === 0 ? 0 : xy / xx
  return {
    degPerCount: slope,
    degAtZero: my - slope * mx,
    worstDeg: points.reduce((worst, p) => Math.max(worst, Math.abs(p.y - my - slope * (p.x - mx))), 0),
  }
}
