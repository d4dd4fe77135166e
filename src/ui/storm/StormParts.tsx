/** What a comparison with the mount as it was says: the verdict with what moved, what would tell, all that was compared. */
import type { StepJson } from '../../core/plan/stepjson.ts'
import type { StormCheckJson } from '../../core/plan/stormjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { DishCautions } from '../kit/DishCautions.tsx'
import { lengthUnit, NBSP } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import {
  changedWords,
  foundWords,
  measurementWords,
  planSays,
  rivalWords,
  STORM,
  stormCost,
  stormNext,
  stormSentence,
  touchesMount,
} from './words.ts'

interface VerdictProps {
  station: StationRecord
  said: StormCheckJson
  sentence?: string
}

/** @param sentence  in place of the check's own */
export function StormFindings({ station, said, sentence = stormSentence(station, said) }: VerdictProps) {
  const cost = stormCost(said)
  const rivals = rivalWords(station, said)
  const [best] = said.explanations
  return (
    <>
      <Sentence strong>{sentence}</Sentence>
      {best && <Moved station={station} by={best} />}
      {cost && <Text>{cost}</Text>}
      {rivals && <Text>{rivals}</Text>}
      <Notice state={said.verdict === 'nothing-moved' ? 'good' : 'next'}>{stormNext(said)}</Notice>
      {said.verdict === 'moved' && <DishCautions station={station} reach />}
      {said.verdict === 'moved' && touchesMount(best) && <Notice state="caution">{STORM.prop}</Notice>}
    </>
  )
}

/** What an explanation has moved, and by how much. */
function Moved({ station, by }: { station: StationRecord; by: StormCheckJson['explanations'][number] }) {
  const unit = lengthUnit()
  return (
    <Rows>
      {by.changed.map(c => {
        const { what, value } = changedWords(station, c, unit)
        return (
          <Row key={c.id} label={what}>
            {value}
          </Row>
        )
      })}
    </Rows>
  )
}

/** What would tell, in order of time; each leads to where it is done. */
export function StormToDo({ said, onStep }: { said: StormCheckJson; onStep: (step: StepJson) => void }) {
  const lead = planSays(said)
  if (lead === null && said.next.length === 0) return null
  const head = said.verdict === 'moved' ? STORM.wouldPart : STORM.wouldTell
  const rows = stepRows(said.next)
  return (
    <section class="correct-part" aria-label={head}>
      <h2 class="correct-head">{head}</h2>
      {lead && <Text>{lead}</Text>}
      <Steps rows={rows.slice(0, FIRST)} onStep={onStep} />
      {rows.length > FIRST && (
        <HelpLine word={STORM.later(rows.length - FIRST)}>
          <Steps rows={rows.slice(FIRST)} onStep={onStep} />
        </HelpLine>
      )}
    </section>
  )
}

/** So many rows of a plan are listed at once. */
const FIRST = 6

interface StepRow {
  step: StepJson
  what: string
  value: string
  times: number
}

/** The same thing several times in a row is one line: "3 × Sun by feed's shadow". */
function stepRows(steps: readonly StepJson[]): StepRow[] {
  const rows: StepRow[] = []
  for (const step of steps) {
    const { what, value } = measurementWords(step)
    const last = rows.at(-1)
    if (last?.what === what && last.value === value) last.times += 1
    else rows.push({ step, what, value, times: 1 })
  }
  return rows
}

const Steps = ({ rows, onStep }: { rows: readonly StepRow[]; onStep: (step: StepJson) => void }) => (
  <div>
    {rows.map(({ step, what, value, times }, i) => (
      <RowButton
        key={`${i} ${what} ${value}`}
        label={times === 1 ? what : `${times}${NBSP}× ${what}`}
        value={value}
        onPress={() => onStep(step)}
      />
    ))}
  </div>
)

/** All that was compared, and the other explanations. */
export function StormEvidence({ station, said }: { station: StationRecord; said: StormCheckJson }) {
  return (
    <>
      {said.found.length > 0 && <h2 class="correct-head">{STORM.compared}</h2>}
      <Rows>
        {said.found.map(f => {
          const { label, value, note } = foundWords(station, f)
          return (
            <Row key={f.id} label={label} note={note}>
              {value}
            </Row>
          )
        })}
      </Rows>
      {said.explanations.length > 1 && <h2 class="correct-head">{STORM.or}</h2>}
      {said.explanations.slice(1).map(e => (
        <Moved key={e.kinds.join()} station={station} by={e} />
      ))}
    </>
  )
}
