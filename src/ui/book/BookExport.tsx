/** Handing out: field book, solution, target table. The text is made before the tap. */
import { useEffect, useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { bestWay, type HandedOn, handOn, pendingBackup } from '../../state/export.ts'
import { BackupConfirm, HandedWords } from '../kit/BackupBox.tsx'
import { BACKUP, HAND_ON } from '../kit/backupwords.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Row, Rows, Sentence } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { TheText } from '../kit/TheText.tsx'
import { BookParcel, type Ready, SolutionParcel, TableParcel, type What } from './ExportParcels.tsx'
import { EXPORT } from './words.ts'

/** @param first  what to begin with; the field book unless the way here was for another */
export function BookExport({ first }: { first: string | undefined }) {
  const station = fieldBook.station.value
  const [what, setWhat] = useState<What>(first === 'table' || first === 'solution' ? first : 'book')
  const [nowMs] = useState(() => Date.now())
  const [ready, setReady] = useState<Ready>(null)
  const [said, setSaid] = useState<HandedOn | null>(null)
  useEffect(() => setSaid(null), [what])
  const hand = async (way: 'share' | 'copy' | 'download') => {
    if (ready && 'parcel' in ready) setSaid(await handOn(way, ready.parcel))
  }
  const parcel = ready && 'parcel' in ready ? ready.parcel : null
  const isCounted =
    said !== null &&
    said.faults.length === 0 &&
    /shared|started|copied/.test(said.outcome) &&
    pendingBackup.value === null &&
    !fieldBook.backups.value.some(need => need.station === station?.id)
  const best = parcel ? bestWay(parcel) : 'copy'
  const outcome = said?.outcome
  const others = (['share', 'download', 'copy'] as const).filter(
    way => way !== best && (way === 'copy' || parcel?.[way]),
  )
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
      action={
        <Action
          onPress={() => void hand(best)}
          notNow={parcel ? null : ready && 'why' in ready ? ready.why : EXPORT.preparing}
        >
          {HAND_ON[best]}
        </Action>
      }
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
      {what === 'solution' && <SolutionParcel nowMs={nowMs} onReady={setReady} />}
      {what === 'table' && <TableParcel nowMs={nowMs} onReady={setReady} />}
      {parcel && (
        <>
          <Rows>
            <Row label={<Name>{parcel.file.name}</Name>}>{HAND_ON.size(parcel.file.size)}</Row>
          </Rows>
          <ButtonRow>
            {others.map(way => (
              <SecondaryButton key={way} onPress={() => void hand(way)}>
                {HAND_ON[way]}
              </SecondaryButton>
            ))}
          </ButtonRow>
          {said && outcome && (
            <Notice
              state={outcome === 'refused' ? 'stop' : outcome === 'cancelled' ? 'look-out' : 'good'}
              live="status"
            >
              <HandedWords said={said} />
              {what === 'book' && isCounted && <p>{BACKUP.counted}</p>}
            </Notice>
          )}
          {what === 'book' && <BackupConfirm />}
          <TheText text={parcel.text} />
        </>
      )}
      <HelpLine>{EXPORT.help}</HelpLine>
    </Screen>
  )
}
