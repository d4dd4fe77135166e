/** Words of driving an axis by hand: the way to go, where the axes stand, their speed, the stow position, more of a target. */

import type { Heard } from '../../core/noise/heard.ts'
import type { SatelliteBoxJson } from '../../core/plan/abouttarget.ts'
import type { Axis, DriveRecord, MountRecord, Side, StowRecord } from '../../core/records/fieldbook.ts'
import type { Stopped, WayToGo } from '../../state/drive.ts'
import { degrees, duration, fixed, lengthUnit, NBSP } from '../kit/format.ts'
import { axisName, capital, readingDecimals, readingUnit } from '../kit/phrases.ts'
import { readingText } from '../kit/readings.ts'
import { MILES_KM } from './driveform.ts'

export const DRIVE = {
  present: (lower: string, upper: string) => `The axes are at ${lower} and ${upper}`,
  presentNone: 'Type where the axes are',
  presentValue: 'Way to go',
  change: 'Change',
  here: 'I am there now',
  noSpeed: 'Measure the speed',
  noSpeedLabel: 'The way in seconds',
  more: 'More about this target',
  axesTitle: 'Where the axes are',
  axesWhy:
    'Type what both axes show now. The way to go is counted from there until you say something newer; the target moves on meanwhile.',
  axesKeep: 'Keep these positions',
  axesForget: 'Forget these positions',
  notYet: 'Not yet: both readings.',
  speedRow: (axis: string) => `Speed of ${axis}`,
  speedTitle: (axis: string) => `Speed of ${axis}`,
  speedWhy: 'Run the axis some way, hands off, and time it. The longer it runs, the better the speed.',
  measure: 'measure it',
  how: 'How it is known',
  hows: { timed: 'two readings, timed', typed: 'readings a minute' },
  from: 'Reading at the start',
  to: 'Reading at the end',
  seconds: 'Seconds between',
  start: 'Start timing',
  stop: 'Stop timing',
  perMinute: 'Readings a minute',
  overrun: 'Runs on after you let go',
  overrunHint: 'Optional. Read where you let go, and where it stops.',
  side: 'Always arrive',
  sides: { '': 'either way', '+': 'from below: reading going up', '-': 'from above: reading going down' } as Record<
    Side | '',
    string
  >,
  sideHint: 'Always the same side takes up the play the same way: the way then goes past the target and comes back.',
  keepSpeed: 'Keep this speed',
  deleteSpeed: 'Delete this speed',
  stowTitle: 'Stow position',
  stowDrive: 'Drive to: stow',
  stowNone: 'No stow position yet: the readings where the dish is safest in wind, and the wind at which you go there.',
  stowSet: 'Set the stow position',
  stowEdit: 'Edit',
  stowKeep: 'Keep the stow position',
  stowDelete: 'Delete it',
  stowPresent: 'Use where the axes are',
  wind: 'Wind at which to go there',
  windHint: 'Optional. Your own figure: what your mast, mount and dish can take.',
  note: 'Note',
  landmarkTitle: 'Landmark by coordinates',
  landmarkRow: 'By its coordinates',
  lat: 'Latitude of the landmark',
  lon: 'Longitude of the landmark',
  top: 'Height of its top',
  own: 'Height of this dish',
  heightHint: 'Above sea level, both over the same zero.',
  landmarkNotYet: 'Not yet: latitude, longitude and both heights.',
  tooNear: 'That is this station’s own place: there is no direction to it.',
  tooFar: 'More than 1000 km away: nothing is above the horizon there.',
  below: 'Below the horizon: the Earth is in the way, unless it is higher.',
  source:
    'Azimuth and distance along the WGS 84 ellipsoid. Elevation with the Earth’s curve and standard refraction for radio (Earth radius times 4/3, ITU-R); real air low down can differ by some hundredths of a degree.',
  take: 'Drive to this',
  with: 'With corrections',
  without: 'Without corrections',
  asking: 'Working it out…',
} as const

/** Cautions: an axis is made to move. */
export const DRIVE_CAUTION = {
  speed: {
    act: 'speed',
    gravest: 'Nobody near the dish while a jack runs; hands out of the clevis.',
    more: ['Stay well off both stops: let the limit switch stop the jack, never metal.', 'Transmitter off.'],
  },
  stow: {
    act: 'stow',
    gravest: 'Go early: in a wind that lifts the dish, nobody goes near it.',
    more: ['Jacks move: hands clear. Transmitter off, and no ladder in wind.'],
  },
} as const

const upDown = (side: Side): string => (side === '+' ? 'up' : 'down')

/** "41", "4.1°": a piece of an axis's way. */
const amountText = (mount: MountRecord, axis: Axis, amount: number): string =>
  readingUnit(mount, axis) === 'degrees'
    ? degrees(amount, readingDecimals(mount, axis))
    : fixed(amount, readingDecimals(mount, axis))

const EMPTY: Record<Stopped['kind'], string> = {
  limit: 'at the limit',
  'wrong-side': 'no room',
  'too-slow': 'too fast',
}

/** "down 41"; "down 51" with "then up 10", "up 20" with "to the limit"; "there"; and "27 s" where the speed is known. */
export function wayWords(
  mount: MountRecord,
  axis: Axis,
  way: WayToGo,
): { amount: string; after: string | null; seconds: string | null } {
  const { pulls, seconds, stopped } = way
  const [first, second] = pulls.map(p => `${upDown(p.side)}${NBSP}${amountText(mount, axis, p.amount)}`)
  if (first === undefined)
    return { amount: stopped === null ? 'there' : EMPTY[stopped.kind], after: null, seconds: null }
  return {
    amount: first,
    after: second !== undefined ? `then ${second}` : stopped?.kind === 'limit' ? 'to the limit' : null,
    seconds: seconds === null ? null : duration(1000 * Math.max(1, Math.round(seconds))),
  }
}

/** What to do at the jack, in sentences: "Hold tilt down 12 s, let go at 46.5°: it runs on to 45.9°." */
export function wayTold(mount: MountRecord, axis: Axis, way: WayToGo): string[] {
  const name = capital(axisName(mount, axis))
  const shown = (reading: number) => readingText(mount, axis, reading)
  const told = way.pulls.map(({ side, letGoAt, to, holdS }, k) => {
    const held = holdS === null ? '' : ` for ${duration(1000 * Math.max(1, Math.round(holdS)))}`
    const runs =
      Math.abs(to - letGoAt) < 1e-9 ? `, to ${shown(to)}` : `, let go at ${shown(letGoAt)}: it runs on to ${shown(to)}`
    return `${k === 0 ? name : 'Then'} ${upDown(side)}${held}${runs}.`
  })
  return way.stopped === null ? told : [...told, stoppedWords(mount, axis, way.stopped)]
}

export function stoppedWords(mount: MountRecord, axis: Axis, stopped: Stopped): string {
  const name = capital(axisName(mount, axis))
  switch (stopped.kind) {
    case 'limit':
      return `${name} stops at its ${stopped.end === 'max' ? 'upper' : 'lower'} limit, ${readingText(mount, axis, stopped.at)}.`
    case 'wrong-side':
      return `${name} has no room at its ${stopped.end === 'max' ? 'upper' : 'lower'} limit, ${readingText(mount, axis, stopped.at)}, to come back from: it arrives from the other side, and its play with it.`
    case 'too-slow':
      return `${name} is slower than the target here: park it ahead, and let the target come.`
  }
}

/** "1.5 counts a second", "0.42° a second" */
export function speedText(mount: MountRecord, axis: Axis, drive: DriveRecord): string {
  const decimals = drive.readingsPerS >= 10 ? 0 : drive.readingsPerS >= 1 ? 1 : drive.readingsPerS >= 0.1 ? 2 : 3
  const number = fixed(drive.readingsPerS, decimals)
  return readingUnit(mount, axis) === 'degrees' ? `${number}° a second` : `${number}${NBSP}counts a second`
}

/** "Go there at 40 km/h of wind." */
export const windWords = (stow: StowRecord): string | null =>
  stow.windKmh === undefined ? null : `Go there at ${windText(stow.windKmh)} of wind.`
const windText = (kmh: number): string =>
  lengthUnit() === 'mm' ? `${fixed(kmh, 0)}${NBSP}km/h` : `${fixed(kmh / MILES_KM, 0)}${NBSP}mph`

/** Below this a source is not found by any meter of a small station; below the other not peaked on. */
const NOT_HEARD_DB = 0.02
const WEAK_DB = 0.3
const rise = (db: number): string => `${fixed(db, db < 0.995 ? 2 : 1)}${NBSP}dB`
const SYSTEM_FROM = { measured: 'as measured', station: 'from the station', assumed: 'assumed' } as const

export function heardWords(heard: Heard, feed: string): string {
  switch (heard.kind) {
    case 'extended':
      return 'Above cold sky: no figure. The galactic centre round it is degrees wide and louder than the source itself; what rises depends on the beam and on where you take the cold sky.'
    case 'outside-spectrum':
      return 'Above cold sky: no figure. No published spectrum of it reaches this frequency.'
    case 'no-flux':
      return 'Above cold sky: no figure, with no flux of the Sun at this frequency.'
    case 'rise': {
      const system = `${feed}, system ${fixed(heard.systemK, 0)}${NBSP}K ${SYSTEM_FROM[heard.systemFrom]}`
      const source =
        heard.jansky !== null
          ? `${fixed(Number(heard.jansky.toPrecision(2)), 0)}${NBSP}Jy, by published spectra good to half a dB`
          : heard.fluxFrom === 'quiet'
            ? 'the quiet Sun'
            : heard.fluxFrom === 'measured'
              ? 'the Sun as last noted'
              : null
      const from = [system, source].filter(Boolean).join('; ')
      if (heard.db < NOT_HEARD_DB) return `Cannot be heard here: under ${rise(NOT_HEARD_DB)} above cold sky (${from}).`
      if (heard.db < WEAK_DB)
        return `${rise(heard.db)} above cold sky (${from}): too weak to peak on, only to be found by long averaging.`
      return `${rise(heard.db)} above cold sky (${from}).`
    }
  }
}

/** "Kept to ±0.1° …" */
export function boxWords(box: SatelliteBoxJson): string {
  const d = (deg: number) => `±${degrees(deg, 2)}`
  return `Satellites are kept within ${d(box.halfDeg)} of their place, as a rule. From here that is azimuth ${d(box.azDeg)}, elevation ${d(box.elDeg)}, at most ${degrees(box.mostDeg, 2)} from the middle: ${fixed(box.beams, 2)} of the beam, which loses ${box.lossDb < 0.01 ? `less than 0.01${NBSP}dB` : `${fixed(box.lossDb, 2)}${NBSP}dB`}.`
}
