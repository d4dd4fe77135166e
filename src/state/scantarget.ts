/** The target of a scan that is about to begin: as chosen for a scan with this feed, else what this feed is expected to hear. */
import { signal } from '@preact/signals'
import { feedOf } from '../core/records/feeds.ts'
import type { StationRecord, TargetRecord } from '../core/records/fieldbook.ts'
import { heardBodies, scanTarget, type TargetNote } from '../core/scan/whichtarget.ts'
import { remember, remembered } from './memory.ts'
import { chooseTarget, target } from './pointing.ts'

export type { TargetNote }

const KEY = 'moonplumb.scantarget'
/** Station, feed and target that were last chosen on the screen of a scan. */
const chosen = signal(remembered(KEY))
const asText = (station: StationRecord, feed: string, of: TargetRecord): string =>
  JSON.stringify([station.id, feed, of])

/** Chosen by the person on the screen of a scan: it stays, even where it is too weak. */
export function chooseForScan(station: StationRecord, feed: string, of: TargetRecord): void {
  chosen.value = asText(station, feed, of)
  remember(KEY, chosen.value)
  chooseTarget(of)
}

export const scanTargetHere = (
  station: StationRecord,
  feed: string,
): { target: TargetRecord; note: TargetNote | null } =>
  scanTarget(
    heardBodies(station, feedOf(station, feed)),
    target.value,
    chosen.value === asText(station, feed, target.value),
  )
