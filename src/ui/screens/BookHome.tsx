/** The book: its stations, the one in use with its facts, and what can be done with it all. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { locatorFromPlace } from '../../core/sky/locator.ts'
import { fieldBook } from '../../state/book.ts'
import { fieldBookText } from '../../state/handout.ts'
import { updateOffered } from '../../state/service.ts'
import { countOf, degrees, fixed, latitude, longitude, NBSP, seenText } from '../format.ts'
import { go } from '../navigation.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { DemoMark } from '../parts/DemoMark.tsx'
import { ConfirmByTyping } from '../parts/fields.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Name, Row, RowButton, Rows, Sentence, Text } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { BOOK, DELETE } from '../words/book.ts'
import { axisName, failureWords, isDemo, MOUNT_WORDS, readingUnit, UPDATE } from '../words/common.ts'
import { READOUT } from '../words/station.ts'
import { LookAround } from './LookAround.tsx'
import { FailureDetails, TryAgain } from './TryAgain.tsx'

const demoMark = (station: StationRecord) => isDemo(station as unknown as { demo?: unknown })

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
      action={<Action onPress={() => go('book', 'hand-out')}>{BOOK.handOut}</Action>}
      side={
        <>
          <div>
            <RowButton label={BOOK.edit} onPress={() => go('book', 'edit', station.id)} />
            <RowButton label={BOOK.makeNew} onPress={() => go('book', 'new')} />
            <RowButton label={BOOK.bring} onPress={() => go('book', 'bring')} />
            <RowButton label={BOOK.history} onPress={() => go('book', 'history')} />
            <RowButton label={BOOK.copies} onPress={() => go('book', 'copies')} />
            <RowButton label={BOOK.settings} onPress={() => go('book', 'settings')} />
            <RowButton
              label={BOOK.ready}
              value={updateOffered.value ? UPDATE.there : undefined}
              onPress={() => go('book', 'ready')}
            />
            {!demoMark(station) && <RowButton label={BOOK.remove} onPress={() => go('book', 'delete')} />}
          </div>
          {demoMark(station) && (
            <Second stop onPress={() => void fieldBook.deleteStation(station.id, null)}>
              {BOOK.demoAway}
            </Second>
          )}
          <UndoButton />
          <HelpLine>{BOOK.help}</HelpLine>
        </>
      }
    >
      <NotKept />
      {stations.length > 1 ? (
        <Choice
          label={BOOK.stations}
          long
          options={stations.map(s => ({
            value: s.id,
            word: <Name>{s.name}</Name>,
            ...(demoMark(s) && { note: BOOK.demo }),
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
        <RowButton label={BOOK.bring} onPress={() => go('book', 'bring')} />
        <LookAround row />
        <RowButton label={BOOK.history} onPress={() => go('book', 'history')} />
        <RowButton label={BOOK.copies} onPress={() => go('book', 'copies')} />
        <RowButton label={BOOK.settings} onPress={() => go('book', 'settings')} />
        <RowButton label={BOOK.ready} onPress={() => go('book', 'ready')} />
      </div>
      <UndoButton />
    </Screen>
  )
}

/** What could not be written stays here until it is. */
export function NotKept() {
  const unsaved = fieldBook.unsaved.value
  const first = unsaved[0]
  if (!first) return null
  return (
    <Notice state="stop" live="alert">
      {failureWords(first.failure)}
      <ul class="book-list">
        {unsaved.map((one, i) => (
          <li key={i}>{seenText(one.what)}</li>
        ))}
      </ul>
      <Seconds>
        <TryAgain />
        <Second
          stop
          onPress={() => {
            for (const one of unsaved) fieldBook.discardUnsaved(one)
          }}
        >
          {BOOK.discard}
        </Second>
      </Seconds>
      <FailureDetails />
    </Notice>
  )
}

/** One step back at a time. */
export function UndoButton() {
  const [said, setSaid] = useState<string | null>(null)
  const what = fieldBook.undoable.value
  const undo = async () => {
    const outcome = await fieldBook.undo()
    setSaid(
      outcome.kind === 'done'
        ? BOOK.undone
        : outcome.kind === 'overtaken'
          ? BOOK.overtaken
          : outcome.kind === 'nothing'
            ? null
            : failureWords(outcome),
    )
  }
  return (
    <>
      {what !== null && <Second onPress={() => void undo()}>{BOOK.undo(seenText(what))}</Second>}
      <p role="status">{said}</p>
    </>
  )
}

function Reminder({ station }: { station: StationRecord }) {
  const need = fieldBook.backups.value.find(one => one.station === station.id)
  if (!need || demoMark(station)) return null
  return <Notice state="look-out">{BOOK.backup(need.changes, need.lastExportMs)}</Notice>
}

function Facts({ station }: { station: StationRecord }) {
  const { site, dish, feeds, mount } = station
  const limits = (axis: 'lower' | 'upper') => {
    const { minReading, maxReading } = mount[axis]
    const unit = readingUnit(mount, axis)
    const decimals = (n: number) => (Number.isInteger(n) ? 0 : 1)
    const show = (n: number) => (unit === 'degrees' ? degrees(n, decimals(n)) : fixed(n, decimals(n)))
    return `${show(minReading)} to ${show(maxReading)}${unit === 'degrees' ? '' : `${NBSP}counts`}`
  }
  return (
    <>
      {station.notes && (
        <Text quiet>
          <Name>{station.notes.length > 400 ? `${[...station.notes].slice(0, 400).join('')}…` : station.notes}</Name>
        </Text>
      )}
      <Rows>
        <Row
          label="Place"
          note={`${fixed(site.heightM, 0)}${NBSP}m high, locator ${locatorFromPlace(site.latDeg, site.lonDeg)}`}
        >
          {latitude(site.latDeg, 4)}, {longitude(site.lonDeg, 4)}
        </Row>
        <Row label="Dish">
          {fixed(dish.diameterM, 2)}
          {NBSP}m, f/D {fixed(dish.focalRatio, 2)}
        </Row>
        {feeds.map(feed => (
          <Row key={feed.id} label={<Name>{feed.name}</Name>}>
            {fixed(feed.frequencyMHz, Number.isInteger(feed.frequencyMHz) ? 0 : 1)}
            {NBSP}MHz
          </Row>
        ))}
        <Row label="Mount">{MOUNT_WORDS[mount.kind]}</Row>
        {(['lower', 'upper'] as const).map(axis => (
          <Row
            key={axis}
            label={`${axis === 'lower' ? 'Lower' : 'Upper'} axis, ${axisName(mount, axis)}`}
            note={READOUT.types[mount[axis].readout.type]}
          >
            {limits(axis)}
          </Row>
        ))}
        <Row label="Records">{countOf(station.sightings.length, 'sighting')}</Row>
      </Rows>
    </>
  )
}

/** A station goes when its name was typed; its copy stays. */
export function BookDelete() {
  const [text, setText] = useState('')
  const [failure, setFailure] = useState<string | null>(null)
  const station = fieldBook.station.value
  const remove = async () => {
    if (!station) return
    const outcome = await fieldBook.deleteStation(station.id, fieldBookText(Date.now(), [station.id]))
    if (outcome.kind === 'done') go('book')
    else setFailure(failureWords(outcome))
  }
  return (
    <Screen title={DELETE.title} present="book" onGo={id => go(id)}>
      {station === null ? (
        <Sentence>{BOOK.empty}</Sentence>
      ) : (
        <ConfirmByTyping
          name={station.name}
          what={<Text>{DELETE.what(station)}</Text>}
          word={DELETE.word}
          text={text}
          onText={setText}
          onConfirm={() => void remove()}
        />
      )}
      {failure && (
        <Notice state="stop" live="alert">
          {DELETE.failed} {failure}
        </Notice>
      )}
      <Second onPress={() => go('book')}>{BOOK.back}</Second>
    </Screen>
  )
}

/** The stations that were not invented. */
export const stationNames = (): ReadonlyMap<string, string> =>
  new Map(fieldBook.stations.value.filter(station => !demoMark(station)).map(station => [station.id, station.name]))
