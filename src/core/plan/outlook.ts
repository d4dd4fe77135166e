/**
 * What is known over the Moon's month as it stands, and as it would be with more measured: rows are taken into the fit's covariance, and
 * that is followed to the sky. What is worth doing next and the sightings to come both look ahead by it. Radians.
 */
import { drawnErrors } from '../fit/skydraws.ts'
import { floorOf, meanSquareForm, skyPoints, slotCovariance } from '../fit/skyerror.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import { builtFor } from '../fit/solution.ts'
import { type Solved, scatterToCome } from '../fit/solved.ts'
import { traceOfProduct } from '../matrices.ts'
import type { Built } from '../mount/slots.ts'
import type { Feed } from '../records/station.ts'
import { moonPath } from '../sky/moonpath.ts'
import type { Rad, UtcMs } from '../units.ts'
import type { Candidate } from './measurements.ts'
import { beginPass, copyOf, type Pass, take } from './stormrows.ts'

export interface Outlook {
  built: Built
  points: readonly SkyPoint[]
  /** As it stands: nothing more measured, and p95 over the Moon's path. */
  begin: Pass
  p95: Rad
  /** The pass with one more measured; the one given is left as it is. */
  withOne(pass: Pass, k: Candidate): Pass
  /** Mean square error over the path that is still open. */
  openOf(pass: Pass): number
  /** p95 over the path. @param more  a further error of that rms, everywhere */
  p95Of(pass: Pass, more?: Rad): Rad
}

/** @returns null where the Moon is never reached */
export function outlookOf(solved: Solved, feed: Feed, now: UtcMs): Outlook | null {
  const { station } = solved
  const { built, slots } = builtFor(solved, now, feed)
  const points = skyPoints(station, feed, built, moonPath(station.site, now))
  if (points.length === 0) return null
  const floor = floorOf(station, built, points)
  const M = meanSquareForm(points)
  const { priorSigma } = solved.problem
  const covarianceOf = (pass: Pass) => slotCovariance(pass.C, pass.x.length, priorSigma, slots)
  const p95Of = (pass: Pass, more = 0): Rad =>
    drawnErrors(points, covarianceOf(pass), Math.hypot(floor, more)).after.p95
  const begin = beginPass(solved)
  return {
    built,
    points,
    begin,
    p95: p95Of(begin),
    withOne(pass, k) {
      const next = copyOf(pass)
      const scatter = k.step.kind === 'sighting' ? scatterToCome(solved) ** 2 : 1
      for (const row of k.rows) take(solved, next, { ...row, noise: row.noise * scatter })
      return next
    },
    openOf: pass => traceOfProduct(covarianceOf(pass), M),
    p95Of,
  }
}
