/** What was written, newest first; each record with all its states, any of which can be restored. */
import { useEffect, useState } from 'preact/hooks'
import type { Fault } from '../../core/records/answer.ts'
import { differences } from '../../core/records/differences.ts'
import type { StoredRecord } from '../../core/records/stored.ts'
import { fieldBook } from '../../state/book.ts'
import { faultsAfter } from '../../state/import.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { FaultList } from '../kit/FaultList.tsx'
import { utcAndLocal, utcDate } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { failureWords } from '../kit/phrases.ts'
import { pathWords, recordWords, valueWords } from '../kit/recordwords.ts'
import { Screen } from '../kit/Screen.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { NotKept } from './BookNotKept.tsx'
import { mountOf } from './recordmount.ts'
import { BOOK, HISTORY } from './words.ts'

const when = (ms: number): string => `${utcDate(ms)} ${utcAndLocal(ms)}`

export function BookHistory({ id }: { id: string | undefined }) {
  return id === undefined ? <Everything /> : <OneRecord id={id} />
}

// A step's words are kept as plain text; direction marks are added when they are shown.
const plain = (words: string): string => words.replace(/[\u2068\u2069]/g, '')

/** The latest, on two or three screenfuls; each tap on what follows brings twice as many earlier ones. */
const PAGE = 20

function Everything() {
  const [shown, setShown] = useState(PAGE)
  const station = fieldBook.stationId.value
  // Records of the station in use, and deleted stations: they are restored from here, too.
  const records = fieldBook.records.value
    .filter(record => station === null || record.station === station || record.kind === 'station')
    .sort((a, b) => b.writtenMs - a.writtenMs || (a.id < b.id ? 1 : -1))
  return (
    <Screen title={HISTORY.title} present="book" onGo={id => go(id)}>
      <NotKept />
      <UndoStrip says />
      <Text quiet>{HISTORY.undoHint}</Text>
      {records.length === 0 && <Sentence>{HISTORY.none}</Sentence>}
      <div>
        {records.slice(0, shown).map(record => (
          <RowButton
            key={record.id}
            label={
              <>
                {recordWords(record.kind, record.body, mountOf(record))}
                <small class="book-small">{when(record.writtenMs)}</small>
              </>
            }
            value={record.deleted ? HISTORY.deleted : record.revision > 1 ? HISTORY.revision(record.revision) : ''}
            onPress={() => go('book', 'history', record.id)}
          />
        ))}
      </div>
      {records.length > shown && (
        <SecondaryButton onPress={() => setShown(shown + 2 * PAGE)}>{HISTORY.more}</SecondaryButton>
      )}
      <SecondaryButton onPress={() => go('book')}>{BOOK.back}</SecondaryButton>
    </Screen>
  )
}

function OneRecord({ id }: { id: string }) {
  const [states, setStates] = useState<readonly StoredRecord[]>([])
  const [said, setSaid] = useState<{ words: string; faults: readonly Fault[] } | null>(null)
  const current = fieldBook.records.value.find(record => record.id === id)
  useEffect(() => {
    let alive = true
    void fieldBook.history(id).then(kept => {
      if (!alive) return
      if (kept.kind === 'done') setStates(kept.value)
      else setSaid({ words: failureWords(kept), faults: [] })
    })
    return () => {
      alive = false
    }
  }, [id, current?.revision])

  const restore = async (state: StoredRecord) => {
    const draft = {
      id,
      kind: state.kind,
      station: state.station,
      place: state.place,
      body: state.body,
      deleted: state.deleted,
    }
    const called = plain(recordWords(state.kind, state.body, mountOf(state)))
    const faults = faultsAfter(fieldBook.records.value, [{ ...draft, revision: 1 }])
    if (faults.length > 0) {
      setSaid({ words: HISTORY.illegal, faults })
      return
    }
    const kept = await fieldBook.keep(
      { kind: 'bring-back', place: 'book', subject: { record: state.kind, id, called } },
      [draft],
    )
    setSaid({ words: kept.kind === 'done' ? HISTORY.brought : failureWords(kept), faults: [] })
  }
  return (
    <Screen title={HISTORY.title} present="book" onGo={place => go(place)}>
      {current && <Sentence strong>{recordWords(current.kind, current.body, mountOf(current))}</Sentence>}
      {said && (
        <Notice state={said.words === HISTORY.brought ? 'good' : 'stop'} live="status">
          {said.words}
          {said.faults.length > 0 && <FaultList faults={said.faults} />}
        </Notice>
      )}
      {[...states].reverse().map((state, i, all) => (
        <section class="book-section" key={state.revision}>
          <h2>
            {HISTORY.revision(state.revision)}
            {i === 0 && `, ${HISTORY.now}`}
          </h2>
          <Text quiet>
            {when(state.writtenMs)}, {HISTORY.versions(state.app)}
          </Text>
          <WhatChanged before={all[i + 1]} state={state} />
          {i > 0 && <SecondaryButton onPress={() => void restore(state)}>{HISTORY.restore}</SecondaryButton>}
        </section>
      ))}
      <SecondaryButton onPress={() => go('book', 'history')}>{HISTORY.title}</SecondaryButton>
    </Screen>
  )
}

function WhatChanged({ before, state }: { before: StoredRecord | undefined; state: StoredRecord }) {
  if (state.deleted) return <Text>{HISTORY.deleted}</Text>
  if (!before) return <Text>{HISTORY.first}</Text>
  const found = differences(before.body, state.body, ['revision'])
  if (found.length === 0) return <Text>{before.deleted ? HISTORY.brought : HISTORY.nothing}</Text>
  return (
    <ul class="book-list">
      {found.slice(0, 20).map(({ path, before: was, after }) => (
        <li key={path}>
          {pathWords(path, mountOf(state))}: {valueWords(was)} → {valueWords(after)}
        </li>
      ))}
    </ul>
  )
}
