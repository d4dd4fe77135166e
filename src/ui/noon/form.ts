/**
 * The forms of the noon check and of the check after a storm: which time is wished for, what a tap on the dish's face writes into
 * the fields, and the two sightings that one form says. Pure: time is handed in.
 */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { feedRecord } from '../../state/chosenfeed.ts'
import type { Sighting } from '../../state/sightings.ts'
import type { Spot } from '../kit/dishface-geometry.ts'
import type { LengthUnit } from '../kit/format.ts'
import { parseUtc } from '../kit/utcfield.ts'
import { type ReadForm, readForm, type SightField, type SightForm, typed, typedUtc } from '../sight/form.ts'

export interface NoonWish {
  when: 'noon' | 'soon' | 'other'
  /** The instant of "in ten minutes", as it was when that was picked. */
  soonUtc: string
  other: string
  feed: string
}

/** @param feed  the feed that the person works with */
export const emptyWish = (feed: string): NoonWish => ({
  when: 'noon',
  soonUtc: '',
  other: '',
  feed,
})

/** A feed that was taken away since is none. */
export const wishedFeed = (station: StationRecord, wish: NoonWish): string => feedRecord(station, wish.feed).id

/** The instant wished for; undefined: the transit. Null: it cannot be read yet. */
export function wishedUtc(wish: NoonWish, nowMs: number): string | undefined | null {
  if (wish.when === 'noon') return undefined
  if (wish.when === 'soon') return wish.soonUtc === '' ? undefined : wish.soonUtc
  const parsed = parseUtc(wish.other, nowMs)
  return parsed.kind === 'value' ? new Date(parsed.utcMs).toISOString() : null
}

/** The whole minute that is ten minutes away or a little more. */
export const inTenMinutes = (nowMs: number): string => new Date(Math.ceil(nowMs / 60_000 + 10) * 60_000).toISOString()

/** "In ten minutes" of more than an hour ago is not meant any more. */
export const presentWish = (wish: NoonWish, nowMs: number): NoonWish =>
  wish.when === 'soon' && !(Date.parse(wish.soonUtc) > nowMs - 3_600_000) ? { ...wish, when: 'noon' } : wish

/** A minute ago is still now. */
export const isPast = (pose: { utc: string }, nowMs: number): boolean => Date.parse(pose.utc) < nowMs - 60_000

/** Whether enough is known to say where the shadow should fall: to within a quarter of the dish. */
export const isExpected = (pose: { sigmaRightMm: number; sigmaUpMm: number }, dish: StationRecord['dish']): boolean =>
  Math.max(pose.sigmaRightMm, pose.sigmaUpMm) <= 250 * dish.diameterM

/** Degrees off that the large picture of the middle holds. */
const REACH_DEG = 6

/** What the picture of the face must hold, mm from the vertex; half the dish at most. */
export function faceReach(dish: StationRecord['dish'], whole: boolean): number {
  const radius = 500 * dish.diameterM
  const f = 1000 * dish.diameterM * dish.focalRatio
  const middle = f * Math.tan((REACH_DEG * Math.PI) / 180) + (dish.feedDiameterMm ?? 0) / 2
  return whole ? radius : Math.min(radius, middle)
}

const MM_PER_INCH = 25.4

/** The fields that say a place of the dish as it is seen from there. */
export function fieldsOfSpot(
  spot: Spot,
  view: 'behind' | 'front',
  unit: LengthUnit,
): Pick<SightForm, 'shadowSide' | 'shadowAcross' | 'shadowHeight' | 'shadowAlong'> {
  const right = view === 'front' ? -spot.rightMm : spot.rightMm
  const size = (mm: number) => typed(unit === 'mm' ? Math.abs(mm) : Number((Math.abs(mm) / MM_PER_INCH).toFixed(2)))
  return {
    shadowSide: right < 0 ? 'left' : 'right',
    shadowAcross: size(right),
    shadowHeight: spot.upMm < 0 ? 'below' : 'above',
    shadowAlong: size(spot.upMm),
  }
}

/**
 * A tap: the place, and the time where none was typed by hand.
 *
 * @param taken  the time that the last tap wrote; what differs from it was typed
 */
export function tapped(
  form: SightForm,
  spot: Spot,
  utcMs: number,
  taken: string | null,
): { change: Partial<SightForm>; taken: string | null } {
  if (form.view === null) return { change: {}, taken }
  const place = fieldsOfSpot(spot, form.view, form.unit)
  if (form.utc.trim() !== '' && form.utc !== taken) return { change: place, taken }
  const utc = typedUtc(new Date(utcMs).toISOString())
  return { change: { ...place, utc }, taken: utc }
}

export type ReadStorm =
  | { kind: 'whole'; peak: Sighting; shadow: Sighting | null }
  | { kind: 'not-yet'; missing: SightField[] | 'shadow' }

const NO_SHADOW = { view: null, shadowSide: null, shadowAcross: '', shadowHeight: null, shadowAlong: '' } as const

/** The peak and the shadow of the same pose and time. @param sees  whether there was a shadow; '': not said yet */
export function readStorm(
  form: SightForm,
  sees: 'yes' | 'no' | '',
  station: StationRecord,
  ids: { peak: string; shadow: string },
): ReadStorm {
  const sun = { ...form, target: 'sun' as const, sigma: '' }
  const peak: ReadForm = readForm(
    { ...sun, ...NO_SHADOW, sigma: form.sigma, method: 'signal-peak' },
    station,
    { id: ids.peak },
    null,
  )
  if (peak.kind === 'not-yet') return peak
  if (sees === '') return { kind: 'not-yet', missing: 'shadow' }
  if (sees === 'no') return { kind: 'whole', peak: peak.record, shadow: null }
  const shadow = readForm({ ...sun, method: 'shadow' }, station, { id: ids.shadow }, null)
  return shadow.kind === 'not-yet' ? shadow : { kind: 'whole', peak: peak.record, shadow: shadow.record }
}
