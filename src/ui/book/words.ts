/** Words of the place Book: stations and what is kept, bringing in and handing out, settings. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { countOf, fixed, NBSP, safeText, utcAndLocal, utcDate } from '../kit/format.ts'

export const BOOK = {
  title: 'Book',
  empty: 'The book is empty.',
  emptyWhy: 'Set up a station, import a field book, or open the demo.',
  stations: 'Stations in this book',
  make: 'Set up my station',
  makeNew: 'Make another station',
  edit: 'Look at or change this station',
  bring: 'Import a field book',
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
  back: 'Back to the book',
  backup: (n: number, everMs: number | null) =>
    everMs === null
      ? `No backup of this station yet: ${countOf(n, 'record')} ${n === 1 ? 'is' : 'are'} only on this phone.`
      : `${countOf(n, 'record')} newer than your last backup of ${utcDate(everMs)}.`,
  nothingYet:
    'Nothing is measured here yet. Plumb the mast under Mount, then take a first sighting of the Sun under Sight.',
  help: 'Everything stays on this phone. A lost phone is a lost book: hand out a copy after every visit to the dish.',
} as const

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
    'Install first: this browser may clear a site that is not installed after seven days without a visit, and what is imported in this tab does not follow into the app. Press Share, then "Add to Home Screen", open it from there, and import the book there.',
  paste: 'Or paste its text',
  check: 'Look what it holds',
  again: 'Choose another one',
  empty: 'Choose a file or paste the text first.',
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
