/** Words of the form in which a station is made or edited. A hint says what the number is and how to get it. */
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
  allow: 'Tolerance',
  horizon: 'Horizon',
  known: 'Measured already',
}

/** "Upper axis: swing" once the mount is known. */
export function stepTitle(step: StepId, kind: MountKind | null): string {
  if ((step !== 'lower' && step !== 'upper') || kind === null) return STEP_TITLES[step]
  return `${STEP_TITLES[step]}: ${axisName({ kind } as Parameters<typeof axisName>[0], step)}`
}

export const STATION = {
  change: 'Change the station',
  over: 'Your station',
  nameless: 'My station',
  next: (title: string) => `Next: ${title}`,
  toOverview: 'Done: to the review',
  later: 'Leave it for later',
  keep: 'Keep the station',
  keeping: 'Keeping…',
  open: (n: number) => `${countOf(n, 'answer')} missing`,
  wrong: (n: number) => `${countOf(n, 'answer')} missing or wrong`,
  stepOf: (n: number, all: number) => `question ${n} of ${all}`,
  howLong:
    'Three questions: the place, the kind of mount, the dish with its frequency. Everything else can wait. What you type is kept here, also if the page is closed.',
  installFirst:
    'Install first: what you write in this tab does not carry over to the installed app. Press Share, then "Add to Home Screen", and open it from there.',
  optional: 'optional',
  overGuesses: 'The station can be kept now. What is marked as a guess can wait until you know it: tap its line.',
  drop: 'Discard these changes',
  dropped: 'Not kept yet. What you typed stays here, also if the page is closed.',
  elsewhere: 'These records of the station do not fit what you wrote:',
  changedAtDish:
    'This corrects what the book says. If something was altered at the dish (a bolt, a clamp, a counter, a feed), record a change under Mount instead, so that earlier sightings keep their meaning.',
} as const

/** Label and hint of each field, by its general path. */
export const FIELDS: Readonly<Record<string, { label: string; hint?: string }>> = {
  name: { label: 'Name of the station' },
  notes: { label: 'Notes', hint: 'Optional.' },
  'site.latDeg': { label: 'Latitude', hint: 'Degrees; or degrees and minutes; or with seconds: 47 30 12 N.' },
  'site.lonDeg': { label: 'Longitude', hint: 'Degrees; or degrees and minutes; or with seconds: 9 18 5 E.' },
  'site.heightM': { label: 'Height above sea', hint: 'Metres; 100 m out does no harm.' },
  'site.air.pressureHPa': {
    label: 'Air pressure there',
    hint: 'Optional: else from the height. At the station, not reduced to sea level.',
  },
  'site.air.temperatureC': { label: 'Air temperature', hint: 'Optional: else from the height.' },
  'site.air.humidityPct': { label: 'Humidity', hint: 'Optional: else 50 %.' },
  'dish.diameterM': { label: 'Diameter', hint: 'Rim to rim, in metres.' },
  'dish.focalRatio': {
    label: 'Focal ratio f/D',
    hint: 'Focal length divided by diameter; most dishes have 0.3 to 0.6.',
  },
  'dish.depth': { label: 'Depth', hint: 'From a straight-edge laid across the rim down to the middle.' },
  'dish.surfaceRmsMm': { label: 'Surface error', hint: 'Typical (rms) error of the surface. Optional.' },
  'dish.feedDiameterMm': {
    label: 'Diameter of the feed',
    hint: 'The round part whose shadow falls in the dish. Optional.',
  },
  'feeds.*.name': { label: 'Name of the feed', hint: 'Optional: else named by its band.' },
  'feeds.*.frequencyMHz': { label: 'Frequency' },
  'feeds.*.beamwidthDeg': {
    label: 'Beamwidth',
    hint: 'Optional, if you measured it: else from frequency and diameter.',
  },
  'feeds.*.systemTemperatureK': { label: 'System temperature', hint: 'Optional.' },
  'mount.headingDeg': { label: 'Heading', hint: 'From true north through east. Rough will do: sightings find it.' },
  'mount.boresightOffsetDeg': {
    label: 'Offset of the dish above the swing plane',
    hint: 'As built in, usually 0. Optional.',
  },
  ...Object.fromEntries(Object.entries(READOUT_FIELDS).map(([name, words]) => [`mount.*.readout.${name}`, words])),
  'mount.*.stepDeg': {
    label: 'Smallest step you can read',
    hint: 'Optional: else 0.1°. Readings of this axis are shown to it.',
  },
  minReading: { label: 'Lowest reading', hint: 'At the limit switch.' },
  maxReading: { label: 'Highest reading', hint: 'At the limit switch.' },
  'tolerance.echoLossDb': {
    label: 'Tolerance: echo loss allowed',
    hint: 'Optional: else 0.5 dB, for 95 % of the Moon time.',
  },
  'tolerance.minElevationDeg': {
    label: 'Minimum elevation',
    hint: 'Optional: else 8°, or 1.2 beamwidths if that is more.',
  },
  'tolerance.floorDeg': {
    label: 'Play and steps of the drive together',
    hint: 'Optional, if you know it better than the readouts say.',
  },
  'horizonMask.*.azDeg': { label: 'Azimuth', hint: 'From true north through east.' },
  'horizonMask.*.elDeg': { label: 'Height of the skyline there' },
}

/** Opens the fields of the air. */
export const PLACE_AIR = 'Air there'

export const DISH = {
  by: 'The shape of the dish, by',
  ratio: 'Focal ratio',
  depth: 'Its depth',
  makes: (ratio: string, focal: string) => `Makes f/D ${ratio}, focus ${focal} from the middle.`,
  fed: 'Where the feed sits',
  prime: 'Prime focus',
  primeNote: 'in front of the middle of the dish',
  offset: 'Offset',
  offsetNote: 'below the dish, out of the beam',
  offsetShape:
    'With an offset feed the shadow check, the rim distances and feed advice in millimetres are off: they hold for a full bowl only. The beam does the rest, and the shape is not needed.',
  more: 'Focal ratio or depth, if you know it',
} as const

export const FEEDS = {
  one: (n: number) => `Feed ${n}`,
  band: 'Band, MHz',
  add: 'One more feed',
  remove: (n: number) => `Remove feed ${n}`,
  beam: (deg: string) => `Beamwidth from frequency and diameter: ${deg}.`,
  echoes: 'Do you hear your own echoes with it?',
  yes: 'Yes',
  no: 'No, or not known',
} as const

export const MOUNT_KIND = {
  kind: 'What kind of mount',
  lines: 'Solid line: the lower axis, fixed to the ground. Dashed line: the upper axis, carried by it.',
  notes: {
    'el-over-az': 'As with a rotator on a mast: one axis upright, the other level.',
    'ha-dec':
      'The lower axis points at the pole: a satellite polar mount with a second drive. For satellites it was set about 0.7° off the pole on purpose; to follow the Moon it belongs on it.',
    'az-over-el': 'A satellite mount laid over.',
    'x-y': 'Both read zero when the dish looks straight up.',
  } satisfies Record<MountKind, string>,
} as const

export const READOUT = {
  type: 'What this axis shows',
  notKnown:
    'Not sure? Leave it: readings are then taken as degrees from the scale. Say so before the first sighting if it shows counts, or the readings written down until then mean something else.',
  direction: 'As the jack grows longer',
  directions: (axis: string) => ({ '1': `${axis} grows`, '-1': `${axis} falls` }),
  zero: 'Find the angle at the pivot, from one place that you know',
  zeroWhy:
    'Drive the axis to where you know its angle, by an inclinometer or a mark, and type both. Arms, length and counts above come first. No such place? Leave it: the sightings find it.',
  zeroReading: 'The counter there shows',
  zeroAngle: 'The angle of the axis there',
  taken: (deg: string) => `That makes ${deg} at the pivot, filled in below.`,
  noTriangle: 'With these arms no triangle closes at that reading. Look at arms, length and counts.',
  limits: 'Limits',
  limitsNow: (from: string, to: string) => `Limits: ${from} to ${to}`,
  makes: 'What that makes',
  limitsDegrees: 'In degrees, as the axis shows them.',
  limitsCounts: 'In counts, as the counter shows them.',
  limitsOpen: 'Never drive against metal to find them: a jack has one speed. Let the limit switch stop it.',
  span: (axis: string, from: string, to: string) =>
    `From the lowest to the highest reading, ${axis} goes from ${from} to ${to}. Does the mount do that?`,
  open: 'At one of the limits the triangle does not close: the jack cannot be that short or that long with these arms.',
} as const

export const HORIZON = {
  what: 'Trees, houses, hills. Between two points the skyline is taken as a straight line, all the way round.',
  none: 'No points: the sky is taken as clear down to the minimum elevation.',
  add: 'One more point',
  point: (n: number) => `Point ${n}`,
  remove: (n: number) => `Remove point ${n}`,
} as const

export const KNOWN = {
  what: 'What you measured before any sighting: "0.7° with the inclinometer, ± 0.15°". Sightings then refine it. Everything else is taken as entered, with room for error.',
  add: 'I measured something',
  which: 'What did you measure?',
  never: 'Close the list',
  value: 'I measured',
  sigma: 'Uncertainty ±',
  measured: 'It is',
  yes: 'measured',
  no: 'a guess',
  remove: (label: string) => `Remove: ${label}`,
  needMount: 'First choose the kind of mount.',
} as const

export const axisWords = (kind: MountKind | null, axis: Axis): string =>
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
