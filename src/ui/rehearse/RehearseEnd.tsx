/** The end of a rehearsal: the real loss beside the claimed one, each number's truth, and what went unnoticed. */
import { useEffect, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Outcome } from '../../core/rehearse/outcome.ts'
import { judgedRehearsal } from '../../state/rehearsalend.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { duration } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { subjectWords } from '../kit/parameterwords.ts'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { END, foundText, hiddenText, lossText, parameterText, wrongText } from './endwords.ts'

export function RehearseEnd({ station }: { station: StationRecord }) {
  const [outcome, setOutcome] = useState<Outcome | 'failed' | null>(null)
  const isEmpty = station.sightings.length === 0
  useEffect(() => {
    let alive = true
    if (!isEmpty)
      void judgedRehearsal(station).then(judged => {
        if (alive) setOutcome(judged ?? 'failed')
      })
    return () => {
      alive = false
    }
  }, [station])
  return (
    <Screen
      title={END.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={<Action onPress={() => go('now')}>{END.back}</Action>}
      {...(outcome !== null && outcome !== 'failed' && { side: <Numbers station={station} outcome={outcome} /> })}
    >
      {isEmpty ? (
        <Sentence>{END.notYet}</Sentence>
      ) : outcome === null ? (
        <Sentence>{END.judging}</Sentence>
      ) : outcome === 'failed' ? (
        <Notice state="stop">{END.failed}</Notice>
      ) : (
        <Judged station={station} outcome={outcome} />
      )}
    </Screen>
  )
}

function Judged({ station, outcome }: { station: StationRecord; outcome: Outcome }) {
  const { pointing, claimed, holds, hidden, wrong, accused } = outcome
  return (
    <>
      {holds === null ? (
        <Sentence strong>{END.unreached}</Sentence>
      ) : (
        <Notice state={!holds ? 'look-out' : claimed.within ? 'good' : 'next'}>
          {!holds ? END.fails : claimed.within ? END.holds : END.notPromised}
        </Notice>
      )}
      <Rows>
        {pointing && <Row label={END.left}>{lossText(pointing.lossP95Db, pointing.p95Deg)}</Row>}
        <Row label={END.claimed} note={claimed.within ? END.within : END.notWithin}>
          {lossText(claimed.lossP95Db, claimed.p95Deg)}
        </Row>
        {pointing && <Row label={END.worst}>{lossText(pointing.lossWorstDb, pointing.worstDeg)}</Row>}
        <Row label={END.time}>{duration(outcome.spentMs)}</Row>
        <Row label={END.sightings} note={END.practised(outcome.practised)}>
          {outcome.sightings}
        </Row>
      </Rows>
      {hidden.length > 0 && (
        <section class="end-part">
          <h2>{END.hidden}</h2>
          <Rows>
            {hidden.map(h => (
              <Row
                key={h.kind}
                label={hiddenText(station, h)}
                {...((h.naming === 'not' || h.naming === 'rival') && { note: END.tells[h.kind] })}
              >
                {END.naming[h.naming]}
              </Row>
            ))}
          </Rows>
        </section>
      )}
      <section class="end-part">
        <h2>{END.wrong}</h2>
        {wrong.length === 0 ? (
          <Text>{END.noneWrong}</Text>
        ) : (
          <Rows>
            {wrong.map(w => (
              <Row key={w.id} label={wrongText(station, w)}>
                {w.isCaught ? END.caught : END.missed}
              </Row>
            ))}
          </Rows>
        )}
        {accused.length > 0 && <Text>{END.accused(accused.length)}</Text>}
      </section>
    </>
  )
}

function Numbers({ station, outcome }: { station: StationRecord; outcome: Outcome }) {
  const nameOf = (id: string | undefined) =>
    id === undefined || station.feeds.length < 2 ? null : (station.feeds.find(f => f.id === id)?.name ?? id)
  return (
    <section class="end-part">
      <h2>{END.parameters}</h2>
      <Rows>
        {outcome.rows.map(({ parameter: p, truth, offSigmas }) => {
          const { what, senses } = subjectWords(p.id, station.mount, station.site.latDeg, nameOf(p.feed))
          const [minus, plus] = senses
          const way = plus === '' ? what : `${what} (+ ${plus}, − ${minus})`
          return (
            <Row key={`${p.id}/${p.feed ?? ''}`} label={way} note={foundText(p, offSigmas)}>
              {truth === null ? END.noNumber : parameterText(p, truth)}
            </Row>
          )
        })}
      </Rows>
      <SecondaryButton onPress={() => go('book', 'rehearse')}>{END.again}</SecondaryButton>
    </section>
  )
}
