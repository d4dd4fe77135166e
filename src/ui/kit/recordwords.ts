/** A record of the book in plain words: what it is, a path in it, and a value. */
import { AXIS_NAMES } from '../../core/mount/names.ts'
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { RecordKind } from '../../core/records/kinds.ts'
import { keysOf } from '../../core/records/parts.ts'
import { NBSP, NONE, safeText, utcDate, utcTime } from './format.ts'

/** What the book calls a kind of record. */
const KIND_WORDS: Readonly<Record<RecordKind, string>> = {
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
  alignment: 'step of the alignment',
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
  const ms = typeof b.utc === 'string' ? instantMs(b.utc) : Number.NaN
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
  stepDeg: 'smallest step',
  minReading: 'lowest reading',
  maxReading: 'highest reading',
  baseArmMm: 'fixed arm',
  rodArmMm: 'rod arm',
  lengthAtReadingZeroMm: 'length at reading zero',
  countsPerMm: 'counts per mm',
  countsPerDeg: 'counts per degree',
  zeroCounts: 'counts at zero',
  phiAtAngleZeroDeg: 'angle at the pivot at axis zero',
  sigmaDeg: 'uncertainty',
  valueDeg: 'value',
  rightMm: 'right',
  upMm: 'up',
  rightDeg: 'right',
  upDeg: 'up',
  clockOffsetS: 'clock offset',
  echoLossDb: 'echo loss allowed',
  minElevationDeg: 'minimum elevation',
  what: 'what',
  use: 'use',
  target: 'target',
  type: 'kind',
  method: 'method',
  mark: 'mark',
  reading: 'reading',
  calibration: 'last calibration',
  drive: 'speed',
  readingsPerS: 'readings a second',
  overrun: 'runs on by',
  arriveFrom: 'arrive from',
  stow: 'stow position',
  windKmh: 'wind, km/h',
  pairs: 'halts',
  angleDeg: 'angle',
  from: 'arrived from',
  offsetS: 'phone ahead by, s',
  sigmaS: 'uncertainty, s',
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
  sigmaMm: 'uncertainty',
  strings: 'crossed strings',
  systemTemperatureK: 'system temperature',
  of: 'hot source',
  yDb: 'above cold sky',
  levels: 'readings',
  fluxSfu: 'flux',
  fluxAt: 'published flux',
  air: 'air',
  lossDb: 'other losses',
  gainDbi: 'gain',
  sigmaDb: 'uncertainty',
  step: 'step',
  numbers: 'numbers carried over',
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
