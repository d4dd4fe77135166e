/** Words of sending by codes: one screen shows them, another phone's camera reads them. */
import type { CameraState, NoCamera, Remark } from '../../state/codereading.ts'
import { countOf, fixed, NBSP } from '../kit/format.ts'

const kilobytes = (bytes: number): string => `${fixed(Math.max(0.1, bytes / 1000), bytes < 10_000 ? 1 : 0)}${NBSP}kB`

export const SHOW = {
  title: 'As codes',
  none: 'Nothing to show as codes yet. Choose what to export first.',
  export: 'To the export',
  preparing: 'Preparing…',
  picture: 'QR code',
  one: 'Any phone’s camera reads this code as text.',
  oneOfBook: 'This code holds all of it.',
  start: 'Start the codes',
  stop: 'Stop the codes',
  slower: 'Slower',
  faster: 'Faster',
  rate: (perSecond: number, end: 'slowest' | 'fastest' | null) =>
    `${countOf(perSecond, 'code')} a second${end ? `, the ${end}` : ''}`,
  shown: (number: number) => `code ${number}`,
  size: (bytes: number, count: number) =>
    `${kilobytes(bytes)} packed. The other phone needs about ${countOf(count === 1 ? 1 : count + 2, 'code')}, any of them, in any order.`,
  how: 'On the other phone, open Moonplumb: Book, “Import a field book”, “Read codes with the camera”. Let the codes run until it says that all is there.',
  flicker: 'The codes flicker. Anyone sensitive to flashing light should look away.',
  flickerMore: ['“Slower” makes it one code a second. A press on Stop ends it.'],
  tooLong: (bytes: number) =>
    `This is ${kilobytes(bytes)} packed, and codes carry at most 300${NBSP}kB. Share it or save it as a file instead.`,
  keepOn: 'This phone lets its screen go dark: touch it now and then.',
  hold: 'Hold the phones a hand’s length apart, face to face, until the code fills most of the square. Screen bright, no reflections. Where nothing is read: slower codes, a wiped lens, a little more distance.',
  notBackup: 'A book that went as codes does not count as a backup: it is not known here whether it arrived.',
} as const

export const READ = {
  title: 'Read codes',
  how: 'The other phone shows a field book as codes: Book, “Export, back up”, “Show as codes”. Point this phone’s camera at them.',
  start: 'Start the camera',
  starting: 'Starting the camera…',
  stop: 'Stop the camera',
  camera: 'What the camera sees',
  looking: 'Looking for a code…',
  of: (of: number) => `of ${of} parts`,
  progress: 'Parts that are here',
  all: (name: string) => `All of it is here: ${name}`,
  startOver: 'Start over with this one',
  otherWays: 'Import a file or a text instead',
  single: 'What the code says',
  copy: 'Copy the text',
  again: 'Read more codes',
} as const

/** Why there is no camera, and what can be done. */
export const NO_CAMERA: Readonly<Record<NoCamera | 'lost', string>> = {
  refused:
    'The camera was refused. Allow it for this site in the browser’s settings and start again, or import a file or a text.',
  none: 'This device has no camera. Import a file or a text instead.',
  busy: 'The camera does not start: another app may hold it. Close that and start again, or import a file or a text.',
  insecure: 'The browser allows the camera only on an https page. Import a file or a text instead.',
  lost: 'The camera was taken away, by a call or another app. What was read is kept: start it again.',
}
export const isNoCamera = (state: CameraState): state is NoCamera | 'lost' => Object.hasOwn(NO_CAMERA, state)

/** What the last code was. */
export const REMARKS: Readonly<Record<Remark, string>> = {
  foreign: 'This code is not one of a running sequence.',
  newer: 'This code is from a later version of Moonplumb. Update the app on this phone first.',
  damaged: 'This code did not come through whole. The next ones will.',
  other: 'Another sequence is in view. What has been read of the first one is kept until you start over.',
  'not-whole':
    'All parts came, but they do not make up what was sent. Nothing of it is kept; keep reading, or use a file.',
  'cannot-unpack': 'It came over whole, but this browser cannot unpack it. Update the browser, or use a file.',
  'no-reader': 'The part of the app that reads codes has stopped. Start the camera again, or use a file.',
}
