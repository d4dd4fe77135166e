/** Words of the place Book: stations and what is kept, import and export, settings. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { countOf, fixed, NBSP, safeText, utcAndLocal, utcDate } from '../kit/format.ts'

export const BOOK = {
  title: 'Book',
  empty: 'The book is empty.',
  emptyWhy: 'Set up a station, import a field book, or open the demo.',
  stations: 'Stations in this book',
  make: 'Set up my station',
  makeNew: 'Make another station',
  edit: 'View or edit this station',
  import: 'Import a field book',
  export: 'Export, back up',
  history: 'History and undo',
  copies: 'Deleted stations',
  settings: 'Settings',
  ready: 'Ready for the field',
  remove: 'Delete this station',
  demo: 'demo',
  demoAway: 'Remove the demo station',
  rehearsal: 'rehearsal',
  rehearsalAway: 'Discard this rehearsal',
  demoAltered:
    'You have worked in the demo station before. It is shown here as it was at first; what you wrote stays in the history.',
  back: 'Back to the book',
  backup: (n: number, everMs: number | null) =>
    everMs === null
      ? `No backup of this station yet: ${countOf(n, 'record')} ${n === 1 ? 'is' : 'are'} only on this phone.`
      : `${countOf(n, 'record')} newer than your last backup of ${utcDate(everMs)}.`,
  nothingYet:
    'Nothing is measured here yet. Measure a level under Mount, then make a first sighting of the Sun under Sight.',
  help: 'Everything stays on this phone. A lost phone is a lost book: export a backup after every visit to the dish.',
} as const

export const DELETE = {
  title: 'Delete the station',
  what: (station: StationRecord) =>
    `This deletes ${safeText(station.name)} with ${countOf(station.sightings.length, 'sighting')}. It stays on this phone under "Deleted stations", and this can be undone.`,
  word: 'Delete the station',
  failed: 'Nothing was deleted.',
} as const

export const IMPORT = {
  title: 'Import',
  how: 'A field book comes as a file, as text from a message, or as codes on another phone. Nothing is stored before you have seen what it would do.',
  installFirst:
    'Install first: this browser may clear a site that is not installed after seven days without a visit, and what is imported in this tab does not follow into the app. Press Share, then "Add to Home Screen", open it from there, and import the book there.',
  byCamera: 'Read codes with the camera',
  codesGone: 'What came by codes is gone since the page was loaded again. Read the codes once more.',
  paste: 'Or paste its text',
  check: 'See what is in it',
  again: 'Choose another one',
  empty: 'Choose a file or paste the text first.',
  unreadable: 'This file could not be read, or it is not text in UTF-8. Nothing was imported.',
  stop: 'Stop',
  stopped: 'Stopped. Nothing was imported.',
  stopWhat: 'Stopping leaves the book as it is.',
  failed: (message: string) => `It could not be checked. Nothing was imported. (${safeText(message)})`,
  parts: {
    read: 'Reading the file',
    check: 'Checking every record',
    compare: 'Comparing with what is here',
    write: 'Writing to the book',
  },
  refused: (n: number) => `Invalid field book: ${countOf(n, 'fault')}. Nothing was imported.`,
  would: 'What this would do',
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
    'Choose which to keep. You are asked once: your answer goes to the other phone with the next export. What you do not keep stays in the history of the phone it comes from.',
  unsound: 'Put together as they are, some records would not fit. Choose which to keep:',
  takenToo: 'Taken from the other side as well:',
  restTogether: (n: number) =>
    `${countOf(n, 'more record')} ${n === 1 ? 'is' : 'are'} not listed. Use the buttons above to answer for all of them together.`,
  gone: (withIt: number) => (withIt > 0 ? `deleted, with ${countOf(withIt, 'record')}` : 'deleted'),
  kept: (withIt: number) => (withIt > 0 ? `kept, with ${countOf(withIt, 'record')}` : 'kept'),
  deletedWhy: 'These were deleted on this phone and stay deleted unless you restore them.',
  mine: 'What is here',
  theirs: 'What is imported',
  allMine: 'Keep all that is here',
  allTheirs: 'Take all that is imported',
  stay: 'Leave them deleted',
  back: 'Restore them',
  chooseFirst: (n: number) => `${countOf(n, 'choice')} still open.`,
  nothing: 'Everything in it is here already. There is nothing to import.',
  act: (n: number) => `Import ${countOf(n, 'record')}`,
  illegal: 'With these choices the field book would be invalid. Nothing was imported. Change a choice:',
  done: (n: number) => `${countOf(n, 'record')} imported.`,
  see: 'To the book',
  help: 'Every record has its own id: importing the same book twice changes nothing.',
} as const

export const EXPORT = {
  title: 'Export',
  what: 'What to export',
  book: 'The field book',
  bookNote: 'everything, as a backup or to import elsewhere',
  solution: 'The solution',
  solutionNote: 'what was found, as JSON',
  table: 'The target table',
  tableNote: 'where to point over the hours, as CSV',
  which: 'Which stations',
  one: 'This one',
  all: 'All',
  preparing: 'Preparing…',
  noStation: 'There is no station to export yet.',
  solvedAt: 'Solved for',
  sameAtDesk: (now: string) =>
    `At the desk, "batch solve" with --now ${now} gives the same from the field book of this station.`,
  target: 'Target',
  other: 'Another',
  otherTarget: 'Target in one word',
  otherHint: 'moon, sun, source:NAME, geostationary:LON (east positive), landmark:AZ,EL',
  from: 'From',
  hours: 'For how many hours',
  step: 'One row every',
  outside: 'Out of reach, the readings are',
  empty: 'left empty',
  emptyNote: 'a program that ignores the last column runs into no stop',
  given: 'given all the same',
  givenNote: 'for looking at; the last column says false',
  outsideCaution: 'Some of these readings lie beyond the limits: do not let a program drive by them.',
  rows: (n: number) => countOf(n, 'row'),
  tooMany: (n: number) =>
    `That would be ${fixed(n, 0)} rows; the most is 20${NBSP}000. Choose fewer hours or a longer step.`,
  help: 'Readings in the table put the beam on the target with the solution applied. “reachable” is false beyond the limits, behind the horizon and below the minimum elevation; there the readings are left empty unless you ask for them.',
} as const

export const HISTORY = {
  title: 'History and undo',
  none: 'Nothing has been written yet.',
  undoHint:
    'Undo takes back the last steps one by one, as long as this page stays open. Older versions of each record are below.',
  revision: (n: number) => `version ${n}`,
  deleted: 'deleted',
  now: 'as it is now',
  first: 'first written',
  nothing: 'Nothing you would see.',
  restore: 'Restore this version',
  brought: 'Restored.',
  illegal: 'This version no longer fits the rest of the station, so it is not restored:',
  more: 'Show earlier ones',
  versions: (app: string) => `by Moonplumb ${app}`,
} as const

/** A form is saved whose record was changed elsewhere meanwhile. */
export const CLASH = {
  word: 'Changed in the meantime',
  why: 'This was changed, perhaps in another tab, after you opened the form. Nothing is written yet: choose which version to keep.',
  there: 'there now',
  here: 'in your form',
  deleted: 'It has been deleted in the meantime.',
  deletes: 'You are deleting it.',
  history: 'The other version stays in the history and can be restored from there.',
  mine: 'Save mine',
  theirs: 'Keep what is there',
  back: 'Back to the form',
} as const

export const COPIES = {
  title: 'Deleted stations',
  none: 'No station has been deleted on this phone.',
  help: 'A deleted station’s field book stays here.',
  restore: 'Restore it',
  export: 'Export it',
  made: (ms: number) => `deleted ${utcDate(ms)} ${utcAndLocal(ms)}`,
} as const

export const SETTINGS = {
  title: 'Settings',
  theme: 'Screen colours',
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
  help: 'Files, and what is copied for the tracking program, always hold decimal degrees and millimetres, whatever is shown here. Angles may be typed either way.',
} as const
