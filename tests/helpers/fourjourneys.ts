/**
 * A mount of each kind for the walks from an empty phone to exported coefficients: what stands on paper, how it really
 * stands, and what an honest observer would read. Drawn by fixed seeds; how it really stands is truemount.ts's business.
 */
import type { AxisRecord, MountKind, SightingRecord } from '../../src/core/records/fieldbook.ts'
import { chance } from './random.ts'
import {
  checkSky,
  degreesAxis,
  drawStation,
  drawTruth,
  jackAxis,
  linearAxis,
  mountAt,
  type Scene,
  START_MS,
  sight,
} from './simulate.ts'
import { trueLevelDeg } from './truelevels.ts'
import { apartDeg } from './truemount.ts'

export const BEAM_DEG = (70 * 299.792458) / 1296 / 3
/** By two equal levels, one to each side of the peak. */
export const SIGMA_DEG = 0.2
/** Of the sightings; the page's clock goes on from there. */
export const DONE_MS = START_MS + 3 * 86_400_000

export interface Journey {
  scene: Scene
  sightings: SightingRecord[]
  /**
   * What a phone shows, degrees: on the lower axis once; for azimuth and elevation on the mast's sides toward 0, 120 and
   * 240°, how far each leans outward.
   */
  levelsDeg: number[]
}

/** @param sightings  how many; Sun and Moon in turn, every two hours while they are up */
export function journeyOf(kind: MountKind, sightings: number): Journey {
  const c = chance(20 + kind.length)
  const record = drawStation(c, { kind, latDeg: kind === 'x-y' ? -35.5 : 47.5, frequencyMHz: 1296 })
  record.dish = { diameterM: 3, focalRatio: 0.4 }
  const axes: Record<MountKind, [AxisRecord, AxisRecord]> = {
    'el-over-az': [degreesAxis(0, 360), degreesAxis(0, 90)],
    'ha-dec': [degreesAxis(-90, 90), jackAxis(c, -40, 40)],
    'az-over-el': [jackAxis(c, 0, 85), jackAxis(c, -55, 55)],
    'x-y': [linearAxis(c, -75, 75, 1), linearAxis(c, -75, 75, -1)],
  }
  record.mount.lower = axes[kind][0]
  record.mount.upper = axes[kind][1]
  const truth = drawTruth(c, record, false)
  // Half of what the priors allow: a mount put up with some care.
  for (const id of Object.keys(truth)) truth[id] = id.endsWith('Play') ? 0 : truth[id]! / 2
  const scene: Scene = { record, chance: c, truths: [{ fromMs: Number.NEGATIVE_INFINITY, truth }] }
  const list: SightingRecord[] = []
  for (let ms = START_MS; ms < DONE_MS && list.length < sightings; ms += 2 * 3_600_000)
    for (const type of ['sun', 'moon'] as const) {
      const made = sight(
        scene,
        { ms, target: { type }, method: 'signal-peak', sigmaDeg: SIGMA_DEG, lowestDeg: 12 },
        `s${list.length}`,
      )
      if (made && list.length < sightings) list.push(made)
    }
  if (list.length < sightings) throw new RangeError(`journeyOf: ${list.length} of ${sightings} sightings of ${kind}`)
  const side = (deg: number) =>
    truth.leanNorth! * Math.cos((deg * Math.PI) / 180) + truth.leanEast! * Math.sin((deg * Math.PI) / 180)
  const levelsDeg =
    kind === 'el-over-az' ? [0, 120, 240].map(side) : [trueLevelDeg(scene, START_MS, 'lower-axis-elevation')]
  return { scene, sightings: list, levelsDeg }
}

/**
 * How far the true beam is from the Moon when the axes are set by somebody else's readings, over the Moon's month.
 *
 * @param readingsFor  apparent azimuth and elevation in degrees to readings; null: out of reach
 * @returns the misses in degrees, sorted, of the points that both reach
 */
export function missesOverTheMonth(
  scene: Scene,
  readingsFor: (azDeg: number, elDeg: number) => { lower: number; upper: number } | null,
): number[] {
  const mount = mountAt(scene, DONE_MS)
  const deg = 180 / Math.PI
  return checkSky(scene, DONE_MS)
    .flatMap(p => {
      const at = readingsFor(p.az * deg, p.el * deg)
      return at === null ? [] : [apartDeg(mount.pose(at.lower, at.upper, 'beam').b, p.direction)]
    })
    .sort((a, b) => a - b)
}
