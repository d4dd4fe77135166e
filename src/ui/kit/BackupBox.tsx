/** A backup that was made and is not known to have arrived: the person says that it did, or picks the file for comparison. */
import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import {
  bestWay,
  bookParcel,
  compareBackup,
  confirmBackup,
  forgetPending,
  type HandedOn,
  handOn,
  pendingBackup,
} from '../../state/export.ts'
import { phoneMs } from '../../state/now.ts'
import { BACKUP } from './backupwords.ts'
import { ButtonRow, SecondaryButton } from './buttons.tsx'
import { FaultList } from './FaultList.tsx'
import { FileField } from './FileField.tsx'
import { HANDED } from './handedwords.ts'
import { Notice } from './Notice.tsx'
import { go } from './navigation.ts'
import { Name } from './numbers.tsx'

const last = signal<HandedOn | null>(null)

/** Inside the tap: the station's field book, the best way that the phone has. */
export async function backUp(station: StationRecord): Promise<void> {
  const parcel = bookParcel(station.name, phoneMs(), [station.id])
  last.value = await handOn(bestWay(parcel), parcel)
}

/** What became of the backup, on the first screen. */
export function BackupBox() {
  const said = last.value
  return (
    <>
      {said && <HandedWords said={said} />}
      <BackupConfirm />
      <SecondaryButton onPress={() => go('book', 'export')}>{BACKUP.otherWay}</SecondaryButton>
    </>
  )
}

/** What a tap did, in words; a text that the intake refuses is not a backup, and says why. */
export function HandedWords({ said }: { said: HandedOn }) {
  if (said.faults.length === 0) return <p role="status">{HANDED[said.outcome]}</p>
  return (
    <Notice state="stop" live="alert">
      {BACKUP.unsound}
      <FaultList faults={said.faults} />
    </Notice>
  )
}

export function BackupConfirm() {
  const [isOther, setOther] = useState(false)
  const pending = pendingBackup.value
  if (pending === null) return null
  const compare = async (file: File) => {
    setOther((await compareBackup(file).catch(() => 'other')) === 'other')
  }
  return (
    <Notice state="next" word={BACKUP.word}>
      <p>
        {pending.way === 'started' ? BACKUP.saved : BACKUP.copied} <Name>{pending.file}</Name>
      </p>
      <ButtonRow>
        <SecondaryButton onPress={() => void confirmBackup()}>{BACKUP.yes}</SecondaryButton>
        <SecondaryButton onPress={forgetPending}>{BACKUP.no}</SecondaryButton>
      </ButtonRow>
      <FileField onFile={file => void compare(file)} word={BACKUP.compare} hint={BACKUP.compareHint} />
      {isOther && <p role="status">{BACKUP.other}</p>}
    </Notice>
  )
}
