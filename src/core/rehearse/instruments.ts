/**
 * What a person at the dish can measure: an inclinometer laid on a place, a tape from the feed to the rim, marks to read. Each with
 * its usual error. Degrees, millimetres, as records have them.
 */
import type { Axis } from '../records/fieldbook.ts'
import { DEG } from '../units.ts'
import { type LevelPlace, type TrueMount, trueLevelAt } from './mount.ts'
import type { Chance } from './seed.ts'
import { feedPlace } from './shadow.ts'

export interface Inclinometer {
  /** Its reading on a level surface. */
  biasDeg: number
  /** Its reading is rounded to this. */
  stepDeg: number
  tremblesDeg: number
}

const rounded = (x: number, step: number): number => Number((Math.round(x / step) * step).toFixed(6))

/** Its reading of a tilt, with bias, tremor and rounding. */
export const shownByTool = (tool: Inclinometer, deg: number, c: Chance): number =>
  rounded(deg + tool.biasDeg + c.normal(tool.tremblesDeg), tool.stepDeg)

/** Where an inclinometer can be laid. Not along an upright azimuth axis: its lean is measured on the mast's sides. */
export const levelPlaces = (mount: TrueMount): LevelPlace[] =>
  mount.record.mount.kind === 'el-over-az'
    ? ['dish-elevation', 'upper-axis-elevation']
    : ['dish-elevation', 'lower-axis-elevation', 'upper-axis-elevation']

/** @param turnedAbout  end and face swapped, so that gravity counts the other way */
export function inclinometerDeg(
  tool: Inclinometer,
  mount: TrueMount,
  place: LevelPlace,
  at: { lowerDeg: number; upperDeg: number },
  turnedAbout: boolean,
  c: Chance,
): number {
  const level = trueLevelAt(mount, place, at.lowerDeg, at.upperDeg)
  return shownByTool(tool, turnedAbout ? -level : level, c)
}

/** The instrument on the side of the mast that faces a heading: + when the mast leans that way. */
export function mastDeg(tool: Inclinometer, mount: TrueMount, headingDeg: number, c: Chance): number {
  const axis = mount.lowerAxis()
  const along = axis[0] * Math.sin(headingDeg * DEG) + axis[1] * Math.cos(headingDeg * DEG)
  return shownByTool(tool, Math.atan2(along, axis[2]) / DEG, c)
}

/** How far a hand with a tape is off, 1 σ. Common practice, no source. */
const TAPE_MM = 1.5

/**
 * From the feed's phase centre to the rim at an hour of the clock, 12 at the UP mark, clockwise as seen from behind.
 * @param outMm  how far the feed sits too far out
 */
export function rimDistanceMm(mount: TrueMount, feed: string, clock: number, outMm: number, c: Chance): number {
  const { dish } = mount.record
  const radius = dish.diameterM * 500
  const f = dish.focalRatio * dish.diameterM * 1000
  // Taped with the dish lowered, so the droop of a raised dish is not in it.
  const pose = mount.poseAt(0, 0, 'boresight')
  const [x, y, z] = feedPlace({ ...mount, truth: { ...mount.truth, [`feedDroop:${feed}`]: 0 } }, pose, feed, outMm)
  const a = (clock / 12) * 2 * Math.PI
  const d = Math.hypot(x - radius * Math.sin(a), y - radius * Math.cos(a), z - radius ** 2 / (4 * f))
  return Math.round(d + c.normal(TAPE_MM))
}

/** How far an axis stands from its scribed mark, degrees; + when the axis is past it. */
export const fromMarkDeg = (mount: TrueMount, axis: Axis, axisDeg: number, markReading: number): number =>
  axisDeg - mount.angleDeg(axis, markReading)
