/** Words of the place Book: stations and what is kept, bringing in and handing out, settings. */
import { AXIS_NAMES, labelOf } from '../../core/fit/labels.ts'
import { splitPriorId } from '../../core/fit/parameters.ts'
import type { Axis, MountKind, MountRecord, ParameterId, StationRecord } from '../../core/records/fieldbook.ts'
import { keysOf } from '../../core/records/parts.ts'
import type { RecordKind } from '../../core/records/revisions.ts'
import { radFromDeg } from '../../core/units.ts'
import { countOf, fixed, NBSP, NONE, safeText, utcAndLocal, utcDate, utcTime } from '../kit/format.ts'

export const BOOK = {
  title: 'Book',
  empty: 'The book is empty.',
  emptyWhy: 'Make a station, bring in a field book, or look around in a demo station.',
  stations: 'Stations in this book',
  make: 'Make a station',
  makeNew: 'Make another station',
  edit: 'Look at or change this station',
  bring: 'Bring in a field book',
  handOut: 'Hand out, make a copy',
  history: 'What was written, and undo',
  copies: 'Copies of deleted stations',
  settings: 'Settings',
  ready: 'Ready for the field',
  remove: 'Delete this station',
  demo: 'demo',
  demoAway: 'Throw the demo station away',
  demoAltered:
    'You worked in the demo station before. What is brought back as it was at first is shown here; what you wrote stays in the history.',
  undo: (what: string) => `Undo: ${what}`,
  undone: 'Undone.',
  overtaken:
    'This cannot be undone any more: the record was changed since, perhaps in another tab. See what was written.',
  discard: 'Throw away what could not be kept',
  back: 'Back to the book',
  backup: (n: number, everMs: number | null) =>
    everMs === null
      ? `No backup of this station yet: ${countOf(n, 'record')} ${n === 1 ? 'is' : 'are'} only on this phone.`
      : `${countOf(n, 'record')} newer than your last backup of ${utcDate(everMs)}.`,
  nothingYet:
    'Nothing is measured here yet. Plumb the mount under Level, then take a first sighting of the Sun under Sight.',
  help: 'Everything stays on this phone. A lost phone is a lost book: hand out a copy after every visit to the dish.',
} as const

/** What the book calls a kind of record. */
export const KIND_WORDS: Readonly<Record<RecordKind, string>> = {
  book: 'notes of the book',
  station: 'station',
  sighting: 'sighting',
  level: 'level',
  reference: 'reference mark',
  change: 'change',
  scan: 'scan',
  noise: 'noise measurement',
  'clock-check': 'clock check',
  instrument: 'instrument',
  check: 'check',
  'half-sighting': 'half sighting',
}

/** The mount whose words are used; null where it is not known, as of a station that is gone. */
type Named = Pick<MountRecord, 'kind'> | null
const axisOf = (mount: Named, axis: Axis): string => (mount === null ? `${axis} axis` : AXIS_NAMES[mount.kind][axis])

function levelWord(what: string, mount: Named): string {
  switch (what) {
    case 'lower-axis-elevation':
      return mount?.kind === 'ha-dec' ? 'polar axis' : `${axisOf(mount, 'lower')}${mount ? ' axis' : ''}`
    case 'upper-axis-elevation':
      return `${axisOf(mount, 'upper')}${mount ? ' axis' : ''}`
    case 'mast-lean':
      return 'mast lean'
    case 'dish-elevation':
      return 'dish'
    default:
      return safeText(what)
  }
}

/** "Sighting of the Sun, 27 Apr 2026 20:14" */
export function recordWords(kind: RecordKind, body: unknown, mount: Named = null): string {
  const b = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>
  const ms = typeof b.utc === 'string' ? Date.parse(b.utc) : Number.NaN
  const when = Number.isFinite(ms) ? `, ${utcDate(ms)} ${utcTime(ms, 'minute')}${NBSP}UTC` : ''
  const word = KIND_WORDS[kind] ?? kind
  const first = word.charAt(0).toUpperCase() + word.slice(1)
  if (kind === 'station') return `${first} ${typeof b.name === 'string' ? safeText(b.name) : NONE}`
  if (kind === 'sighting' || kind === 'half-sighting') {
    const type = (b.target as { type?: unknown } | undefined)?.type
    const target = type === 'sun' ? ' of the Sun' : type === 'moon' ? ' of the Moon' : ''
    return first + target + when
  }
  if (kind === 'level' && typeof b.what === 'string') return `${first}, ${levelWord(b.what, mount)}${when}`
  if (kind === 'reference' && typeof b.mark === 'string') return `${first} ${safeText(b.mark)}${when}`
  return first + when
}

const FIELD_WORDS: Readonly<Record<string, string>> = {
  site: 'site',
  dish: 'dish',
  mount: 'mount',
  feeds: 'feeds',
  feed: 'feed',
  priors: 'known values',
  tolerance: 'tolerance',
  readout: 'readout',
  horizonMask: 'horizon',
  offset: 'offset',
  shadow: 'shadow',
  name: 'name',
  notes: 'notes',
  note: 'note',
  utc: 'time',
  latDeg: 'latitude',
  lonDeg: 'longitude',
  heightM: 'height',
  diameterM: 'diameter',
  focalRatio: 'focal ratio',
  frequencyMHz: 'frequency',
  beamwidthDeg: 'beamwidth',
  headingDeg: 'heading',
  boresightOffsetDeg: 'dish offset',
  minReading: 'lowest reading',
  maxReading: 'highest reading',
  baseArmMm: 'fixed arm',
  rodArmMm: 'rod arm',
  lengthAtReadingZeroMm: 'length at reading zero',
  countsPerMm: 'counts per mm',
  countsPerDeg: 'counts per degree',
  zeroCounts: 'counts at zero',
  phiAtAngleZeroDeg: 'angle at the pivot at axis zero',
  sigmaDeg: '± of it',
  valueDeg: 'value',
  rightMm: 'right',
  upMm: 'up',
  rightDeg: 'right',
  upDeg: 'up',
  clockOffsetS: 'clock offset',
  echoLossDb: 'echo loss allowed',
  minElevationDeg: 'least elevation',
  what: 'what',
  use: 'use',
  target: 'target',
  type: 'kind',
  method: 'method',
  mark: 'mark',
  reading: 'reading',
  calibration: 'last calibration',
  pairs: 'stops',
  angleDeg: 'angle',
  from: 'arrived from',
  offsetS: 'phone ahead by, s',
  sigmaS: '± of it, s',
  tapsMs: 'taps',
  pips: 'what the pips mark',
  wholeS: 'whole seconds',
  by: 'how it was compared',
  raw: 'what it was worked out from',
  measured: 'measured',
  diameterMm: 'diameter',
  depthMm: 'depth',
  rims: 'rim to feed',
  distances: 'distances',
  seenFrom: 'seen from',
  mouthDiameterMm: 'width of the mouth',
  phaseCentreMm: 'phase centre',
  sigmaMm: '± of it',
  strings: 'crossed strings',
  systemTemperatureK: 'system temperature',
  of: 'louder is',
  yDb: 'rise',
  levels: 'levels',
  fluxSfu: 'flux',
  fluxAt: 'published flux',
  air: 'air',
  lossDb: 'loss besides',
  gainDbi: 'gain',
  sigmaDb: '± of it',
}

/** "site, latitude" from "site.latDeg"; "swing" from "upper". */
export function pathWords(path: string, mount: Named = null): string {
  if (path === '') return 'all of it'
  return path
    .split(/[.[\]]+/)
    .filter(part => part !== '')
    .map(part =>
      part === 'lower' || part === 'upper'
        ? axisOf(mount, part)
        : /^\d+$/.test(part)
          ? `no. ${Number(part) + 1}`
          : fieldWord(part),
    )
    .join(', ')
}

/** A key from a file may be called anything, "constructor" too. */
const fieldWord = (key: string): string => (Object.hasOwn(FIELD_WORDS, key) ? FIELD_WORDS[key]! : safeText(key))

/** "mount, swing, lowest reading" from "/mount/upper/minReading"; "feeds, a" from "/feeds/a". */
export const partWords = (pointer: string, mount: Named = null): string =>
  pointer === ''
    ? 'all of it'
    : keysOf(pointer)
        .map(key => (key === 'lower' || key === 'upper' ? axisOf(mount, key) : fieldWord(key)))
        .join(', ')

/** Any value of a record in a few words, as text. */
export function valueWords(value: unknown): string {
  if (value === undefined) return 'not there'
  if (value === null) return 'nothing'
  if (typeof value === 'number') return String(value).replace('-', '−')
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'string')
    return value === '' ? 'empty' : safeText(value.length > 120 ? `${[...value].slice(0, 120).join('')}…` : value)
  const text = JSON.stringify(value)
  return safeText(text.length > 120 ? `${text.slice(0, 120)}…` : text)
}

/** A known thing in plain words: "feed sits to the right (feed a)". */
export function priorWords(
  name: string,
  kind: MountKind,
  latDeg: number,
  feeds: readonly { id: string; name: string }[],
): string {
  const { id, feed } = splitPriorId({ id: name, value: 0, sigma: 1 })
  const label = labelOf(id as ParameterId, { kind, latitude: radFromDeg(latDeg) }) ?? id
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

export const DELETE = {
  title: 'Delete the station',
  what: (station: StationRecord) =>
    `This takes ${safeText(station.name)} with ${countOf(station.sightings.length, 'sighting')} out of the book. A copy stays on this phone under "Copies of deleted stations", and it can be undone.`,
  word: 'Delete the station',
  failed: 'Nothing was deleted.',
} as const

export const BRING = {
  title: 'Bring in',
  how: 'A field book comes as a file, or as text from a message. Nothing is stored before you have seen what it would do.',
  installFirst:
    'Install first: this browser clears a site that is not installed after seven days without a visit, and what is imported in this tab does not follow into the app. Press Share, then "Add to Home Screen", open it from there, and import the book there.',
  file: 'Choose a file',
  fileHint: 'Any file that holds a field book; its ending does not matter.',
  paste: 'Or paste its text',
  check: 'Look what it holds',
  again: 'Choose another one',
  empty: 'Choose a file or paste the text first.',
  held: (mb: string) => `A text of ${mb}${NBSP}MB is pasted. It is too long to be shown here.`,
  unreadable: 'This file could not be read, or it is not text in UTF-8. Nothing was brought in.',
  stop: 'Stop',
  stopped: 'Stopped. Nothing was brought in.',
  stopWhat: 'Stopping leaves the book as it is.',
  failed: (message: string) => `It could not be looked at. Nothing was brought in. (${safeText(message)})`,
  parts: {
    read: 'Reading the file',
    check: 'Checking every record',
    compare: 'Comparing with what is here',
    write: 'Writing to the book',
  },
  refused: (n: number) => `Not a sound field book: ${countOf(n, 'fault')}. Nothing was brought in.`,
  would: 'What it would do',
  which: (what: string) => `${what}: which ones`,
  added: 'New here',
  updated: 'Newer than here',
  together: 'Changed here and there, no overlap',
  togetherWhy: 'Each side changed different things. Both changes are kept. Taken from the other side:',
  removed: 'Deleted there',
  same: 'The same as here',
  noted: 'The same as here, with a longer history',
  older: 'Older than here: stays as it is',
  conflicts: 'Changed differently in both places',
  deletedHere: 'Deleted here',
  conflictWhy:
    'Choose which to keep. You are asked once: your answer goes to the other phone with the next export. What you do not keep stays in the history of the phone that it comes from.',
  unsound: 'Just putting both together would leave records that do not fit. Choose how to resolve it:',
  takenToo: 'Taken from the other side as well:',
  restTogether: (n: number) =>
    `${countOf(n, 'more record')} ${n === 1 ? 'is' : 'are'} not listed. Use the buttons above to answer for all of them together.`,
  gone: (withIt: number) => (withIt > 0 ? `deleted, with ${countOf(withIt, 'record')}` : 'deleted'),
  kept: (withIt: number) => (withIt > 0 ? `kept, with ${countOf(withIt, 'record')}` : 'kept'),
  deletedWhy: 'These were deleted on this phone and stay deleted unless you bring them back.',
  mine: 'What is here',
  theirs: 'What comes in',
  allMine: 'Keep all that is here',
  allTheirs: 'Take all that comes in',
  stay: 'They stay deleted',
  back: 'Bring them back',
  chooseFirst: (n: number) => `${countOf(n, 'choice')} still open.`,
  nothing: 'Everything in it is here already. There is nothing to bring in.',
  act: (n: number) => `Bring in ${countOf(n, 'record')}`,
  illegal: 'With these choices the book would not be sound. Nothing was brought in. Choose otherwise:',
  done: (n: number) => `${countOf(n, 'record')} brought in.`,
  see: 'To the book',
  help: 'Records are told apart by their own marks, not by their place: bringing in the same book twice changes nothing.',
} as const

export const HAND = {
  title: 'Hand out',
  what: 'What to hand out',
  book: 'The field book',
  bookNote: 'everything, to keep or to bring in elsewhere',
  solution: 'The solution',
  solutionNote: 'what was found, as JSON',
  table: 'The target table',
  tableNote: 'where to point over the hours, as CSV',
  which: 'Which stations',
  one: 'This one',
  all: 'All',
  share: 'Share',
  copy: 'Copy the text',
  download: 'Save as a file',
  shared: 'Handed on.',
  copied: 'Copied. Paste it where it should go, a message to yourself for one.',
  started: 'Saving. Look in the downloads.',
  cancelled: 'Not shared.',
  refused: 'The phone refused. Try another way, or select the text below and copy it by hand.',
  preparing: 'Being prepared…',
  noStation: 'There is no station to hand out yet.',
  solvedAt: 'Solved for the instant',
  sameAtDesk: (now: string) =>
    `At the desk, "batch solve" with --now ${now} gives the same from the field book of this station.`,
  text: 'The text itself',
  size: (bytes: number) => (bytes < 1024 ? countOf(bytes, 'byte') : `${fixed(bytes / 1024, 0)}${NBSP}kB`),
  target: 'Target',
  other: 'Another',
  otherTarget: 'Target in one word',
  otherHint: 'moon, sun, source:NAME, geostationary:LON (east positive), landmark:AZ,EL',
  from: 'From',
  hours: 'For so many hours',
  step: 'A row every',
  rows: (n: number) => countOf(n, 'row'),
  tooMany: (n: number) =>
    `That would be ${fixed(n, 0)} rows. Up to 20${NBSP}000 are made here: take fewer hours, or a longer step.`,
  later: 'Make it from now',
  help: 'Readings in the table put the beam on the target with the solution applied. "reachable" is false beyond the limits, behind the horizon and too low.',
} as const

export const HISTORY = {
  title: 'What was written',
  none: 'Nothing was written yet.',
  undoHint:
    'Undo takes back what was done last, step by step, as long as this page stays open. Older states are in each record below.',
  revision: (n: number) => `state ${n}`,
  deleted: 'deleted',
  now: 'as it is now',
  first: 'first written',
  nothing: 'Nothing a person would see.',
  bring: 'Bring this state back',
  brought: 'Brought back.',
  illegal: 'This state does not fit the rest of the station any more, so it stays where it is:',
  more: 'Show more',
  versions: (app: string) => `by version ${app}`,
} as const

/** A backup counts when it is known to have arrived. */
export const BACKUP = {
  word: 'Is the backup there?',
  saved: 'It counts as your backup when you have seen the file in the downloads:',
  copied: 'It counts as your backup when you have pasted the text where it stays:',
  yes: 'Yes, it is there',
  no: 'No, it is not',
  compare: 'Compare the file',
  compareHint: 'Choose the saved file: it is compared with what was exported, letter by letter.',
  other: 'This is not the file that was exported last, or not all of it. Export once more.',
  otherWay: 'Export another way',
  counted: 'This is your last backup now.',
  unsound:
    'The exported text could not be imported again, so it does not count as a backup. Keep it all the same, and report it:',
  tooLarge: (mb: string) =>
    `This would be a file of ${mb}${NBSP}MB, and at most 50${NBSP}MB can be imported again. Export the stations one by one.`,
} as const

/** A form is saved, and its record was changed elsewhere meanwhile. */
export const CLASH = {
  word: 'Changed meanwhile',
  why: 'This was changed, perhaps in another tab, after you opened the form. Nothing is written yet: choose which version stands.',
  there: 'there now',
  here: 'in your form',
  deleted: 'It was deleted meanwhile.',
  deletes: 'You are deleting it.',
  history: 'The other version stays in the history, and can be brought back from there.',
  mine: 'Save mine',
  theirs: 'Keep what is there',
  back: 'Back to the form',
} as const

export const COPIES = {
  title: 'Copies of deleted stations',
  none: 'No station was deleted on this phone.',
  help: 'Deleting a station leaves a copy of its field book here.',
  bring: 'Bring it back',
  handOut: 'Hand it out',
  made: (ms: number) => `deleted ${utcDate(ms)} ${utcAndLocal(ms)}`,
} as const

export const SETTINGS = {
  title: 'Settings',
  theme: 'Light',
  themes: {
    auto: 'As the phone',
    daylight: 'Daylight',
    dusk: 'Dusk',
    night: 'Night',
  },
  themeNotes: {
    auto: 'daylight or dusk',
    daylight: 'black on white',
    dusk: 'light on dark',
    night: 'red on black',
  },
  units: 'Small lengths',
  unitWords: { mm: 'Millimetres', inch: 'Inches' },
  angles: 'Angles',
  angleWords: { decimal: '12.50°', minutes: '12° 30.0′' },
  sound: 'Sound',
  soundWords: { on: 'On', off: 'Off' },
  help: 'Files, and what is copied for the tracking software, always hold decimal degrees and millimetres, whatever is shown here. Angles may be typed either way.',
} as const
