/**
 * The numbers of a page's aiming, for a program that can take them. Heading, axis and dish offset are tuned so
 * that a feed off the axis does the least harm.
 */
import { offsetAtReadings } from '../fit/skyerror.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import type { Answered } from '../fit/solution.ts'
import { solvePositive } from '../matrices.ts'
import { aim, midRange } from '../mount/aim.ts'
import { lowerAxisTurn } from '../mount/asbuilt.ts'
import { type Built, onPaper, SLOT } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import { apply } from '../rotations.ts'
import { type Deg, degFromRad } from '../units.ts'
import { azElFromEnu, scale } from '../vectors.ts'
import type { Aiming, Coefficient } from './numbers.ts'

/** What a program knows that is given the geometry and the readouts. */
const TOLD = [
  SLOT.axisA,
  SLOT.axisB,
  SLOT.lowerZero,
  SLOT.upperZero,
  SLOT.lowerScale,
  SLOT.upperScale,
  SLOT.lowerBaseArm,
  SLOT.lowerRodArm,
  SLOT.upperBaseArm,
  SLOT.upperRodArm,
  SLOT.lowerShift,
  SLOT.upperShift,
  SLOT.collimation,
] as const
/** What it may be given with another value than the solution's. */
const TUNED = [SLOT.lowerZero, SLOT.upperZero, SLOT.collimation] as const

/** Misses of the beam when a program aims with what it was told; null where it finds no readings. */
const missesOf = (station: Station, built: Built, told: Built, points: readonly SkyPoint[]) => {
  const mid = midRange(station.model, told)
  return points.map(p => {
    const at = aim(station.model, told, 'beam', p.moon.direction, mid)
    return at === null ? null : offsetAtReadings(station, built, p.moon, at)
  })
}

/** Enough points of the path for three numbers. */
const ENOUGH = 160

/** Zeros and dish offset for the least error over the path: Gauss-Newton by differences. */
export function toldGeometry(station: Station, built: Built, path: readonly SkyPoint[]): Built {
  const every = Math.max(1, Math.floor(path.length / ENOUGH))
  const points = path.filter((_, k) => k % every === 0)
  const told = onPaper()
  for (const slot of TOLD) told[slot] = built[slot]!
  let misses = missesOf(station, built, told, points)
  const STEP = 1e-4
  for (let pass = 0; pass < 3; pass++) {
    const columns = TUNED.map(slot => {
      const nudged = Float64Array.from(told)
      nudged[slot]! += STEP
      return missesOf(station, built, nudged, points)
    })
    const H = { n: 3, a: new Float64Array(9) }
    const g = new Float64Array(3)
    misses.forEach((miss, k) => {
      const at = columns.map(c => c[k] ?? null)
      if (miss === null || at.some(c => c === null)) return
      for (const row of [0, 1] as const) {
        const slope = at.map(c => (c![row] - miss[row]) / STEP)
        for (let i = 0; i < 3; i++) {
          g[i]! += slope[i]! * miss[row]
          for (let j = 0; j < 3; j++) H.a[3 * i + j]! += slope[i]! * slope[j]!
        }
      }
    })
    // A tiny ridge: zero and offset of one axis are nearly the same thing on some mounts.
    for (let i = 0; i < 3; i++) H.a[4 * i]! += 1e-6 * points.length + 1e-9
    const step = solvePositive(H, g)
    if (step === null) break
    TUNED.forEach((slot, i) => {
      told[slot]! -= step[i]!
    })
    misses = missesOf(station, built, told, points)
  }
  return told
}

const angle = (id: string, valueDeg: Deg, decimals: number, unset: number | null): Coefficient => {
  const text = valueDeg.toFixed(decimals)
  const value = Number(text) + 0
  return { id, axis: null, value, text: value === 0 ? '0' : text, unit: 'deg', unset }
}

const around = (deg: Deg): Deg => deg - 360 * Math.floor(deg / 360)
/** An azimuth in [0, 360), after rounding too. */
const bearing = (id: string, deg: Deg, decimals: number, unset: number | null): Coefficient => {
  const rounded = Number(around(deg).toFixed(decimals))
  return angle(id, rounded >= 360 ? 0 : rounded, decimals, unset)
}

function geometryNumbers({ solved, built, sky }: Answered): Coefficient[] {
  const { station } = solved
  const { model } = station
  const told = toldGeometry(station, built, sky.points)
  const { R } = lowerAxisTurn(model.paper, told[SLOT.axisA]!, told[SLOT.axisB]!)
  const axis = apply(R, model.paper.a1)
  const offset = angle('dishOffsetDeg', degFromRad(model.offset + told[SLOT.collimation]!), 3, degFromRad(model.offset))
  const isSouthPole = model.kind === 'ha-dec' && model.latitude < 0
  const end = azElFromEnu(isSouthPole ? scale(axis, -1) : axis)
  switch (model.kind) {
    case 'el-over-az':
      return [angle('leanDeg', 90 - degFromRad(end.el), 3, 0), bearing('leanAzDeg', degFromRad(end.az), 2, 0), offset]
    case 'ha-dec':
      return [...poleNumbers(station, degFromRad(end.az), degFromRad(end.el)), offset]
    default:
      return [
        bearing('headingDeg', degFromRad(model.heading + told[SLOT.axisA]!), 3, degFromRad(model.heading)),
        angle('axisElDeg', degFromRad(end.el), 3, 0),
        offset,
      ]
  }
}

const poleNumbers = ({ model }: Station, azDeg: Deg, elDeg: Deg): Coefficient[] => [
  bearing('axisAzDeg', azDeg, 3, model.latitude < 0 ? 180 : 0),
  angle('axisElDeg', elDeg, 3, Math.abs(degFromRad(model.latitude))),
]

/** The aimings that a station's program may be given. An hour-angle mount has no azimuth to turn. */
export const aimingsOf = ({ model }: Station): Aiming[] =>
  model.kind === 'ha-dec' ? ['geometry', 'pole', 'paper'] : ['geometry', 'site', 'paper']

export function aimingNumbers(answered: Answered, aiming: Aiming): Coefficient[] {
  const { station } = answered.solved
  switch (aiming) {
    case 'paper':
      return []
    case 'geometry':
      return geometryNumbers(answered)
    case 'site': {
      const { place } = answered.virtual!
      const { lat, lon } = station.site
      return [
        angle('latDeg', degFromRad(place.lat), 4, degFromRad(lat)),
        angle('lonDeg', degFromRad(place.lon), 4, degFromRad(lon)),
        angle('turnDeg', degFromRad(place.azimuthTurn), 4, 0),
      ]
    }
    case 'pole': {
      const { pole } = answered.pole!
      return poleNumbers(station, degFromRad(pole.az), degFromRad(pole.el))
    }
  }
}
