/** Words of "Measure the dish": what to tape and how, and what the tape says. A hint says how to get the number. */

import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { DishAnswer, FeedPlace, FeedRow, PlaceAnswer } from '../../core/tape/measured.ts'
import type { SeenFrom } from '../../core/tape/rim.ts'
import { decibels, degrees, fixed, type LengthUnit, measuredLength, NBSP, roughDegrees } from '../kit/format.ts'
import { MISSES, oneWayLoss } from '../kit/loss.ts'
import type { TableRow } from '../kit/numbers.tsx'
import type { TapeNotYet } from './form.ts'

const length = (mm: number, unit: LengthUnit, sigma: number | null = null): string =>
  measuredLength(mm, sigma, unit).text
/** Small ones to a tenth of a millimetre. */
const fine = (mm: number, unit: LengthUnit): string =>
  unit === 'mm' && mm < 9.95 ? `${fixed(mm, 1)}${NBSP}mm` : length(mm, unit)
/** Nothing when it rounds to nothing. */
const isSeen = (mm: number, unit: LengthUnit, sigma: number): boolean =>
  /[1-9]/.test(measuredLength(Math.abs(mm), sigma, unit).value)

export const DISH_TAPE = {
  why: 'A tape and two strings show where the feed sits, how deep the dish is and whether its rim is flat.',
  bowl: 'Diameter and depth',
  rim: (feed: string) => `Rim to feed: ${feed}`,
  strings: 'Crossed strings',
  toDo: 'Not measured yet',
  table: 'The dish in numbers',
  apply: 'Apply to the station',
  toBook: 'Back to the book',
  done: 'Measured',
  side: 'Where do you stand',
  sideNote: 'Left and right follow from it; the UP mark is at 12 o’clock on both sides.',
  behind: 'Behind the dish',
  front: 'In front of the dish',
  diameter: 'Diameter',
  diameterHint: 'Straight across from rim to rim. Twice, at right angles: then write the mean.',
  depth: 'Depth in the middle',
  depthHint: 'Stretch a string across the rim and tape from it down to the very middle of the dish.',
  places: 'Where on the rim',
  three: 'Three: 12, 4, 8',
  four: 'Four: 12, 3, 6, 9',
  twelve: 'Any hours',
  twelveNote: 'Fill in three or more; leave out where a strut is in the way.',
  at: (hour: number) => `At ${hour} o’clock`,
  rimHint: 'From the rim straight to the feed, tape tight. The same point of the rim’s edge every time.',
  to: 'Taped to',
  centre: 'The feed’s centre',
  edge: 'The near edge of its mouth',
  mouth: 'Width of the mouth',
  mouthHint: 'The outer diameter of the horn or ring.',
  phase: 'Phase centre beyond the mouth',
  phaseHint:
    'How far inside the feed it lies, away from the dish; often a few mm. Optional: at the mouth if left empty.',
  sigma: 'Uncertainty of one length',
  sigmaHint: (usual: string) => `Optional: ± ${usual} if left empty.`,
  finer: 'Uncertainty, and the feed’s phase centre',
  heightHint:
    'Tape with the dish at an elevation you work at: a feed on long struts sags when the dish points low, and the numbers then include it.',
  pair: 'Which strings',
  upright: '12 to 6 and 3\u00a0to\u00a09',
  diagonal: 'Half way between',
  diagonalNote: '1:30 to 7:30 and 4:30 to 10:30',
  stringsHow:
    'Stretch both strings tight across the rim so that they cross in the middle. Measure the gap where they cross; then lay the other one in front and measure again. That takes their thickness out.',
  first: {
    upright: 'Gap with the string through 12 in front',
    diagonal: 'Gap with the string through half past one in front',
  },
  second: {
    upright: 'Gap with the string through 3 in front',
    diagonal: 'Gap with the string through half past four in front',
  },
  gapHint: 'In front: nearer to someone who looks into the dish. They press on each other: 0.',
  faceTitle: 'Where to tape, and the feed',
  stringsTitle: 'Two strings across the rim',
  result: 'Result',
} as const

export const DISH_NOT_YET: Readonly<Record<TapeNotYet, string>> = {
  side: 'Say first where you stand.',
  diameter: 'The diameter is missing, or smaller than 200 mm.',
  depth: 'The depth is missing.',
  shape: 'Diameter and depth make no dish: the focal ratio should be from 0.15 to 2.',
  sigma: 'The uncertainty of a length cannot be read.',
  distances: 'Three distances are needed, spread round the rim.',
  mouth: 'The width of the mouth is missing.',
  phase: 'The phase centre cannot be read.',
  first: 'The first gap is missing; 0 where they press.',
  second: 'The second gap is missing; 0 where they press.',
}

/** "Focal length 960 ± 5 mm, f/D 0.400; subtended angle 128°; rim to focus 1335 mm." */
export const bowlSays = (a: DishAnswer, unit: LengthUnit): string =>
  `Focal length ${length(a.focalLengthMm, unit, a.sigmaFocalMm)}, f/D ${fixed(a.focalRatio, 3)}. Subtended angle ${fixed(a.subtendedDeg, 0)}°; rim to focus ${length(a.rimToFocusMm, unit)}.`

function sidewaysSays(p: FeedPlace, unit: LengthUnit, seen: SeenFrom): string[] {
  const right = seen === 'front' ? -p.rightMm : p.rightMm
  const out: string[] = []
  if (isSeen(right, unit, p.sigmaRightMm))
    out.push(`${length(Math.abs(right), unit, p.sigmaRightMm)} ${right < 0 ? 'left' : 'right'} of the axis`)
  if (isSeen(p.upMm, unit, p.sigmaUpMm))
    out.push(
      `${length(Math.abs(p.upMm), unit, p.sigmaUpMm)} ${p.upMm < 0 ? 'from it away from' : 'from it toward'} the UP mark`,
    )
  return out
}
const SEEN = { behind: 'seen from behind', front: 'seen from in front' } as const

/** "The feed sits 12 ± 2 mm left of the axis, seen from behind, and 5 ± 7 mm too far out." */
export function feedSays(p: FeedPlace, unit: LengthUnit, seen: SeenFrom): string {
  const side = sidewaysSays(p, unit, seen)
  const sits =
    side.length === 0
      ? `sits on the axis, ± ${length(Math.max(p.sigmaRightMm, p.sigmaUpMm), unit)}`
      : `sits ${side.join(' and ')}, ${SEEN[seen]}`
  const out = isSeen(p.outMm, unit, p.sigmaOutMm)
    ? `It is ${length(Math.abs(p.outMm), unit, p.sigmaOutMm)} too far ${p.outMm > 0 ? 'out, away from the dish' : 'in, toward the dish'}.`
    : `In and out it is right, ± ${length(p.sigmaOutMm, unit)}.`
  return `The feed ${sits}. ${out}`
}

/** What it costs, and whether to move it. */
export function feedCosts(p: FeedPlace, unit: LengthUnit, seen: SeenFrom): string[] {
  const right = seen === 'front' ? -p.rightMm : p.rightMm
  const moves: string[] = []
  if (Math.abs(right) > 2 * p.sigmaRightMm)
    moves.push(`${length(Math.abs(right), unit)} to the ${right < 0 ? 'right' : 'left'}`)
  if (Math.abs(p.upMm) > 2 * p.sigmaUpMm)
    moves.push(`${length(Math.abs(p.upMm), unit)} ${p.upMm < 0 ? 'toward' : 'away from'} the UP mark`)
  if (Math.abs(p.outMm) > 2 * p.sigmaOutMm)
    moves.push(`${length(Math.abs(p.outMm), unit)} ${p.outMm > 0 ? 'in, toward the dish' : 'out, away from the dish'}`)
  const out = [
    moves.length === 0
      ? 'That is within its uncertainty: leave the feed alone.'
      : `To put it on the focus, move it ${moves.join(', ')}; ${SEEN[seen]}.`,
  ]
  const beam = Math.hypot(p.beamRightDeg, p.beamUpDeg)
  if (beam >= 0.005)
    out.push(
      `Off the axis it turns the beam by ${roughDegrees(beam)} to the other side. Until the dish is aimed by the beam ${isBeamOffTarget(2 * p.beamLossDb) ? MISSES : `that costs ${decibels(p.beamLossDb)}`}.`,
    )
  if (p.comaLossDb >= 0.05)
    out.push(`However the dish is aimed, a feed this far off the axis loses ${decibels(p.comaLossDb)}.`)
  if (p.defocusLossDb >= 0.05)
    out.push(
      Number.isFinite(p.defocusLossDb)
        ? `Out of focus it costs ${decibels(p.defocusLossDb)}, however the dish is aimed.`
        : 'This far out of focus hardly anything is left of the beam.',
    )
  return out
}

/** Why there is no place. */
export function noPlaceSays(p: Exclude<PlaceAnswer, { kind: 'place' }>): string {
  switch (p.kind) {
    case 'too-few':
      return 'Three distances are needed, spread round the rim.'
    case 'too-close':
      return 'These hours are too close together: left and right cannot be separated from in and out. Tape on the other side of the rim too.'
    case 'in-rim-plane':
      return 'This feed sits nearly in the plane of the rim, where these distances do not show how far out it is. Tape from the middle of the dish to the feed instead.'
    case 'no-place':
      return 'No point is at these distances from the rim. Check for a mistyped distance: each is longer than half the diameter.'
  }
}

/** How well the tapes agree, and which one does not. */
export function agreeSays(p: FeedPlace, unit: LengthUnit): { text: string; good: boolean } | null {
  if (p.misfitMm === null) return null
  if (p.suspectClock !== null)
    return {
      good: false,
      text: `The distance at ${p.suspectClock} o’clock does not fit the others. Tape it again before you move anything.`,
    }
  const good = p.misfitMm < 3 * Math.max(p.sigmaRightMm, 1)
  const agree = `The distances agree to ${fine(p.misfitMm, unit)}.`
  return { good, text: good ? agree : `${agree} The uncertainty above is wider for that.` }
}

/** "The rim is bent like a saddle: it stands out 1.6 mm at 12 and 6 o’clock, …" */
export function warpSays(a: DishAnswer, unit: LengthUnit, seen: SeenFrom): string {
  const { warp } = a
  if (warp === null) return ''
  if (!/[1-9]/.test(fine(warp.amplitudeMm, unit))) return 'The strings touch: the rim is flat.'
  const hour = (clock: number): string => {
    const h = (((seen === 'front' ? 12 - clock : clock) % 12) + 12) % 12
    const near = Math.round(2 * h) / 2
    const whole = Math.floor(near) === 0 ? 12 : Math.floor(near)
    return near % 1 === 0 ? String(whole) : `half past ${whole}`
  }
  return `The rim is bent like a saddle: it stands out by ${fine(warp.amplitudeMm, unit)} at ${hour(warp.highClock)} and ${hour(warp.highClock + 6)} o’clock, and in by as much between, ${SEEN[seen]}. Over the whole dish that is a surface error of ${fine(warp.rmsMm, unit)}.`
}

/** What it costs on a feed's band. */
export const warpCosts = (row: FeedRow): string =>
  row.surfaceLossDb === null
    ? ''
    : `${row.surfaceLossDb < 0.1 ? 'Leave it' : 'It costs'}: ${decibels(row.surfaceLossDb)} at ${fixed(row.frequencyMHz, 0)}${NBSP}MHz.`

export function tableOfDish(a: DishAnswer, unit: LengthUnit): TableRow[] {
  const rows: TableRow[] = [
    { label: 'Diameter', value: length(1000 * a.diameterM, unit) },
    { label: 'Depth', value: length(a.depthMm, unit) },
    { label: 'Focal length', value: length(a.focalLengthMm, unit, a.sigmaFocalMm) },
    { label: 'Focal ratio f/D', value: fixed(a.focalRatio, 3) },
    { label: 'Subtended angle at the feed', value: degrees(a.subtendedDeg, 1) },
    { label: 'Rim to focus', value: length(a.rimToFocusMm, unit) },
    {
      label: 'Illumination lower at the rim by',
      value: decibels(a.spaceLossDb),
      note: 'Because the rim is farther from the feed.',
    },
  ]
  if (a.surfaceRmsMm !== null) rows.push({ label: 'Surface error, warp included', value: fine(a.surfaceRmsMm, unit) })
  return rows
}
export function tableOfFeed(row: FeedRow, seen: SeenFrom, unit: LengthUnit): TableRow[] {
  const rows: TableRow[] = [
    { label: 'Gain', value: `${fixed(row.gainDbi, 1)}${NBSP}dBi`, note: 'At 55 % efficiency.' },
    { label: 'Beamwidth', value: degrees(row.beamwidthDeg, 2) },
    { label: 'Tolerance', value: degrees(row.toleranceDeg, 2), note: 'For the echo loss you allow.' },
  ]
  if (row.surfaceLossDb !== null) rows.push({ label: 'Lost to surface error', value: decibels(row.surfaceLossDb) })
  if (row.blockageLossDb !== null)
    rows.push({ label: 'Lost to the feed’s shadow', value: decibels(row.blockageLossDb) })
  if (row.place?.kind === 'place') {
    rows.push({ label: 'Lost to the feed out of focus', value: decibels(row.place.defocusLossDb) })
    rows.push({ label: 'Lost to the feed off axis, however aimed', value: decibels(row.place.comaLossDb) })
    rows.push({
      label: 'Also lost, until aimed by the beam',
      value: oneWayLoss(row.place.beamLossDb),
      note: feedSays(row.place, unit, seen),
    })
  }
  return rows
}
