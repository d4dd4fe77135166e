/** Words that every screen shares. A sentence says what is so, and what to do about it. */
import { AXIS_NAMES } from '../../core/fit/labels.ts'
import type { Axis, Method, MountRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { NBSP, safeText } from '../format.ts'

export const APP = 'Moonplumb'

/** What an axis of this mount is called: "tilt", "swing". */
export const axisName = (mount: MountRecord, axis: Axis): string => AXIS_NAMES[mount.kind][axis]

/** "degrees" or "counts". */
export const readingUnit = (mount: MountRecord, axis: Axis): 'degrees' | 'counts' =>
  mount[axis].readout.type === 'degrees' ? 'degrees' : 'counts'

/** "°" stands at its number, "counts" a gap away. */
export const unitSign = (mount: MountRecord, axis: Axis): string =>
  mount[axis].readout.type === 'degrees' ? '°' : 'counts'

/** A reading as dialled: degrees to a tenth, whole counts. */
export const readingDecimals = (mount: MountRecord, axis: Axis): number =>
  mount[axis].readout.type === 'degrees' ? 1 : 0

export const METHOD_WORDS: Readonly<Record<Method, string>> = {
  'signal-peak': 'strongest signal',
  shadow: "feed's shadow",
  optical: 'sighting tube',
  'cross-scan': 'cross scan',
  'drift-scan': 'drift scan',
}

export const MOUNT_WORDS = {
  'el-over-az': 'Azimuth and elevation',
  'ha-dec': 'Polar: hour angle and declination',
  'az-over-el': 'Tilt, then swing',
  'x-y': 'Two tips: X and Y',
} as const

export function targetWords(target: TargetRecord): string {
  switch (target.type) {
    case 'moon':
      return 'Moon'
    case 'sun':
      return 'Sun'
    case 'source':
      return safeText(target.name)
    case 'geostationary':
      return `satellite at ${Math.abs(target.lonDeg)}°${NBSP}${target.lonDeg < 0 ? 'W' : 'E'}`
    case 'landmark':
      return `landmark at ${target.azDeg}°`
  }
}

export const DEMO_MARK = 'Demo: invented, nothing here was measured.'

/** A demo station says so wherever it is shown. */
export const isDemo = (station: { demo?: unknown } | null): boolean => station?.demo === true

export const UPDATE = {
  there: 'A new version is ready',
  why: 'It is on the phone already, whole. The book stays as it is.',
  act: 'Change to the new version',
  later: 'A measurement is running: the new version waits until it is done.',
}

export const LOADING = {
  book: 'Opening the book…',
  place: 'Opening…',
  lost: 'This part of the program did not load. The book is safe. Load the page again; if that does not help, do it where there is a network.',
  again: 'Load the page again',
}

/** Failures of the store, in a sentence each. */
export function failureWords(failure: { kind: string; message?: string }): string {
  switch (failure.kind) {
    case 'full':
      return 'The phone has no room left. What you wrote is still on this screen: make room, then press "Try again".'
    case 'blocked':
      return 'Another tab still holds an older version of the book. Close the other tabs of Moonplumb, then press "Try again".'
    case 'dropped':
      return 'The phone cut the connection to the book. What you wrote is still on this screen: press "Try again".'
    case 'newer-tab':
      return 'A newer Moonplumb is open in another tab and has taken the book over. Reload this page.'
    default:
      return 'The browser does not let this page keep a book (a private window, or storage switched off). Open Moonplumb in an ordinary window; until then export what you have.'
  }
}
