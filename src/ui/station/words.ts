/** Words of the form in which a station is made or changed. A hint says what the number is and how one gets it. */
import { splitPriorId } from '../../core/fit/parameters.ts'
import { knownEntry, labelOf } from '../../core/mount/parameters.ts'
import type { Axis, MountKind, ParameterId, StationRecord } from '../../core/records/fieldbook.ts'
import type { RecordKind } from '../../core/records/kinds.ts'
import { radFromDeg } from '../../core/units.ts'
import { countOf, safeText } from '../kit/format.ts'
import { axisName } from '../kit/phrases.ts'
import { READOUT_FIELDS } from '../kit/readoutwords.ts'
import { pathWords, recordWords } from '../kit/recordwords.ts'
import type { StepId } from './fields.ts'

export const STEP_TITLES: Readonly<Record<StepId, string>> = {
  name: 'Name',
  place: 'Place',
  dish: 'Dish',
  feeds: 'Feeds',
  mount: 'Mount',
  lower: 'Lower axis',
  upper: 'Upper axis',
  allow: 'What you allow',
  horizon: 'Horizon',
  known: 'Known things',
}

/** "Upper axis: swing" once the mount is known. */
export function stepTitle(step: StepId, kind: MountKind | null): string {
  if ((step !== 'lower' && step !== 'upper') || kind === null) return STEP_TITLES[step]
  return `${STEP_TITLES[step]}: ${axisName({ kind } as Parameters<typeof axisName>[0], step)}`
}

export const STATION = {
  change: 'Change the station',
  over: 'Look it over',
  next: (title: string) => `Next: ${title}`,
  toOverview: 'Done: look it over',
  later: 'Leave it for later',
  keep: 'Keep the station',
  keeping: 'Keeping…',
  open: (n: number) => `${countOf(n, 'thing')} to be put right`,
  stepOf: (n: number, all: number) => `step ${n} of ${all}`,
  howLong:
    'Ten short steps; the last three may stay empty. What you write waits here if you are called away, also if the page is closed.',
  installFirst:
    'Install first: what is written in this tab does not follow into the app. Press Share, then "Add to Home Screen", and open it from there.',
  optional: 'left empty',
  drop: 'Throw away what was written here',
  dropped: 'Nothing was stored of this yet; what you wrote waits here, also if the page is closed.',
  elsewhere: 'These records of the station do not fit what you wrote:',
  changedAtDish:
    'This puts right what the book says. If something was altered at the dish (a bolt, a clamp, a counter, a feed), note a change under Mount instead: sightings from before then keep their meaning.',
} as const

/** Label and hint of each field, by its general path. */
export const FIELDS: Readonly<Record<string, { label: string; hint?: string }>> = {
  name: { label: 'Name of the station' },
  notes: { label: 'Notes', hint: 'May stay empty.' },
  'site.latDeg': { label: 'Latitude', hint: 'Degrees; or degrees and minutes; or with seconds: 47 30 12 N.' },
  'site.lonDeg': { label: 'Longitude', hint: 'Degrees; or degrees and minutes; or with seconds: 9 18 5 E.' },
  'site.heightM': { label: 'Height', hint: 'Metres; a hundred more or less do not matter.' },
  'site.air.pressureHPa': {
    label: 'Air pressure there',
    hint: 'May stay empty: then by height. Not reduced to sea level.',
  },
  'site.air.temperatureC': { label: 'Air temperature', hint: 'May stay empty: then by height.' },
  'site.air.humidityPct': { label: 'Humidity', hint: 'May stay empty: then 50 %.' },
  'dish.diameterM': { label: 'Diameter', hint: 'Rim to rim, in metres.' },
  'dish.focalRatio': {
    label: 'Focal ratio f/D',
    hint: 'Focal length divided by diameter; most dishes have 0.3 to 0.6.',
  },
  'dish.depth': { label: 'Depth', hint: 'From a straight-edge laid across the rim down to the middle.' },
  'dish.surfaceRmsMm': { label: 'Roughness of the surface', hint: 'Typical error of the surface. May stay empty.' },
  'dish.feedDiameterMm': {
    label: 'Diameter of the feed',
    hint: 'The round thing whose shadow falls in the dish. May stay empty.',
  },
  'feeds.*.name': { label: 'Name of the feed', hint: 'Such as "23 cm ring feed".' },
  'feeds.*.frequencyMHz': { label: 'Frequency' },
  'feeds.*.beamwidthDeg': {
    label: 'Beamwidth',
    hint: 'If you measured it. May stay empty: then from frequency and diameter.',
  },
  'feeds.*.systemTemperatureK': { label: 'System temperature', hint: 'If known. May stay empty.' },
  'mount.headingDeg': { label: 'Heading', hint: 'From true north through east. A guess will do: sightings find it.' },
  'mount.boresightOffsetDeg': {
    label: 'Offset of the dish above the swing plane',
    hint: 'As built in, mostly 0. May stay empty.',
  },
  ...Object.fromEntries(Object.entries(READOUT_FIELDS).map(([name, words]) => [`mount.*.readout.${name}`, words])),
  minReading: { label: 'Lowest reading', hint: 'At the stop or limit switch.' },
  maxReading: { label: 'Highest reading', hint: 'At the stop or limit switch.' },
  'tolerance.echoLossDb': {
    label: 'Loss on echoes that you allow',
    hint: 'May stay empty: then 0.5 dB, for 95 % of the Moon time.',
  },
  'tolerance.minElevationDeg': {
    label: 'Least elevation',
    hint: 'May stay empty: then 8°, or 1.2 beamwidths if that is more.',
  },
  'tolerance.floorDeg': {
    label: 'Play and steps of the drive together',
    hint: 'If you know better than the readouts say. May stay empty.',
  },
  'horizonMask.*.azDeg': { label: 'Azimuth', hint: 'From true north through east.' },
  'horizonMask.*.elDeg': { label: 'Height of the skyline there' },
}

export const PLACE = {
  by: 'Where the station stands',
  phone: 'Find it by the phone',
  notByPhone: 'Type the place instead',
  stop: 'Stop',
  waiting: 'Waiting for the first fix. Under the open sky it takes up to some minutes.',
  denied:
    'The phone does not let this page know where it is. Allow it in the settings of the phone or of the browser, or type the place.',
  absent: 'This phone does not tell pages where it is. Type the place.',
  noFix: 'No fix yet. Step out from under the dish and wait, or type the place.',
  fix: (radius: string, fixes: number) => `Good to ${radius} (95 %), from ${countOf(fixes, 'fix', 'fixes')}.`,
  enough: 'An error of 100 m does not matter: it moves the Moon by a thousandth of a degree.',
  height:
    'The height is above the ellipsoid or above the sea, which one depends on the phone: 20 to 50 m apart, and of no matter here.',
  take: 'Write this place in',
  locator: 'Or a locator',
  locatorHint: 'Two to eight characters, JN47pm for one. Its centre is written in below.',
  takeLocator: 'Write the centre in',
  locatorSize: (km: string) => `Up to ${km} from the centre to the corner of that cell.`,
  isLocator: (text: string) => `Locator ${text}.`,
  air: 'Air there',
} as const

export const DISH = {
  by: 'The shape of the dish, by',
  ratio: 'Focal ratio',
  depth: 'Its depth',
  makes: (ratio: string, focal: string) => `Makes f/D ${ratio}, focus ${focal} from the middle.`,
} as const

export const FEEDS = {
  one: (n: number) => `Feed ${n}`,
  add: 'One more feed',
  remove: (n: number) => `Take feed ${n} away`,
  beam: (deg: string) => `Beamwidth by frequency and diameter: ${deg}.`,
  echoes: 'Do you hear your own echoes with it?',
  yes: 'Yes',
  no: 'No, or not known',
} as const

export const MOUNT = {
  kind: 'What kind of mount',
  notes: {
    'el-over-az': 'turns round upright, then tips up',
    'ha-dec': 'the lower axis points at the pole: a satellite mount as it stood, with a second drive',
    'az-over-el': 'tips up first, swings sideways on top: a converted satellite mount laid over',
    'x-y': 'tips to the side, then forward; both zero straight up',
  } satisfies Record<MountKind, string>,
  headingOf: {
    'el-over-az': '',
    'ha-dec': '',
    'az-over-el': 'The direction in which the dish looks with the swing at zero.',
    'x-y': 'The direction in which the X axis points, forward.',
  } satisfies Record<MountKind, string>,
} as const

/** Where an axis stands at zero. */
export const ZERO_OF: Readonly<Record<MountKind, Readonly<Record<Axis, string>>>> = {
  'el-over-az': {
    lower: 'Azimuth is 0 when the dish looks true north.',
    upper: 'Elevation is 0 when it looks at the horizon.',
  },
  'ha-dec': {
    lower: 'Hour angle is 0 when the dish looks along the meridian.',
    upper: 'Declination is 0 when it looks square to the polar axis.',
  },
  'az-over-el': {
    lower: 'Tilt is 0 when the plane in which the dish swings lies level.',
    upper: 'Swing is 0 when the dish looks straight ahead, square to the tilt axis.',
  },
  'x-y': {
    lower: 'X is 0 when the dish is not tipped sideways.',
    upper: 'Y is 0 when it is not tipped forward.',
  },
}

export const READOUT = {
  type: 'What this axis shows',
  direction: 'As the jack grows longer',
  directions: (axis: string) => ({ '1': `${axis} grows`, '-1': `${axis} falls` }),
  zero: 'Find the angle at the pivot',
  zeroWhy:
    'Bring the axis to a place where you know how it stands, by an inclinometer or a mark, and write both here. Arms, length and counts above come first.',
  zeroReading: 'The counter there shows',
  zeroAngle: 'The axis there stands at',
  take: (deg: string) => `Write ${deg} in`,
  noTriangle: 'With these arms no triangle closes at that reading. Look at arms, length and counts.',
  limits: 'Limits',
  makes: 'What that makes',
  limitsDegrees: 'In degrees, as the axis shows them.',
  limitsCounts: 'In counts, as the counter shows them.',
  span: (axis: string, from: string, to: string) =>
    `From the lowest to the highest reading, ${axis} goes from ${from} to ${to}. Is that what the mount does?`,
  open: 'At one of the limits the triangle does not close: the jack cannot be that short or that long with these arms.',
} as const

export const HORIZON = {
  what: 'What stands in the way: trees, houses, hills. Between two points the skyline is taken as a straight line, all the way round.',
  none: 'No points: the sky is taken as free down to the least elevation.',
  add: 'One more point',
  point: (n: number) => `Point ${n}`,
  remove: (n: number) => `Take point ${n} away`,
} as const

export const KNOWN = {
  what: 'What you measured beforehand: "I measured 0.7° with the inclinometer, good to 0.15°". Sightings then refine it. What is not here is taken from paper, with room for error.',
  add: 'I measured something',
  which: 'What did you measure?',
  never: 'Close the list',
  value: 'I measured',
  sigma: 'good to ±',
  measured: 'It is',
  yes: 'measured',
  no: 'a guess',
  remove: (label: string) => `Take away: ${label}`,
  needMount: 'First say what kind of mount it is.',
} as const

export const axisOf = (kind: MountKind | null, axis: Axis): string =>
  kind === null ? `${axis} axis` : axisName({ kind } as Parameters<typeof axisName>[0], axis)

/** A known thing in plain words: "feed sits to the right (feed a)". */
export function priorWords(
  name: string,
  kind: MountKind,
  latDeg: number,
  feeds: readonly { id: string; name: string }[],
): string {
  const { id, feed } = splitPriorId({ id: name, value: 0, sigma: 1 })
  const label = knownEntry(id) === null ? id : labelOf(id as ParameterId, { kind, latitude: radFromDeg(latDeg) })
  if (feed === null) return label
  const known = feeds.find(f => f.id === feed)
  return `${label}, feed ${safeText(known && known.name !== '' ? known.name : feed)}`
}

/** Where a fault of the whole station lies, in words: "Sighting of the Sun, 27 Apr 2026 20:14". */
export function placeOfFault(path: string, station: StationRecord): string {
  const list = /^stations\[0\]\.(\w+)\[(\d+)\]/.exec(path)
  if (!list) return pathWords(path.replace(/^stations\[0\]\.?/, ''), station.mount)
  const kinds: Readonly<Record<string, RecordKind>> = {
    sightings: 'sighting',
    levels: 'level',
    references: 'reference',
    changes: 'change',
    noise: 'noise',
  }
  const kind = kinds[list[1]!]
  const body = (station as unknown as Record<string, unknown[]>)[list[1]!]?.[Number(list[2])]
  return kind ? recordWords(kind, body, station.mount) : pathWords(path.replace(/^stations\[0\]\.?/, ''), station.mount)
}
