/** The book: its stations, the one in use with its facts, and what can be done with it all. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { updateOffered } from '../../state/service.ts'
import { BackupConfirm } from '../kit/BackupBox.tsx'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LookAround } from '../kit/LookAround.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { isInvented, UPDATE } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { WAYS } from '../kit/ways.ts'
import { NotKept } from './BookNotKept.tsx'
import { Facts } from './Facts.tsx'
import { inventedWord } from './invented.ts'
import { BOOK } from './words.ts'

export function BookHome() {
  const stations = fieldBook.stations.value
  const station = fieldBook.station.value
  if (station === null) return <EmptyBook />
  return (
    <Screen
      title={BOOK.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={<Action onPress={() => go('book', 'export')}>{BOOK.export}</Action>}
      side={
        <>
          <div>
            <RowButton label={BOOK.edit} onPress={() => go('book', 'edit', station.id)} />
            <RowButton label={WAYS.dish} onPress={() => go('book', 'dish')} />
            <RowButton label={BOOK.makeNew} onPress={() => go('book', 'new')} />
            <RowButton label={WAYS.reach} onPress={() => go('reach')} />
            <RowButton label={WAYS.rehearse} onPress={() => go('book', 'rehearse')} />
            <RowButton label={BOOK.import} onPress={() => go('book', 'import')} />
            <RowButton label={BOOK.history} onPress={() => go('book', 'history')} />
            <RowButton label={BOOK.copies} onPress={() => go('book', 'copies')} />
            <RowButton label={BOOK.settings} onPress={() => go('book', 'settings')} />
            <RowButton
              label={BOOK.ready}
              value={updateOffered.value ? UPDATE.there : undefined}
              onPress={() => go('book', 'ready')}
            />
            {!isInvented(station) && <RowButton label={BOOK.remove} onPress={() => go('book', 'delete')} />}
          </div>
          {isInvented(station) && (
            <SecondaryButton stop onPress={() => void fieldBook.deleteStation(station.id, null)}>
              {station.rehearsal === true ? BOOK.rehearsalAway : BOOK.demoAway}
            </SecondaryButton>
          )}
          <UndoStrip of="book" says />
          <HelpLine>{BOOK.help}</HelpLine>
        </>
      }
    >
      <NotKept />
      {stations.length > 1 ? (
        <Choice
          label={BOOK.stations}
          long
          options={[...stations]
            .sort((a, b) => Number(isInvented(a)) - Number(isInvented(b)))
            .map(s => ({
              value: s.id,
              word: <Name>{s.name}</Name>,
              ...(inventedWord(s) !== null && { note: inventedWord(s) }),
            }))}
          value={station.id}
          onPick={id => fieldBook.chooseStation(id)}
        />
      ) : (
        <Sentence strong>
          <Name>{station.name}</Name>
        </Sentence>
      )}
      <DemoMark station={station} />
      {station.sightings.length === 0 && (station.levels ?? []).length === 0 && (
        <Notice state="next">{BOOK.nothingYet}</Notice>
      )}
      <Reminder station={station} />
      <Facts station={station} />
    </Screen>
  )
}

function EmptyBook() {
  return (
    <Screen
      title={BOOK.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={<Action onPress={() => go('book', 'new')}>{BOOK.make}</Action>}
    >
      <NotKept />
      <Sentence strong>{BOOK.empty}</Sentence>
      <Text>{BOOK.emptyWhy}</Text>
      <div>
        <RowButton label={BOOK.import} onPress={() => go('book', 'import')} />
        <LookAround row />
        <RowButton label={WAYS.reach} onPress={() => go('reach')} />
        <RowButton label={WAYS.rehearse} onPress={() => go('book', 'rehearse')} />
        <RowButton label={BOOK.history} onPress={() => go('book', 'history')} />
        <RowButton label={BOOK.copies} onPress={() => go('book', 'copies')} />
        <RowButton label={BOOK.settings} onPress={() => go('book', 'settings')} />
        <RowButton label={BOOK.ready} onPress={() => go('book', 'ready')} />
      </div>
      <UndoStrip of="book" says />
    </Screen>
  )
}

function Reminder({ station }: { station: StationRecord }) {
  const need = fieldBook.backups.value.find(one => one.station === station.id)
  if (!need || isInvented(station)) return null
  return (
    <>
      <Notice state="look-out">{BOOK.backup(need.changes, need.lastExportMs)}</Notice>
      <BackupConfirm />
    </>
  )
}
