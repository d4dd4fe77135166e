/** What a measurement by gravity says, in sentences: a level, a reversal, a mast's lean, and what becomes of it. */
import type { MastLean } from '../../core/level/mastlean.ts'
import type { Proof, Reversal } from '../../core/level/reversal.ts'
import type { LevelRaw, LevelRecord, MountRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { isLevelFitted, type LevelWhat } from '../../core/records/levelkinds.ts'
import { degFromRad, type Rad, radFromDeg } from '../../core/units.ts'
import { countOf, degrees, fixed, lengthUnit, measured, NBSP } from '../kit/format.ts'
import { elevationWords } from '../kit/mount/words.ts'
import { axisName, capital, whenToMinute, windOf } from '../kit/phrases.ts'
import { readingWords } from '../kit/readings.ts'
import { LEVEL } from './words.ts'

const slope = (leanDeg: number): string => {
  const tangent = Math.tan(radFromDeg(leanDeg))
  return lengthUnit() === 'mm'
    ? `${fixed(1000 * tangent, 1)}${NBSP}mm per metre`
    : `${fixed(12 * tangent, 2)}${NBSP}in per foot`
}

/** "leans 0.42 ± 0.10° toward the south-west, 7.3 mm per metre"; what is within 2 σ of zero has no direction. */
export function leanWords(northDeg: number, eastDeg: number, sigmaDeg: number): string {
  const lean = Math.hypot(northDeg, eastDeg)
  const size = measured(lean, sigmaDeg, '°').text
  if (lean <= 2 * sigmaDeg) return `plumb within its uncertainty: ${size}`
  const side = windOf((180 / Math.PI) * Math.atan2(eastDeg, northDeg))
  return `leans ${size} toward the ${side}, ${slope(lean)}`
}

/** Where to shim. */
export function shimWords(northDeg: number, eastDeg: number, sigmaDeg: number): string | null {
  const lean = Math.hypot(northDeg, eastDeg)
  if (lean <= 2 * sigmaDeg) return null
  const side = windOf((180 / Math.PI) * Math.atan2(eastDeg, northDeg))
  const tangent = Math.tan(radFromDeg(lean))
  const shim =
    lengthUnit() === 'mm'
      ? `${fixed(100 * tangent, 1)}${NBSP}mm for every 10${NBSP}cm`
      : `${fixed(12 * tangent, 2)}${NBSP}in for every foot`
  return `To plumb it, shim under the ${side} side of the foot: ${shim} of its width.`
}

/** What a level says, in a line. */
export function levelWords(mount: MountRecord, level: LevelRecord): string {
  switch (level.what) {
    case 'mast-lean':
      return `${mount.kind === 'el-over-az' ? 'Azimuth axis' : 'Mast'} ${leanWords(level.northDeg, level.eastDeg, level.sigmaDeg)}`
    case 'lower-axis-elevation':
      return `${capital(axisName(mount, 'lower'))} axis: ${elevationWords(mount, level.what, level.valueDeg, level.sigmaDeg)}`
    case 'upper-axis-elevation':
      return `${capital(axisName(mount, 'upper'))} axis: ${elevationWords(mount, level.what, level.valueDeg, level.sigmaDeg)} at ${readingWords(mount, 'lower', level.lower)}`
    case 'dish-elevation':
      return `Dish: ${elevationWords(mount, level.what, level.valueDeg, level.sigmaDeg)} at ${readingWords(mount, 'lower', level.lower)}, ${readingWords(mount, 'upper', level.upper)}`
  }
}

/** What the solution does with it. */
export function solutionUse(station: StationRecord, level: LevelRecord): string[] {
  const { mount } = station
  if (!isLevelFitted(mount.kind, level.what)) {
    const matters =
      mount.kind === 'ha-dec'
        ? 'how high the polar axis points'
        : `the level of the ${axisName(mount, 'lower')} axis and the elevation of the ${axisName(mount, 'upper')} axis`
    return [
      `Kept and shown; the solution does not use it. The mast is not an axis of this mount: ${matters} matter more. Measure those.`,
    ]
  }
  const out = ['The solution uses it, weighted by its uncertainty.']
  if (level.clamping !== undefined && level.what !== 'mast-lean')
    out.push('It shares one unknown bias with the other readings in this clamping; the solution finds that too.')
  const after = (station.changes ?? [])
    .filter(c => instantMs(c.utc) > instantMs(level.utc) && c.what.some(w => w === 'all' || w === 'lower-axis'))
    .sort((a, b) => instantMs(a.utc) - instantMs(b.utc))[0]
  if (after) out.push(`It belongs to the setup before ${whenToMinute(after.utc)}, when the base was moved.`)
  return out
}

const PROOF: Readonly<Record<Proof, string>> = {
  'half-turn': 'The numbers show that it was turned the right way.',
  'nearly-level': 'This close to level, any turn end for end would do.',
  'nearly-plumb': 'This close to plumb, the numbers cannot show whether it was turned the right way.',
  none: 'The numbers cannot show whether its face was turned too; the uncertainty allows for that.',
}

/** What a level was made from, in rows. */
export function rawWords(raw: LevelRaw | undefined): { label: string; value: string }[] {
  if (raw === undefined) return []
  const rows = [
    { label: LEVEL.first, deg: raw.firstDeg },
    { label: LEVEL.second, deg: raw.secondDeg },
    ...(raw.around ?? []).map(a => ({ label: `${LEVEL.reading} on the side at ${a.headingDeg}°`, deg: a.readingDeg })),
    { label: LEVEL.shown, deg: raw.shownDeg },
    { label: LEVEL.own, deg: raw.biasDeg },
  ]
  const swung = raw.swing?.clampings ?? []
  return [
    ...rows.flatMap(r => (r.deg === undefined ? [] : [{ label: r.label, value: degrees(r.deg, 2) }])),
    ...swung.map((list, c) => ({
      label: c === 0 ? 'Swept' : 'Swept, fixed end for end',
      value: countOf(list.length, 'position'),
    })),
  ]
}

/** What came of two readings. */
export function reversalWords(
  mount: MountRecord,
  what: LevelWhat,
  reversal: Reversal,
  sigmaDeg: number | null,
): { good: boolean; text: string } {
  const deg = (rad: Rad): string => degrees(degFromRad(Math.abs(rad)), 1)
  switch (reversal.kind) {
    case 'reversed': {
      const angle = degFromRad(reversal.angle)
      const value = elevationWords(mount, what, what === 'upper-axis-elevation' ? Math.abs(angle) : angle, sigmaDeg)
      const own = degFromRad(reversal.bias)
      const off =
        Math.abs(own) < 0.05
          ? 'The instrument has no bias that shows.'
          : `The instrument shows ${deg(reversal.bias)} too ${own > 0 ? 'much' : 'little'}.`
      return { good: true, text: `${capital(value)}. ${off} ${PROOF[reversal.proof]}` }
    }
    case 'plain-end-swap':
      return {
        good: false,
        text: `The ends changed places and the face did not. At ${deg(reversal.tilt)} that keeps the instrument’s bias. Turn it end over end, so that the face turns too.`,
      }
    case 'face-only':
      return {
        good: false,
        text: 'The face was turned over and the ends stayed. Turn it end over end, so that the ends change places too.',
      }
    case 'not-turned':
      return {
        good: false,
        text: 'Both readings are from one position. Turn the instrument end over end: ends and face.',
      }
    case 'opposite-sides':
      return {
        good: false,
        text: 'One reading says this end is up, the other says it is down by as much. Take the sign from the end that is up, not from the instrument: + both times for the same slope.',
      }
    case 'no-reversal':
      return {
        good: false,
        text: `No way of turning it explains these two: they miss by ${deg(reversal.apart)}. Read both again.`,
      }
  }
}

/** What the readings round the mast say. */
export function leanResultWords(lean: MastLean): { good: boolean; text: string[] } {
  if (lean.kind === 'too-few')
    return {
      good: false,
      text: [`${countOf(lean.have, 'heading')} so far; three are needed to separate lean from the instrument’s bias.`],
    }
  if (lean.kind === 'too-close')
    return { good: false, text: ['The headings are too close together. Read on all sides of the mast.'] }
  const [north, east, sigma] = [degFromRad(lean.north), degFromRad(lean.east), degFromRad(lean.sigma)]
  const text = [`The mast ${leanWords(north, east, sigma)}.`]
  const shim = shimWords(north, east, sigma)
  if (shim) text.push(shim)
  text.push(
    lean.misfit === null
      ? 'Three readings always fit: a fourth would show whether they agree.'
      : `The readings agree within ${degrees(degFromRad(lean.misfit), 2)}.`,
  )
  return { good: true, text }
}
