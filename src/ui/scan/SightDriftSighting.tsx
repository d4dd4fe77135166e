/** The sighting of a scan: made, updated or shown, in the one action; and deleting the scan. */
import type { ComponentChildren } from 'preact'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { CrossScanRecord, DriftScanRecord } from '../../core/records/scans.ts'
import type { SightingDraft } from '../../core/scan/draft.ts'
import { deleteScan, keepScanSighting, saysTheSame, sightingOfScan } from '../../state/scans.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { Refused, useKeep } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { DRIFT } from './words.ts'

interface OfScan {
  station: StationRecord
  scan: DriftScanRecord | CrossScanRecord
}

/** @param draft  what the fit says now; null while there is none */
export function SightingAction(p: OfScan & { draft: SightingDraft | null; otherwise: ComponentChildren }) {
  const { station, scan, draft } = p
  const { keep: keepIt, refused } = useKeep()
  const sighting = sightingOfScan(station, scan.id)
  const keep = (of: SightingDraft) => {
    let made = ''
    void keepIt(
      async () => {
        const { id, kept } = await keepScanSighting(station, scan, of)
        made = id
        return kept
      },
      () => go('sight', 'see', made),
    )
  }
  if (draft !== null && (sighting === null || !saysTheSame(sighting, draft)))
    return (
      <>
        <Refused why={refused} />
        <Action onPress={() => keep(draft)}>{sighting === null ? DRIFT.makeSighting : DRIFT.renewSighting}</Action>
      </>
    )
  if (sighting !== null) return <Action onPress={() => go('sight', 'see', sighting.id)}>{DRIFT.seeSighting}</Action>
  return <>{p.otherwise}</>
}

export function DeleteScan({ station, scan }: OfScan) {
  const { keep } = useKeep()
  const remove = () =>
    keep(
      () => deleteScan(station, scan),
      () => go('sight', scan.what),
    )
  return (
    <SecondaryButton stop onPress={() => void remove()}>
      {DRIFT.remove}
    </SecondaryButton>
  )
}
