/** What no backup has yet, shown on the first screen with one button that makes a backup. */
import type { ComponentType } from 'preact'
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Notice } from '../kit/Notice.tsx'
import { backupLine, EXPORT_BACKUP, isInvented } from '../kit/phrases.ts'

export function NowBackup({ station }: { station: StationRecord }) {
  const [Said, setSaid] = useState<ComponentType | null>(null)
  const need = fieldBook.backups.value.find(one => one.station === station.id)
  if (!need || isInvented(station)) return null
  const backUp = async () => {
    // Loaded at the tap: a tap counts for some seconds, and the code is on the phone already.
    const box = await import('../kit/BackupBox.tsx')
    await box.backUp(station)
    setSaid(() => box.BackupBox)
  }
  return (
    <Notice state="look-out" word={backupLine(need.changes, need.lastExportMs)}>
      {Said ? <Said /> : <SecondaryButton onPress={() => void backUp()}>{EXPORT_BACKUP}</SecondaryButton>}
    </Notice>
  )
}
