/**
 * The forms of the noon check and of the check after a storm: which time is wished for, what a tap on the dish's face writes into
 * the fields, and the two sightings that one form says. Pure: time is handed in.
 */
import { feedOf } from '../../core/records/feeds.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { HOUR_MS, MINUTE_MS } from '../../core/units.ts'
import { parseUtc } from '../kit/utcfield.ts'

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

/** The feed wished for; the first where it was deleted since. */
export const wishedFeed = (station: StationRecord, wish: NoonWish): string => feedOf(station, wish.feed).id

/** The instant wished for; undefined: the transit. Null: it cannot be read yet. */
export function wishedUtc(wish: NoonWish, nowMs: number): string | undefined | null {
  if (wish.when === 'noon') return undefined
  if (wish.when === 'soon') return wish.soonUtc === '' ? undefined : wish.soonUtc
  const parsed = parseUtc(wish.other, nowMs)
  return parsed.kind === 'value' ? new Date(parsed.utcMs).toISOString() : null
}

/** The whole minute that is ten minutes away or a little more. */
export const inTenMinutes = (nowMs: number): string =>
  new Date(Math.ceil(nowMs / MINUTE_MS + 10) * MINUTE_MS).toISOString()

/** "In ten minutes" picked more than an hour ago no longer applies. */
export const presentWish = (wish: NoonWish, nowMs: number): NoonWish =>
  wish.when === 'soon' && !(instantMs(wish.soonUtc) > nowMs - HOUR_MS) ? { ...wish, when: 'noon' } : wish

/** A minute ago is still now. */
export const isPast = (pose: { utc: string }, nowMs: number): boolean => instantMs(pose.utc) < nowMs - MINUTE_MS
