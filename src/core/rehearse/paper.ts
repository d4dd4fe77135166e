/**
 * The station on paper that a rehearsal starts from, in round numbers as a person would write them down. Invented places; nobody's
 * station. Degrees, millimetres, counts.
 */
import type { AxisRecord, MountKind } from '../records/fieldbook.ts'
import { DEG } from '../units.ts'
import type { Paper } from './mount.ts'
import type { Chance } from './seed.ts'
import type { Difficulty } from './setup.ts'

type Jack = Extract<AxisRecord['readout'], { type: 'jack' }>

/**
 * A jack whose included angle is 90° at mid-range; readings from 0 at its shortest.
 *
 * @param decimals  of its length at reading zero, in mm
 */
export function jackOver(
  jack: Pick<Jack, 'baseArmMm' | 'rodArmMm' | 'countsPerMm' | 'direction'>,
  fromDeg: number,
  toDeg: number,
  decimals: number,
): AxisRecord {
  const { baseArmMm: a, rodArmMm: b, countsPerMm, direction } = jack
  const phiAtAngleZeroDeg = 90 - (direction * (fromDeg + toDeg)) / 2
  const length = (angle: number): number =>
    Math.sqrt(a * a + b * b - 2 * a * b * Math.cos((phiAtAngleZeroDeg + direction * angle) * DEG))
  const ends = [length(fromDeg), length(toDeg)].sort((x, y) => x - y) as [number, number]
  const lengthAtReadingZeroMm = Number(ends[0].toFixed(decimals))
  return {
    readout: { type: 'jack', ...jack, lengthAtReadingZeroMm, phiAtAngleZeroDeg },
    minReading: 1,
    maxReading: Math.floor((ends[1] - lengthAtReadingZeroMm) * countsPerMm),
  }
}

/** A chain or a gear with a counter. */
export function countsOver(countsPerDeg: number, zeroCounts: number, fromDeg: number, toDeg: number): AxisRecord {
  const ends = [fromDeg, toDeg].map(x => Math.round(zeroCounts + x * countsPerDeg)).sort((x, y) => x - y)
  return { readout: { type: 'linear-counts', zeroCounts, countsPerDeg }, minReading: ends[0]!, maxReading: ends[1]! }
}

function jackAxis(c: Chance, fromDeg: number, toDeg: number): AxisRecord {
  const baseArmMm = Math.round(c.between(55, 80)) * 10
  const rodArmMm = Math.round(baseArmMm * c.between(0.055, 0.08)) * 10
  const direction = c.sign()
  const countsPerMm = Number(c.between(1.8, 3.2).toFixed(1))
  return jackOver({ baseArmMm, rodArmMm, countsPerMm, direction }, fromDeg, toDeg, 0)
}

function countsAxis(c: Chance, fromDeg: number, toDeg: number): AxisRecord {
  const countsPerDeg = c.sign() * c.whole(8, 20)
  return countsOver(countsPerDeg, c.whole(0, 40) * 50, fromDeg, toDeg)
}

export const degreesAxis = (minReading: number, maxReading: number): AxisRecord => ({
  readout: { type: 'degrees' },
  minReading,
  maxReading,
})

/** Readouts of the axes: degrees for a beginner, else counters and jacks. */
function axesOf(c: Chance, kind: MountKind, difficulty: Difficulty): { lower: AxisRecord; upper: AxisRecord } {
  const isEasy = difficulty === 'beginner'
  switch (kind) {
    case 'el-over-az':
      return {
        lower: isEasy ? degreesAxis(-10, 370) : countsAxis(c, -10, 370),
        upper: isEasy ? degreesAxis(0, 92) : jackAxis(c, 0, 92),
      }
    case 'ha-dec':
      return {
        lower: isEasy ? degreesAxis(-100, 100) : countsAxis(c, -100, 100),
        upper: isEasy ? degreesAxis(-45, 45) : jackAxis(c, -45, 45),
      }
    case 'az-over-el':
      return {
        lower: isEasy ? degreesAxis(0, 92) : jackAxis(c, 0, 92),
        upper: isEasy ? degreesAxis(-60, 60) : jackAxis(c, -60, 60),
      }
    case 'x-y':
      return {
        lower: isEasy ? degreesAxis(-78, 78) : countsAxis(c, -78, 78),
        upper: isEasy ? degreesAxis(-78, 78) : countsAxis(c, -78, 78),
      }
  }
}

/** Dish and band: from a beam of five degrees for a beginner to one of two in a hard case. */
const DISHES: Readonly<Record<Difficulty, readonly [diameterM: number, frequencyMHz: number][]>> = {
  beginner: [[3, 1296]],
  ordinary: [
    [3, 1296],
    [2.4, 1296],
    [3, 2320],
  ],
  hard: [
    [3, 2320],
    [2.4, 2320],
    [1.8, 5760],
  ],
}
const FEED_NAMES: Readonly<Record<number, [name: string, diameterMm: number]>> = {
  1296: ['23 cm ring feed', 220],
  2320: ['13 cm ring feed', 140],
  5760: ['6 cm horn', 90],
}

export function drawPaper(c: Chance, kind: MountKind, difficulty: Difficulty): Paper {
  const latDeg = Number((c.next() < 0.25 ? -c.between(28, 43) : c.between(36, 56)).toFixed(2))
  const facing = latDeg >= 0 ? 180 : 0
  const [diameterM, frequencyMHz] = c.one(DISHES[difficulty])
  const [name, feedDiameterMm] = FEED_NAMES[frequencyMHz]!
  const isHeaded = kind === 'az-over-el' || kind === 'x-y'
  return {
    site: { latDeg, lonDeg: Number(c.between(-12, 28).toFixed(2)), heightM: c.whole(0, 60) * 10 },
    dish: { diameterM, focalRatio: c.one([0.38, 0.4, 0.42]), feedDiameterMm },
    feeds: [{ id: 'a', name, frequencyMHz, systemTemperatureK: c.whole(7, 11) * 10, hearsMoonEchoes: true }],
    mount: {
      kind,
      ...(isHeaded ? { headingDeg: facing } : {}),
      ...(kind === 'az-over-el' ? { boresightOffsetDeg: 0 } : {}),
      ...axesOf(c, kind, difficulty),
    },
  }
}
