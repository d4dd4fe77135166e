/** Export: field book, solution, target table. The text is made before the tap. */
import { useState } from 'preact/hooks'
import { takeTrueMs } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { pendingBackup } from '../../state/export.ts'
import { phoneMs } from '../../state/now.ts'
import { BackupConfirm } from '../kit/BackupBox.tsx'
import { BACKUP } from '../kit/backupwords.ts'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence } from '../kit/numbers.tsx'
import { OutgoingAction, OutgoingParts, useOutgoing } from '../kit/Outgoing.tsx'
import { Screen } from '../kit/Screen.tsx'
import { BookParcel, type ParcelReady, SolutionParcel, TableParcel, type What } from './ExportParcels.tsx'
import { EXPORT } from './words.ts'

/** @param first  what is chosen at first; the field book unless the link here was for another */
export function BookExport({ first }: { first: string | undefined }) {
  const station = fieldBook.station.value
  const [what, setWhat] = useState<What>(first === 'table' || first === 'solution' ? first : 'book')
  const [nowMs] = useState(phoneMs)
  /** What is computed is for the station's own instant, as on every screen. */
  const [hereMs] = useState(takeTrueMs)
  const [ready, setReady] = useState<ParcelReady>(null)
  const parcel = ready && 'parcel' in ready ? ready.parcel : null
  const out = useOutgoing(parcel, what)
  const { said } = out
  const isCounted =
    said !== null &&
    said.faults.length === 0 &&
    /shared|started|copied/.test(said.outcome) &&
    pendingBackup.value === null &&
    !fieldBook.backups.value.some(need => need.station === station?.id)
  if (station === null) {
    return (
      <Screen title={EXPORT.title} present="book" onGo={id => go(id)}>
        <Sentence>{EXPORT.noStation}</Sentence>
      </Screen>
    )
  }
  return (
    <Screen
      title={EXPORT.title}
      present="book"
      onGo={id => go(id)}
      action={<OutgoingAction out={out} why={ready && 'why' in ready ? ready.why : EXPORT.preparing} />}
    >
      <DemoMark station={station} />
      <Choice
        label={EXPORT.what}
        long
        options={[
          { value: 'book', word: EXPORT.book, note: EXPORT.bookNote },
          { value: 'solution', word: EXPORT.solution, note: EXPORT.solutionNote },
          { value: 'table', word: EXPORT.table, note: EXPORT.tableNote },
        ]}
        value={what}
        onPick={setWhat}
      />
      {what === 'book' && <BookParcel nowMs={nowMs} onReady={setReady} />}
      {what === 'solution' && <SolutionParcel nowMs={hereMs} onReady={setReady} />}
      {what === 'table' && <TableParcel nowMs={hereMs} onReady={setReady} />}
      <OutgoingParts out={out} more={what === 'book' && isCounted && <p>{BACKUP.counted}</p>}>
        {what === 'book' && <BackupConfirm />}
      </OutgoingParts>
      <RowButton label={MORE_WAYS.report} onPress={() => go('correct', 'report')} />
      <HelpLine>{EXPORT.help}</HelpLine>
    </Screen>
  )
}
