/**
 * What to give a tracking program that cannot take the whole solution: slope and offset per axis, alone or after
 * what its kind can take of the lower axis: a virtual site (a leaning base is a level base elsewhere on the globe plus a
 * turn in azimuth), or for an hour-angle program, which has no azimuth to turn, where the polar axis points. Each with
 * what remains: the systematic error alone, over the Moon's path.
 */
import { solvePositive } from '../matrices.ts'
import { aimer, midRange } from '../mount/aim.ts'
import { chainOf, lowerAxisTurn, poseAt, turningPoseIn } from '../mount/asbuilt.ts'
import { AXES } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, onPaper, SLOT, SLOTS } from '../mount/slots.ts'
import { angleFromReading, readingFromAngle } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Station } from '../records/station.ts'
import { apply } from '../rotations.ts'
import { moonPathDirectionsAt } from '../sky/moonpath.ts'
import type { Rad } from '../units.ts'
import { azElFromEnu, cross, dot, scale, type Vec3 } from '../vectors.ts'
import { offsetGradients, offsetInPose } from './residuals.ts'
import { type ErrorOverSky, summary } from './skyerror.ts'
import type { SkyPoint } from './skypoint.ts'

export interface StraightLine {
  slope: number
  offset: Rad
}

export interface SlopeOffsetFit {
  lower: StraightLine
  upper: StraightLine
  remaining: ErrorOverSky
}

export interface VirtualSite {
  lat: Rad
  lon: Rad
  azimuthTurn: Rad
}

/** Where the polar axis as built points: its end that points up. The hour angle's zero is the lower offset after it. */
export interface BuiltPole {
  az: Rad
  el: Rad
}

const TURN = 2 * Math.PI
/** To fit four numbers one point in four of the path suffices; what remains is computed from all. */
const EVERY = 4
const FEWEST = 60
const PASSES = 5

/** The paper mount's axis angles for directions: what a tracking program would set before slope and offset. */
function idealAngles({ model }: Station): (t: Vec3) => { lower: Rad; upper: Rad } | null {
  const paper = onPaper()
  const mid = midRange(model, paper)
  const onto = aimer(model, paper, 'beam')
  return t => {
    const at = onto(t, mid)
    if (at === null) return null
    const lower = angleFromReading(model.lower.readout, at.lower)
    const upper = angleFromReading(model.upper.readout, at.upper)
    return lower.kind === 'angle' && upper.kind === 'angle' ? { lower: lower.angle, upper: upper.angle } : null
  }
}

/** The reading angle (the paper readout's own angle of a reading). */
function readingAngle(station: Station, axis: Axis, reading: number): Rad | null {
  const at = angleFromReading(station.model[axis].readout, reading)
  return at.kind === 'angle' ? at.angle : null
}

/**
 * corrected reading angle = slope × ideal angle + offset, least squares of the error on the sky. Gauss-Newton from slope
 * 1 and the mean difference.
 * @param directions the direction that the program would aim at, by point; the path's own, or the virtual site's
 */
export function slopeAndOffset(
  station: Station,
  built: Built,
  points: readonly SkyPoint[],
  directions: readonly Vec3[],
): SlopeOffsetFit {
  const { model } = station
  const idealOf = idealAngles(station)
  const chain = chainOf(model, built, 'beam')
  const rows = points.flatMap((p, k) => {
    const ideal = idealOf(directions[k]!)
    const lower = readingAngle(station, 'lower', p.reach.lower)
    const upper = readingAngle(station, 'upper', p.reach.upper)
    return ideal === null || lower === null || upper === null ? [] : [{ p, ideal, lower, upper }]
  })
  const start = (axis: Axis): Rad => {
    // The mean on the circle: differences of nearly a whole turn are near nothing.
    const s = rows.reduce((a, r) => a + Math.sin(r[axis] - r.ideal[axis]), 0)
    const c = rows.reduce((a, r) => a + Math.cos(r[axis] - r.ideal[axis]), 0)
    return rows.length === 0 ? 0 : Math.atan2(s, c)
  }
  // Ideal angles on the same turn as the reading angles, so that a slope is not charged for whole turns.
  const offsets = { lower: start('lower'), upper: start('upper') }
  for (const r of rows)
    for (const axis of AXES) r.ideal[axis] += TURN * Math.round((r[axis] - offsets[axis] - r.ideal[axis]) / TURN)

  let x: [number, number, number, number] = [1, offsets.lower, 1, offsets.upper]
  const squares: number[] = []
  const every = Math.max(1, Math.min(EVERY, Math.floor(rows.length / FEWEST)))
  const commanded = (axis: Axis, angle: Rad): number | null => {
    const back = readingFromAngle(model[axis].readout, angle)
    return back.kind === 'reading' ? back.reading : null
  }
  /** What the mount does when the program sets what slope and offset give; null outside a triangle. */
  const setTo = (ideal: { lower: Rad; upper: Rad }) => {
    const lower = commanded('lower', x[0] * ideal.lower + x[1])
    const upper = commanded('upper', x[2] * ideal.upper + x[3])
    if (lower === null || upper === null) return null
    const T = trueAngle(model, built, 'lower', lower)
    const S = trueAngle(model, built, 'upper', upper)
    return T.kind === 'angle' && S.kind === 'angle' ? { lower, upper, T, S } : null
  }
  const turns = new Float64Array(3 * SLOTS)
  for (let pass = 0; pass < PASSES; pass++) {
    const H = { n: 4, a: new Float64Array(16) }
    const g = new Float64Array(4)
    for (let k = 0; k < rows.length; k += pass === PASSES - 1 ? 1 : every) {
      const { p, ideal } = rows[k]!
      const set = setTo(ideal)
      if (set === null) continue
      const pose = turningPoseIn(chain, set.T.angle, set.S.angle, turns)
      const at = offsetGradients(pose, p.moon.direction)
      // True angle per reading angle: the reading's slope as built over its slope on paper.
      const perLower = set.T.perReading / slopeOnPaper(station, 'lower', set.lower)
      const perUpper = set.S.perReading / slopeOnPaper(station, 'upper', set.upper)
      for (const [miss, gradient] of [
        [at.right, at.gx],
        [at.up, at.gy],
      ] as const) {
        const l = dot(gradient, pose.lowerTurn) * perLower
        const u = dot(gradient, pose.upperTurn) * perUpper
        const row = [l * ideal.lower, l, u * ideal.upper, u]
        for (let i = 0; i < 4; i++) {
          g[i]! += row[i]! * miss
          for (let j = 0; j < 4; j++) H.a[4 * i + j]! += row[i]! * row[j]!
        }
      }
    }
    // A tiny ridge toward no change: one point, or an axis that never moves, leaves a slope undetermined.
    for (let i = 0; i < 4; i++) H.a[5 * i]! += 1e-9
    const step = solvePositive(H, g)
    if (step === null) break
    x = [x[0] - step[0]!, x[1] - step[1]!, x[2] - step[2]!, x[3] - step[3]!]
  }
  for (const { p, ideal } of rows) {
    const set = setTo(ideal)
    if (set === null) continue
    const [right, up] = offsetInPose(poseAt(model, built, set.T.angle, set.S.angle, 'beam'), p.moon.direction)
    squares.push(right * right + up * up)
  }
  return { lower: { slope: x[0], offset: x[1] }, upper: { slope: x[2], offset: x[3] }, remaining: summary(squares) }
}

const slopeOnPaper = (station: Station, axis: Axis, reading: number): number => {
  const at = angleFromReading(station.model[axis].readout, reading)
  return at.kind === 'angle' ? at.perReading : 1
}

/** East, north, up of a place, in the frame fixed to the Earth. */
function basis(lat: Rad, lon: Rad): { e: Vec3; n: Vec3; u: Vec3 } {
  const sp = Math.sin(lat)
  const cp = Math.cos(lat)
  const sl = Math.sin(lon)
  const cl = Math.cos(lon)
  return { e: [-sl, cl, 0], n: [-sp * cl, -sp * sl, cp], u: [cp * cl, cp * sl, sp] }
}

/** The place whose vertical is the base's own, and the turn: azimuth from the base's north = azimuth there + turn. */
export function virtualSiteOf(station: Station, built: Built): VirtualSite {
  const { R } = lowerAxisTurn(station.model.paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const here = basis(station.site.lat, station.site.lon)
  const fixed = (v: Vec3): Vec3 => [
    v[0] * here.e[0] + v[1] * here.n[0] + v[2] * here.u[0],
    v[0] * here.e[1] + v[1] * here.n[1] + v[2] * here.u[1],
    v[0] * here.e[2] + v[1] * here.n[2] + v[2] * here.u[2],
  ]
  const up = fixed(apply(R, [0, 0, 1]))
  const north = fixed(apply(R, [0, 1, 0]))
  const lat = Math.asin(Math.max(-1, Math.min(1, up[2])))
  const lon = Math.hypot(up[0], up[1]) < 1e-12 ? station.site.lon : Math.atan2(up[1], up[0])
  const there = basis(lat, lon)
  return { lat, lon, azimuthTurn: -Math.atan2(dot(north, there.e), dot(north, there.n)) }
}

/** Turns a direction's azimuth. */
const turned = (t: Vec3, by: Rad): Vec3 => {
  const s = Math.sin(by)
  const c = Math.cos(by)
  return [t[0] * c + t[1] * s, t[1] * c - t[0] * s, t[2]]
}

/** The virtual site with slope and offset after it; what remains includes the Moon's parallax between the two sites. */
export function virtualSite(
  station: Station,
  built: Built,
  points: readonly SkyPoint[],
): { place: VirtualSite; fit: SlopeOffsetFit } {
  const place = virtualSiteOf(station, built)
  const site = { ...station.site, lat: place.lat, lon: place.lon }
  const directions = moonPathDirectionsAt(
    points.map(p => p.moon),
    site,
  ).map(t => turned(t, place.azimuthTurn))
  return { place, fit: slopeAndOffset(station, built, points, directions) }
}

/** Where the polar axis as built points, and what the paper mount's angles become when they are counted about it. */
function builtPoleOf(station: Station, built: Built): { pole: BuiltPole; onPaperOf(t: Vec3): Vec3 } {
  const { paper, latitude } = station.model
  const { R } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const P = apply(R, paper.a1)
  const { az, el } = azElFromEnu(latitude < 0 ? scale(P, -1) : P)
  // Hour angle zero lies in the vertical plane through the axis, on the upper side: Q is the zenith made square to P.
  const across = Math.hypot(P[0], P[1])
  const Q: Vec3 = across < 1e-9 ? apply(R, paper.b0) : [(-P[2] * P[0]) / across, (-P[2] * P[1]) / across, across]
  const W = cross(Q, P)
  const west: Vec3 = [-1, 0, 0]
  const onPaperOf = (t: Vec3): Vec3 => {
    const q = dot(t, Q)
    const w = dot(t, W)
    const p = dot(t, P)
    const turn = (k: 0 | 1 | 2) => q * paper.b0[k] + w * west[k] + p * paper.a1[k]
    return [turn(0), turn(1), turn(2)]
  }
  return { pole: { az, el }, onPaperOf }
}

/** For an hour-angle program: the polar axis as built, with slope and offset of hour angle and declination about it. */
export function builtPole(
  station: Station,
  built: Built,
  points: readonly SkyPoint[],
): { pole: BuiltPole; fit: SlopeOffsetFit } {
  const { pole, onPaperOf } = builtPoleOf(station, built)
  return {
    pole,
    fit: slopeAndOffset(
      station,
      built,
      points,
      points.map(p => onPaperOf(p.moon.direction)),
    ),
  }
}
