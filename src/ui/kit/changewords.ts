/** What a change altered, in words: of the screens that note one, and of those that tell of it. */
import type { Axis, ChangeRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { safeText } from './format.ts'
import { axisName, readingUnit } from './phrases.ts'

const feedNamed = (station: StationRecord, id: string): string =>
  safeText(station.feeds.find(f => f.id === id)?.name ?? id)

export function changeWord(station: StationRecord, what: string): string {
  const { mount } = station
  const zero = (axis: Axis) =>
    readingUnit(mount, axis) === 'counts'
      ? `The ${axisName(mount, axis)} counter was reset or slipped`
      : `The ${axisName(mount, axis)} scale was reset or slipped`
  const readout = (axis: Axis) =>
    `Another ${axisName(mount, axis)} ${mount[axis].readout.type === 'jack' ? 'jack' : 'sensor'}, or its mounting`
  switch (what) {
    case 'lower-axis':
      return 'The base was turned, shimmed or re-clamped'
    case 'lower-zero':
      return zero('lower')
    case 'upper-zero':
      return zero('upper')
    case 'lower-readout':
      return readout('lower')
    case 'upper-readout':
      return readout('upper')
    case 'dish':
      return 'The dish was moved on its mount'
    case 'tube':
      return 'The sighting tube was moved'
    case 'all':
      return 'I don’t know, or everything'
    default:
      return what.startsWith('feed:')
        ? station.feeds.length === 1
          ? 'The feed was moved or replaced'
          : `The feed ${feedNamed(station, what.slice(5))} was moved or replaced`
        : safeText(what)
  }
}

export const changeWords = (station: StationRecord, change: Pick<ChangeRecord, 'what'>): string =>
  change.what.map(w => changeWord(station, w)).join('. ')
