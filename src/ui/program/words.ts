/** Words of "Compare a program": what a difference looks like, what it means, and what to do about it. */
import type { ProgramJson } from '../../core/check/programjson.ts'
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { decibels, degrees, duration, longitude, utcAndLocal } from '../kit/format.ts'
import { axisName, theTarget } from '../kit/phrases.ts'
import { readingText } from '../kit/readings.ts'
import type { PlaceLack } from './form.ts'

type Fit = ProgramJson['fits'][number]

export const PROGRAM = {
  lead: 'Read from your tracking program where it puts a target, and type it here. One place is enough to begin; another an hour later tells more.',
  readIt: 'Read it now: mark the time',
  timeHint: 'When it showed this, in UTC.',
  azimuth: 'Azimuth it shows',
  elevation: 'Elevation it shows',
  digits: 'With all the digits that it shows.',
  readings: 'Optional: its readings',
  compare: 'Compare',
  another: 'Add another place',
  leave: 'Leave it as it was',
  remove: 'Remove this place',
  asking: 'Comparing…',
  failed: 'This could not be compared:',
  apart: 'Apart at most',
  azRow: 'Azimuth it shows',
  elRow: 'Elevation it shows',
  apartRow: 'Apart in the sky',
  itsReadings: 'Its readings',
  edit: 'Edit this place',
  whole: 'These are whole degrees: faults smaller than half a degree stay unseen.',
  onePlace: 'This rests on one place. Add another an hour later to be safe.',
  noReadings: 'no pose of this mount points there',
  help: [
    'Both places are compared as directions in the sky: a degree of azimuth counts for less the higher the target is.',
    'Azimuth counts from north through east. Ours includes refraction and, for the Moon, the parallax of your site.',
    'As entered: what the station as you entered it gives. With corrections: with what the sightings have found. A program that knows nothing of your sightings should agree with the first, one that has your corrections with the second.',
  ],
} as const

export const LACK_WORDS = (lack: PlaceLack, mount: MountRecord): string => {
  switch (lack) {
    case 'source':
      return 'Which source? Pick one.'
    case 'utc':
      return 'The time is missing: mark it as you read the program.'
    case 'az':
      return 'The azimuth is missing.'
    case 'el':
      return 'The elevation is missing.'
    case 'lower':
    case 'upper':
      return `The reading of ${axisName(mount, lack)} is missing: type both, or neither.`
  }
}

/** "3 min 20 s ahead", "20 s behind" */
const clockWords = (s: number): string => `${duration(1000 * Math.abs(Math.round(s)))} ${s < 0 ? 'behind' : 'ahead'}`

/** A cause in a few words, as one of several: "a clock 3 min 20 s ahead". */
function causeWords(f: Fit, lonDeg: number): string {
  const bare = f.withoutRefraction && f.cause !== 'refraction' ? ', with refraction left out' : ''
  switch (f.cause) {
    case 'agrees':
      return 'no fault at all'
    case 'clock':
      return `a clock ${clockWords(f.clockS ?? 0)}${bare}`
    case 'summer-time':
      return `an hour of summer time, ${(f.clockS ?? 0) < 0 ? 'behind' : 'ahead'}${bare}`
    case 'longitude-sign':
      return `the sign of the longitude (${longitude(-lonDeg, 2)})${bare}`
    case 'geocentric':
      return `a Moon seen from the Earth’s centre${bare}`
    case 'refraction':
      return 'refraction left out'
    case 'azimuth-from-south':
      return `azimuth counted from south${bare}`
  }
}

export interface ProgramSaid {
  /** One strong sentence. */
  head: string
  /** What it means and what to do: one or two sentences each. */
  text: string[]
  state: 'good' | 'look-out'
}

function causeSaid(f: Fit, lonDeg: number): Omit<ProgramSaid, 'state'> {
  const s = f.clockS ?? 0
  switch (f.cause) {
    case 'agrees':
      return {
        head: 'The program agrees with ours.',
        text: [
          'It knows time, place and target right. What its readings still miss is the mount, which it does not know.',
        ],
      }
    case 'clock':
      return {
        head: `It looks like the clock: the program is ${clockWords(s)}.`,
        text: [
          'Set the computer’s clock by the network or a GPS receiver, see that the program follows it, and compare again.',
        ],
      }
    case 'summer-time':
      return {
        head: `It looks like summer time: the program is an hour ${s < 0 ? 'behind' : 'ahead'}.`,
        text: ['Set its time zone, or let it count in UTC. Then compare again.'],
      }
    case 'longitude-sign':
      return {
        head: `It looks like the sign of the longitude: the program computes for ${longitude(-lonDeg, 2)}.`,
        text: ['Some programs count west as plus. Type the longitude there with the other sign.'],
      }
    case 'geocentric':
      return {
        head: 'It looks like a Moon seen from the Earth’s centre.',
        text: [
          'The Moon is near: seen from where you stand it is up to 1° lower. Look for a setting called “topocentric”; without one, do not steer by this program.',
        ],
      }
    case 'refraction':
      return {
        head: 'It looks like refraction left out.',
        text: [
          'The air lifts a target by about half a degree at the horizon and by a tenth at 10° of elevation. Switch refraction on in the program, or leave it: higher up it makes no difference.',
        ],
      }
    case 'azimuth-from-south':
      return {
        head: 'It looks like azimuth counted from south.',
        text: [
          'Its azimuth is half a turn from ours. Set it to count from north, or take the half turn into the zero of the axis.',
        ],
      }
  }
}

/** "Ask it for the Moon about 23:00 UTC: what they put there is 0.8° apart." */
function tellingWords(telling: ProgramJson['telling']): string {
  if (telling === null) return 'Add a place of another hour or of another target: it may tell them apart.'
  const when = utcAndLocal(instantMs(telling.utc))
  return `To tell them apart, add what it shows for ${theTarget(telling.target)} about ${when}: there they are at least ${degrees(telling.apartDeg, 1)} apart.`
}

/** @param lonDeg  of the station, east + */
export function programSaid(told: ProgramJson, lonDeg: number): ProgramSaid {
  const [best] = told.fits
  if (told.verdict === 'none' || best === undefined)
    return {
      state: 'look-out',
      head: 'It differs, and none of the usual causes explains it.',
      text: [
        'Check what you typed, and in the program: the date, latitude and longitude, the target, and whether it shows azimuth and elevation of the target or of its own axes.',
      ],
    }
  if (told.verdict === 'several')
    return {
      state: 'look-out',
      head: `It differs, and more than one cause fits: ${told.fits.map(f => causeWords(f, lonDeg)).join(', or ')}.`,
      text: [tellingWords(told.telling)],
    }
  const said = causeSaid(best, lonDeg)
  const bare = best.withoutRefraction && best.cause !== 'refraction'
  return {
    ...said,
    state: best.cause === 'agrees' ? 'good' : 'look-out',
    text: [...said.text, ...(bare ? ['It leaves refraction out too, which matters below 10° of elevation only.'] : [])],
  }
}

/** What pointing by the program's place would cost. */
export const placeCostWords = (echoLossDb: number, feed: string | null): string => {
  const through = feed === null ? '' : ` ${feed[0]!.toLowerCase()}${feed.slice(1)}`
  return isBeamOffTarget(echoLossDb)
    ? `A beam pointed where the program says would miss${through}: it is more than half a beamwidth off.`
    : `A beam pointed where the program says would lose ${decibels(echoLossDb)} of own echoes${through}.`
}

export const oursWords = (deg: string): string => `Ours: ${deg}`

export const apartWords = (echoLossDb: number): string =>
  isBeamOffTarget(echoLossDb) ? 'More than half a beamwidth.' : `${decibels(echoLossDb)} of own echoes.`

/** "Ours: 30.9° with corrections, 29.5° as entered; it shows 0.3° more." */
export const readingsOurs = (corrected: string, paper: string | null, differ: string): string =>
  `Ours: ${corrected} with corrections${paper === null ? '' : `, ${paper} as entered`}. ${differ}`

/** "It shows 12 counts less.": against ours with corrections. */
export function differWords(mount: MountRecord, axis: Axis, differ: number): string {
  const size = readingText(mount, axis, Math.abs(differ))
  return /[1-9]/.test(size) ? `It shows ${size} ${differ < 0 ? 'less' : 'more'}.` : 'The same.'
}
