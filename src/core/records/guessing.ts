/**
 * What a station gets where nobody knows a value: ordinary ones, each wide enough in its prior (guesses.ts) or its limits to
 * stop nothing. Degrees, millimetres, counts, as in the file. Estimates from common practice, no source.
 */
import { closingReadings, includedAngle, type Jack } from '../readout/jack.ts'
import { readingFromAngle } from '../readout/readout.ts'
import { degFromRad, radFromDeg } from '../units.ts'
import type { Axis, MountKind, ReadoutRecord } from './fieldbook.ts'
import { readoutFromRecord } from './readouts.ts'

/** Metres above the sea; an error of a kilometre is 0.01° of refraction at 8°. */
export const HEIGHT_GUESS = 200
export const FOCAL_GUESS = { 'prime-focus': 0.4, offset: 0.6 } as const

/** A mount that one can turn looks toward the middle of the Moon's path. */
export const headingGuess = (latDeg: number): number => (latDeg >= 0 ? 180 : 0)

/**
 * The travel that an axis needs to reach any place in the sky by one pose, with room for a zero that is off; with more, the dish would be
 * sent over backward. And the angle about which it mostly works. Degrees.
 */
const TRAVEL: Readonly<Record<MountKind, Record<Axis, { from: number; to: number; middle: number }>>> = {
  'el-over-az': { lower: { from: 0, to: 360, middle: 180 }, upper: { from: -20, to: 100, middle: 45 } },
  'ha-dec': { lower: { from: -190, to: 190, middle: 0 }, upper: { from: -95, to: 95, middle: 0 } },
  'az-over-el': { lower: { from: -20, to: 200, middle: 45 }, upper: { from: -100, to: 100, middle: 0 } },
  'x-y': { lower: { from: -100, to: 100, middle: 0 }, upper: { from: -100, to: 100, middle: 0 } },
}

/** Where nothing else is known the jack at its longest is this many times its closed length. */
const LONGEST = 2
/** The angle at the pivot with the jack as long as it gets, and the shorter arm's share of the longer one. */
const WIDEST_DEG = 130
const SHORTER = 0.66
/** Guessed limits of a jack stay clear of its dead centres by this share of its travel. */
const CLEAR = 0.02

type JackRecord = Extract<ReadoutRecord, { type: 'jack' }>
/** A jack of which length, counts and sense are known, and perhaps more. */
export type SomeJack = Pick<JackRecord, 'lengthAtReadingZeroMm' | 'countsPerMm' | 'direction'> &
  Partial<Pick<JackRecord, 'baseArmMm' | 'rodArmMm' | 'phiAtAngleZeroDeg'>>

export interface Limits {
  minReading?: number
  maxReading?: number
}

/** From the third side and one arm of a triangle of WIDEST_DEG, the other arm; null where there is none. */
function armBeside(arm: number, longest: number): number | null {
  const cos = Math.cos(radFromDeg(WIDEST_DEG))
  const root = longest * longest - arm * arm * (1 - cos * cos)
  const other = arm * cos + Math.sqrt(Math.max(0, root))
  return root > 0 && other > 0 ? other : null
}

const tenths = (x: number): number => Math.round(10 * x) / 10

/** The whole jack: what is not known chosen so that its triangle closes over its travel. */
export function jackGuess(kind: MountKind, axis: Axis, jack: SomeJack, limits: Limits): JackRecord {
  const { lengthAtReadingZeroMm: zero, countsPerMm } = jack
  const lengthAt = (reading: number): number => zero + reading / countsPerMm
  const shortest = Math.min(zero, limits.minReading === undefined ? zero : lengthAt(limits.minReading))
  const longest = limits.maxReading === undefined ? LONGEST * zero : lengthAt(limits.maxReading)
  const cos = Math.cos(radFromDeg(WIDEST_DEG))
  let { baseArmMm, rodArmMm } = jack
  if (baseArmMm === undefined && rodArmMm === undefined) {
    baseArmMm = tenths(longest / Math.sqrt(1 + SHORTER * SHORTER - 2 * SHORTER * cos))
    rodArmMm = tenths(SHORTER * baseArmMm)
  }
  const beside = (arm: number): number => {
    const other = armBeside(arm, longest)
    // An arm longer than the jack ever gets: the other as long, less half of the jack.
    return tenths(other !== null && Math.abs(arm - other) < 0.95 * shortest ? other : arm - shortest / 2)
  }
  baseArmMm ??= beside(rodArmMm!)
  rodArmMm ??= beside(baseArmMm)
  const closes = [Math.abs(baseArmMm - rodArmMm), baseArmMm + rodArmMm] as const
  const middle = (Math.max(shortest, closes[0]) + Math.min(longest, closes[1])) / 2
  const corner = includedAngle(middle, baseArmMm, rodArmMm)
  const phi = corner === null ? 90 : degFromRad(corner.phi)
  return {
    type: 'jack',
    baseArmMm,
    rodArmMm,
    lengthAtReadingZeroMm: zero,
    countsPerMm,
    phiAtAngleZeroDeg: jack.phiAtAngleZeroDeg ?? tenths(phi - jack.direction * TRAVEL[kind][axis].middle),
    direction: jack.direction,
  }
}

/** Limits wide enough to stop nothing; known ones stay. */
export function limitsGuess(kind: MountKind, axis: Axis, readout: ReadoutRecord, known: Limits): Required<Limits> {
  let wide: [number, number]
  if (readout.type === 'jack') {
    const [least, most] = closingReadings({
      baseArm: readout.baseArmMm,
      rodArm: readout.rodArmMm,
      lengthAtReadingZero: readout.lengthAtReadingZeroMm,
      countsPerMm: readout.countsPerMm,
    } as Jack)
    const clear = CLEAR * (most - least)
    wide = [Math.ceil(least + clear), Math.floor(most - clear)]
  } else {
    const { from, to } = TRAVEL[kind][axis]
    const law = readoutFromRecord(readout)
    const ends = [from, to].map(deg => {
      const at = readingFromAngle(law, radFromDeg(deg))
      // A law that gets nowhere near there is left with the degrees themselves.
      return Math.round(at.kind === 'reading' ? at.reading : deg)
    })
    wide = [Math.min(...ends), Math.max(...ends)]
  }
  const span = wide[1] - wide[0]
  const minReading =
    known.minReading ?? (readout.type === 'jack' ? wide[0] : Math.min(wide[0], (known.maxReading ?? Infinity) - span))
  const maxReading =
    known.maxReading ?? (readout.type === 'jack' ? wide[1] : Math.max(wide[1], (known.minReading ?? -Infinity) + span))
  return { minReading, maxReading }
}
