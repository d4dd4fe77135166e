/** What to turn at the adjusters that the person described, in order; what will remain; and the way to note what was turned. */
import { useState } from 'preact/hooks'
import { changeOfBolts } from '../../core/export/boltchange.ts'
import type { Bolt, Bolts } from '../../core/export/bolts.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { adjustersOf, bolts, sayTurned } from '../../state/bolts.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { Action } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { lengthUnit, seenText } from '../kit/format.ts'
import { verdictWords } from '../kit/loss.ts'
import { CAUTIONS } from '../kit/mount/words.ts'
import { go, partFromNames } from '../kit/navigation.ts'
import { Name, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { Several } from '../kit/Several.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { amountWords, BOLTS, doesWords, restWords, uncorrectedWords } from './boltswords.ts'

const describe = () => go('correct', 'bolts', 'edit', 'new')

export function CorrectBolts({ station }: { station: StationRecord }) {
  const adjusters = adjustersOf(station)
  const told = bolts.value
  const { solution } = answer.value
  const [notTurned, setNotTurned] = useState<readonly string[]>([])
  if (adjusters.length === 0)
    return (
      <CorrectFrame station={station} title={BOLTS.title} action={<Action onPress={describe}>{BOLTS.describe}</Action>}>
        <Sentence strong>{BOLTS.none}</Sentence>
        <Text>{BOLTS.noneWhy}</Text>
        <UndoStrip of="correct" />
      </CorrectFrame>
    )
  const turn = told?.turn ?? []
  const done = turn.filter(b => !notTurned.includes(b.adjuster.id))
  return (
    <CorrectFrame
      station={station}
      title={BOLTS.title}
      side={
        <>
          {told && <Rest told={told} />}
          <section class="correct-part" aria-label={BOLTS.adjusters}>
            <h2 class="correct-head">{BOLTS.adjusters}</h2>
            {adjusters.map(a => (
              <RowButton
                key={a.id}
                label={<Name>{a.name}</Name>}
                onPress={() => go('correct', 'bolts', 'edit', a.id)}
              />
            ))}
            {turn.length > 0 && <RowButton label={BOLTS.describe} onPress={describe} />}
          </section>
          <UndoStrip of="correct" />
        </>
      }
      action={
        turn.length > 0 ? (
          <Action notNow={done.length === 0 ? BOLTS.noneTurned : null} onPress={() => note(station, done)}>
            {BOLTS.note}
          </Action>
        ) : (
          <Action onPress={describe}>{BOLTS.describe}</Action>
        )
      }
    >
      {turn.length > 0 && <Caution {...CAUTIONS.unpinned} />}
      {told === null && <Sentence>{SOLVING.computing}</Sentence>}
      {told && turn.length === 0 && <Sentence strong>{BOLTS.nothing}</Sentence>}
      {solution && turn.length > 0 && !solution.sky.within && <Text quiet>{verdictWords(solution)}</Text>}
      {turn.length > 1 && <Text>{BOLTS.order}</Text>}
      <Turned list={turn} />
      {told?.sky && <Text quiet>{uncorrectedWords(told.sky.beforeDeg, told.sky.afterDeg)}</Text>}
      {told?.sky && told.sky.afterDeg >= told.sky.beforeDeg && <Text>{BOLTS.worse}</Text>}
      {turn.length > 1 && (
        <Several
          label={BOLTS.turned}
          hint={BOLTS.turnedHint}
          options={turn.map(({ adjuster }) => ({ value: adjuster.id, word: seenText(adjuster.name) }))}
          picked={done.map(b => b.adjuster.id)}
          onPick={picked => setNotTurned(turn.flatMap(b => (picked.includes(b.adjuster.id) ? [] : [b.adjuster.id])))}
        />
      )}
    </CorrectFrame>
  )
}

function note(station: StationRecord, done: readonly Bolt[]): void {
  const { what, expect } = changeOfBolts(done, feedHere(station))
  const part = partFromNames(what)
  sayTurned(station, part, expect)
  go('mount', 'change', part)
}

function Turned({ list }: { list: readonly Bolt[] }) {
  if (list.length === 0) return null
  const unit = lengthUnit()
  return (
    <div class="found">
      <Rows>
        {list.map(bolt => (
          <Row
            key={bolt.adjuster.id}
            label={<Name>{bolt.adjuster.name}</Name>}
            note={
              bolt.does.kind === 'turn' && (
                <>
                  <span class="advice-quiet">{doesWords(bolt, bolt.does, unit)}</span>
                  {bolt.adjuster.note && <span class="advice-quiet">{seenText(bolt.adjuster.note)}</span>}
                </>
              )
            }
          >
            {bolt.does.kind === 'turn' && amountWords(bolt, bolt.does, unit)}
          </Row>
        ))}
      </Rows>
    </div>
  )
}

function Rest({ told }: { told: Bolts }) {
  return (
    <>
      {told.instead.length > 0 && (
        <section class="correct-part" aria-label={BOLTS.instead}>
          <h2 class="correct-head">{BOLTS.instead}</h2>
          <Turned list={told.instead} />
        </section>
      )}
      {told.rest.length > 0 && (
        <section class="correct-part" aria-label={BOLTS.rest}>
          <h2 class="correct-head">{BOLTS.rest}</h2>
          {told.rest.map(bolt => (
            <Text key={bolt.adjuster.id}>
              <Name>{bolt.adjuster.name}</Name>: {restWords(bolt)}
            </Text>
          ))}
        </section>
      )}
    </>
  )
}
