/** The sighting of a scan: made, brought up to date or seen, in the one action; and the scan taken away. */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { CrossScanRecord, DriftScanRecord } from '../../core/records/scans.ts'
import type { SightingDraft } from '../../core/scan/answer.ts'
import { deleteScan, keepScanSighting, saysTheSame, sightingOfScan } from '../../state/scans.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { go } from '../kit/navigation.ts'
import { Refused } from './SightDriftParts.tsx'
import { DRIFT, SCAN_STEPS } from './words.ts'

interface OfScan {
  station: StationRecord
  scan: DriftScanRecord | CrossScanRecord
}

/** @param draft  what the fit says now; null while there is none */
export function SightingAction(p: OfScan & { draft: SightingDraft | null; otherwise: ComponentChildren }) {
  const { station, scan, draft } = p
  const [refused, setRefused] = useState<string | null>(null)
  const sighting = sightingOfScan(station, scan.id)
  const keep = async (of: SightingDraft) => {
    const kept = await keepScanSighting(station, of, SCAN_STEPS.sighting(scan.what))
    setRefused(kept.kind === 'refused' ? kept.faults.map(f => f.rule).join('. ') : null)
    if (kept.kind === 'kept') go('sight', 'see', kept.id)
  }
  if (draft !== null && (sighting === null || !saysTheSame(sighting, draft)))
    return (
      <>
        <Refused why={refused} />
        <Action onPress={() => void keep(draft)}>{sighting === null ? DRIFT.makeSighting : DRIFT.renewSighting}</Action>
      </>
    )
  if (sighting !== null) return <Action onPress={() => go('sight', 'see', sighting.id)}>{DRIFT.seeSighting}</Action>
  return <>{p.otherwise}</>
}

export function DeleteScan({ station, scan }: OfScan) {
  const remove = async () => {
    if (await deleteScan(station, scan.id, SCAN_STEPS.remove(scan.what))) go('sight', scan.what)
  }
  return (
    <SecondaryButton stop onPress={() => void remove()}>
      {DRIFT.remove}
    </SecondaryButton>
  )
}
