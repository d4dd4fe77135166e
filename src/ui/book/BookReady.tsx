/** Ready for the field: proof that nothing is missing, and what to do where it is. Also versions and what changed. */

import { useEffect, useState } from 'preact/hooks'
import { phoneNow } from '../../state/now.ts'
import { keepData, lookReady, type OfflineState, readiness, version } from '../../state/readiness.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { StateMark } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UpdateNotice } from '../kit/UpdateNotice.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { stationNames } from './invented.ts'
import { CHANGELOG, READY, type ReadyLine, readyLines } from './readywords.ts'

const STATE_WORDS = { good: 'Good', 'look-out': 'Look out', stop: 'Stop' } as const

export function BookReady() {
  const [said, setSaid] = useState<string | null>(null)
  useEffect(() => {
    void lookReady()
  }, [])
  const facts = readiness()
  const lines = readyLines(facts, phoneNow.value, stationNames())
  const open = lines.filter(line => line.state !== 'good').length
  return (
    <Screen
      title={READY.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={<Action onPress={() => void lookReady()}>{READY.again}</Action>}
      side={
        <>
          <ButtonRow>
            {facts.persistence !== 'persistent' && (
              <SecondaryButton
                onPress={() =>
                  void keepData().then(answer => setSaid(answer === 'persistent' ? READY.kept : READY.notKept))
                }
              >
                {READY.keep}
              </SecondaryButton>
            )}
            {lines.some(line => line.id === 'backup' && line.state !== 'good') && (
              <SecondaryButton onPress={() => go('book', 'export')}>{READY.export}</SecondaryButton>
            )}
            <SecondaryButton onPress={() => go('book', 'sensors')}>{READY.toLevel}</SecondaryButton>
            {lines.some(line => line.id === 'clock' && line.state !== 'good') && (
              <SecondaryButton onPress={() => go('mount', 'clock')}>{READY.toClock}</SecondaryButton>
            )}
          </ButtonRow>
          <p role="status">{said}</p>
          <Caution {...READY.site} />
          <Text quiet>{READY.battery}</Text>
          <h2>{READY.versions}</h2>
          <Rows>
            <Row label={READY.program}>{version}</Row>
            <Row label={READY.file}>1</Row>
          </Rows>
          <PartList offline={facts.offline} />
          {CHANGELOG.map(change => (
            <HelpLine key={change.version} word={READY.changes(change.version)}>
              <ul class="book-list">
                {change.what.map(what => (
                  <li key={what}>{what}</li>
                ))}
              </ul>
            </HelpLine>
          ))}
        </>
      }
    >
      <Sentence strong>{open === 0 ? READY.good : READY.bad(open)}</Sentence>
      <UpdateNotice />
      <ul class="ready-list">
        {lines.map(line => (
          <Line key={line.id} line={line} />
        ))}
      </ul>
    </Screen>
  )
}

/** The files that the program is made of, what is wrong first. */
function PartList({ offline }: { offline: OfflineState }) {
  const list = 'list' in offline ? (offline.list ?? []) : []
  if (list.length === 0) return null
  const sorted = [...list].sort((a, b) => Number(a.state === 'whole') - Number(b.state === 'whole'))
  return (
    <details class="help">
      <summary>{READY.parts}</summary>
      <ul class="book-list">
        {sorted.map(({ url, state }) => (
          <li key={url}>
            {url}: {READY.partStates[state]}
          </li>
        ))}
      </ul>
    </details>
  )
}

function Line({ line }: { line: ReadyLine }) {
  return (
    <li class={`ready-line ready-${line.state}`}>
      <StateMark state={line.state} />
      <div>
        <strong>
          {line.title}: {STATE_WORDS[line.state].toLowerCase()}
        </strong>
        <div>{line.words}</div>
      </div>
    </li>
  )
}
