/** Words of "A rough heading" and "The Sun's line". */
import type { MountRecord } from '../../core/records/fieldbook.ts'
import type { Declination } from '../../core/sky/magnetic.ts'
import type { Crossing, Shadow } from '../../core/sky/sunline.ts'
import { degFromRad } from '../../core/units.ts'
import { degrees, duration, fixed, NBSP, utcTime } from '../kit/format.ts'
import { windOf } from '../kit/phrases.ts'

export const HEADING = {
  title: 'A rough heading',
  lead: (mount: MountRecord): string =>
    mount.kind === 'az-over-el' || mount.kind === 'x-y'
      ? 'Stand at least 3 m from the mast on the line of the mount, and sight with the compass the way the mount faces.'
      : 'Stand at least 3 m from the mast, and sight with the compass along the line you want to know.',
  rough:
    'A compass is rough: near steel it can be off by 15° and more without showing it. It is only a start; the sightings find the heading.',
  shows: 'The compass shows',
  showsHint: 'Magnetic, 0 to 360. The mast, a car and a magnet in a phone’s case pull it.',
  take: 'Take it from this phone',
  phone: (deg: string, accuracy: string | null) =>
    `This phone’s top edge points to ${deg} magnetic${accuracy === null ? '' : `, good to ${accuracy} as it says`}. Hold it flat.`,
  noPhone: 'This phone gives no compass reading here. Type what a compass shows.',
  start: 'Ask this phone',
  how: 'How far does the needle point from true north?',
  model: 'By the World Magnetic Model 2025',
  typed: 'I type it',
  declination: 'Declination',
  declinationHint: 'East is plus, west is minus.',
  trueIs: 'True heading',
  put: 'Put it into the station',
  nothing: 'What the compass shows is missing.',
  noDeclination: 'The declination is missing.',
  notThis: 'This mount has no heading of its own: the result is above, and nothing is put in.',
} as const

export const magneticWords = (d: Declination): { ok: boolean; text: string } => {
  if (d.kind === 'outside-years')
    return { ok: false, text: 'The model holds from 2025 to 2030 only. Type the declination of a newer chart.' }
  const side = d.deg < 0 ? 'west' : 'east'
  const needle =
    d.needle === 'good'
      ? ''
      : d.needle === 'doubtful'
        ? ' This near to the magnetic pole a needle is doubtful.'
        : ' This near to the magnetic pole a needle is useless.'
  return { ok: d.needle !== 'useless', text: `Declination here: ${degrees(Math.abs(d.deg), 1)} ${side}.${needle}` }
}

export const SUNLINE = {
  title: 'The Sun’s line',
  lead: 'Hang a plumb line, let it come to rest, and mark where its shadow falls on level ground. That mark then has the true azimuth shown here.',
  never:
    'Never look at the Sun, not even for a second and not through anything. Stand with your back to it and look at the shadow.',
  shadowAt: 'The shadow points to',
  bearing: 'When does it point along a line?',
  north: 'True north and south',
  mount: 'The mount’s heading',
  other: 'Another azimuth',
  otherLabel: 'True azimuth',
  next: 'Next time',
  after: 'After that',
  noneToday: 'In the next 24 hours the shadow does not point along it while the Sun is high enough.',
  clock: (text: string) => `Time as this phone has it; ${text}`,
  clockIn: 'the last clock check is taken into account.',
  clockOut: 'the clock was not compared today.',
  sure: 'The edge of a shadow is soft: mark its middle. A plumb line 2 m high is good to about 0.2°.',
} as const

/** The clock was not compared: what a wrong minute does to the line, at this place and now. */
export const clockOutWords = (s: Shadow): string =>
  s.kind === 'shadow'
    ? `${SUNLINE.clockOut} A clock one minute out turns the line by ${fixed(Math.abs(degFromRad(s.perMinute)), 2)}° now.`
    : SUNLINE.clockOut

/** What the shadow does now. */
export function sunlineShadowWords(s: Shadow): string[] {
  switch (s.kind) {
    case 'too-low':
      return [
        degFromRad(s.sunEl) < 0
          ? 'The Sun is down.'
          : `The Sun is only ${degrees(degFromRad(s.sunEl), 1)} up: too low for a clear shadow.`,
      ]
    case 'too-high':
      return ['The Sun is nearly overhead: the shadow is too short to stake out.']
    case 'shadow': {
      const perMinute = degFromRad(s.perMinute)
      return [
        `Toward the ${windOf(degFromRad(s.az))}, turning ${fixed(Math.abs(perMinute), 2)}° a minute ${perMinute < 0 ? 'anticlockwise' : 'clockwise'}, seen from above.`,
        `A plumb line of 2${NBSP}m casts a shadow of ${fixed(2 * s.perMetre, 1)}${NBSP}m.`,
      ]
    }
  }
}

/** "In 1 h 12 min, at 11:24:31 UTC: the shadow points along it." */
export function crossingWords(c: Crossing, nowMs: number, bearingDeg: number): { countdown: string; text: string } {
  const toward = c.end === 'shadow' ? bearingDeg : (bearingDeg + 180) % 360
  return {
    countdown: duration(c.utcMs - nowMs),
    text: `At ${utcTime(c.utcMs)}${NBSP}UTC the shadow points to ${degrees(toward, 1)}${c.end === 'shadow' ? '' : ', the line’s other end'}. The Sun is ${degrees(degFromRad(c.sunEl), 0)} up then.`,
  }
}
