/** What is typed under "Will it reach?": a place, a skyline, and one mount or two beside each other; and the question that follows. Pure. */
import { AXES } from '../../core/mount/names.ts'
import type { WillReachWish } from '../../core/plan/willreachjson.ts'
import { angleFromReading } from '../../core/readout/readout.ts'
import type { Axis, MountKind, StationRecord } from '../../core/records/fieldbook.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { readoutFromRecord } from '../../core/records/readouts.ts'
import { maskAt, maskFromPoints } from '../../core/sky/horizonmask.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { KINDS } from '../kit/kinds.ts'
import { bounds, type NumberKind, numberOr, parseNumber, typedDeg } from '../kit/numberfield.ts'
import { placeOfTexts } from '../kit/PlaceFinder.tsx'
import { axisName, WINDS } from '../kit/phrases.ts'
import { LIMIT_FIELDS, type LimitField, type ReachForm, type Variant, type Which } from './typed.ts'
import { FAULT } from './words.ts'

export const REACH_KINDS = {
  limit: KINDS.circle,
  minEl: KINDS.raised,
  skyline: KINDS.raised,
  heading: KINDS.heading,
  offset: { form: 'angle', ...bounds(RANGES.boresightOffsetDeg) },
} as const satisfies Record<string, NumberKind>

export const hasHeading = (kind: MountKind | ''): boolean => kind === 'az-over-el' || kind === 'x-y'
export const hasOffset = (kind: MountKind | ''): boolean => kind === 'az-over-el'

const EMPTY: Variant = { kind: '', lowerMin: '', lowerMax: '', upperMin: '', upperMax: '', heading: '', offset: '' }

export const emptyReachForm = (): ReachForm => ({
  lat: '',
  lon: '',
  minEl: '',
  skyline: WINDS.map(() => ''),
  a: EMPTY,
  hasB: false,
  b: EMPTY,
})

/** Limits to begin with, where none were typed yet. */
const USUAL: Readonly<Record<MountKind, readonly [number, number, number, number]>> = {
  'el-over-az': [0, 360, 0, 90],
  'ha-dec': [-60, 60, -30, 30],
  'az-over-el': [0, 80, -60, 60],
  'x-y': [-80, 80, -80, 80],
}

/** Another kind: the limits of the former one mean something else, so this kind's usual ones replace them. */
export function withKind(v: Variant, kind: MountKind, latDeg: number | null): Variant {
  const limits = Object.fromEntries(LIMIT_FIELDS.map((f, k) => [f, typedDeg(USUAL[kind][k])])) as Record<
    LimitField,
    string
  >
  return {
    ...v,
    kind,
    ...limits,
    heading: !hasHeading(kind) ? '' : v.heading || (latDeg !== null && latDeg < 0 ? '0' : '180'),
  }
}

/** The texts of numbers turned about zero, the smaller first. */
const turned = (min: string, max: string): [string, string] | null => {
  const [a, b] = [parseNumber(min, REACH_KINDS.limit), parseNumber(max, REACH_KINDS.limit)]
  return a.kind === 'value' && b.kind === 'value' ? [typedDeg(-b.value || 0), typedDeg(-a.value || 0)] : null
}

/** The mount as in a mirror, east for west: what it reached in the east it then reaches in the west. */
export function turnedOver(v: Variant): Variant {
  const lowerTurns = v.kind === 'ha-dec' || v.kind === 'el-over-az' || v.kind === 'x-y'
  const [min, max] = lowerTurns ? (['lowerMin', 'lowerMax'] as const) : (['upperMin', 'upperMax'] as const)
  const limits = turned(v[min], v[max])
  const heading = parseNumber(v.heading, REACH_KINDS.heading)
  if (v.kind === '' || limits === null) return v
  return {
    ...v,
    [min]: limits[0],
    [max]: limits[1],
    ...(heading.kind === 'value' && hasHeading(v.kind) && { heading: typedDeg((360 - heading.value) % 360) }),
  }
}

/** A station's own values, its limits as angles; where a limit has no angle (a jack's triangle) it is left open. */
export function formOfStation(s: StationRecord): ReachForm {
  const { mount, site } = s
  const angle = (axis: Axis, reading: number): number | null => {
    const of = angleFromReading(readoutFromRecord(mount[axis].readout), reading)
    return of.kind === 'angle' ? degFromRad(of.angle) : null
  }
  const limits = (axis: Axis): [string, string] => {
    const [x, y] = [angle(axis, mount[axis].minReading), angle(axis, mount[axis].maxReading)]
    if (x === null || y === null) return ['', '']
    const tenth = (deg: number) => typedDeg(Math.round(deg * 10) / 10)
    return [tenth(Math.min(x, y)), tenth(Math.max(x, y))]
  }
  const [lower, upper] = [limits('lower'), limits('upper')]
  const mask = maskFromPoints(s.horizonMask ?? [])
  const a: Variant = {
    kind: mount.kind,
    lowerMin: lower[0],
    lowerMax: lower[1],
    upperMin: upper[0],
    upperMax: upper[1],
    heading: hasHeading(mount.kind) ? typedDeg(mount.headingDeg) : '',
    offset: hasOffset(mount.kind) ? typedDeg(mount.boresightOffsetDeg) : '',
  }
  return {
    ...emptyReachForm(),
    lat: typedDeg(site.latDeg),
    lon: typedDeg(site.lonDeg),
    minEl: typedDeg(s.tolerance?.minElevationDeg),
    skyline: WINDS.map((_, k) =>
      mask.length === 0
        ? ''
        : typedDeg(Math.max(0, Math.round(degFromRad(maskAt(mask, radFromDeg(45 * k))) * 10) / 10)),
    ),
    a,
  }
}

/** What is missing or wrong, by part: a sentence each; and the question where nothing is. */
export type ReachRead = { ok: true; wish: WillReachWish } | { ok: false; part: 'place' | 'sky' | Which; why: string }

export function readReach(form: ReachForm, which: Which, year: number): ReachRead {
  const site = placeOfTexts(form)
  if (site === null) return { ok: false, part: 'place', why: FAULT.place }
  const v = form[which]
  if (v.kind === '') return { ok: false, part: which, why: FAULT.kind }
  const kind = v.kind
  const limits = {} as Record<LimitField, number>
  for (const field of LIMIT_FIELDS) {
    const read = parseNumber(v[field], REACH_KINDS.limit)
    if (read.kind !== 'value') return { ok: false, part: which, why: FAULT.limit }
    limits[field] = read.value
  }
  for (const axis of AXES)
    if (limits[`${axis}Min`] >= limits[`${axis}Max`])
      return { ok: false, part: which, why: FAULT.order(axisName({ kind } as StationRecord['mount'], axis)) }
  const heading = parseNumber(v.heading, REACH_KINDS.heading)
  if (hasHeading(kind) && heading.kind !== 'value') return { ok: false, part: which, why: FAULT.heading }
  const offset = numberOr(v.offset, REACH_KINDS.offset, 0)
  if (hasOffset(kind) && offset === null) return { ok: false, part: which, why: FAULT.offset }
  const minEl = numberOr(form.minEl, REACH_KINDS.minEl, 8)
  if (minEl === null) return { ok: false, part: 'sky', why: FAULT.minEl }
  const heights = form.skyline.map(text => numberOr(text, REACH_KINDS.skyline, 0))
  if (heights.some(h => h === null)) return { ok: false, part: 'sky', why: FAULT.skyline }
  const axis = (name: Axis) => ({
    readout: { type: 'degrees' as const },
    minReading: limits[`${name}Min`],
    maxReading: limits[`${name}Max`],
  })
  return {
    ok: true,
    wish: {
      site,
      mount: {
        kind,
        ...(hasHeading(kind) && heading.kind === 'value' && { headingDeg: heading.value }),
        ...(hasOffset(kind) && { boresightOffsetDeg: offset ?? 0 }),
        lower: axis('lower'),
        upper: axis('upper'),
      },
      ...(heights.some(h => h !== 0) && {
        horizonMask: heights.map((elDeg, k) => ({ azDeg: 45 * k, elDeg: elDeg ?? 0 })),
      }),
      minElevationDeg: minEl,
      year,
    },
  }
}
