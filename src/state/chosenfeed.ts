/**
 * The feed that the person works with, where a station has several: sky, tolerance, software and target table are for this one,
 * and every form begins with it. One a station, remembered on this phone; a deleted feed falls back to the first.
 */
import { signal } from '@preact/signals'
import { feedOf } from '../core/records/feeds.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { remember, remembered } from './memory.ts'

const KEY = 'moonplumb.feeds'

/** Station id → feed id. */
function rememberedFeeds(): Readonly<Record<string, string>> {
  try {
    const all: unknown = JSON.parse(remembered(KEY) ?? '{}')
    if (typeof all !== 'object' || all === null) return {}
    return Object.fromEntries(Object.entries(all).filter(([, feed]) => typeof feed === 'string'))
  } catch {
    return {}
  }
}

const chosen = signal(rememberedFeeds())

/** The feed chosen for a station. */
export const feedHere = (station: StationRecord): string => feedOf(station, chosen.value[station.id]).id

export function chooseFeed(station: StationRecord, feed: string): void {
  chosen.value = { ...chosen.value, [station.id]: feed }
  remember(KEY, JSON.stringify(chosen.value))
}
