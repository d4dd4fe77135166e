/** Every number that was found: what is off and which way, what to do about it, what is not known yet, what the software takes. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { allowedDb, lossAt } from '../../state/losses.ts'
import { landscape } from '../../state/sky.ts'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { lengthUnit } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LOSS, madeOf, verdictWords, worstWords } from '../kit/loss.ts'
import { Row, Rows, Text } from '../kit/numbers.tsx'
import { placeWords } from '../kit/phrases.ts'
import { type Found, foundRows, type Group } from './found.ts'
import { StateShape } from './StateShape.tsx'
import { beforeSentence, CORRECT } from './words.ts'

export function CorrectKnown({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const found = solution === null ? [] : foundRows(solution, station, lengthUnit())
  const of = (group: Group) => found.filter(f => f.group === group)
  const { made, worst } = landscape.value ?? {}
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.everyTitle}
      side={
        <>
          <Part head={CORRECT.numbers} found={of('numbers')} />
          <Part head={CORRECT.leave} found={of('leave')} />
          <HelpLine>
            {[...LOSS.help, ...CORRECT.help].map(text => (
              <p key={text}>{text}</p>
            ))}
          </HelpLine>
        </>
      }
    >
      {solution && solution.fit.used > 0 && (
        <Text quiet>
          {beforeSentence(
            verdictWords(solution),
            allowedDb(station),
            lossAt(station, solution, solution.sky.before.p95Deg),
          )}
        </Text>
      )}
      {solution && solution.fit.used > 0 && worst && (
        <Text quiet>{worstWords(solution, allowedDb(station), placeWords(worst.azDeg, worst.elDeg))}</Text>
      )}
      {made && <Text quiet>{madeOf(made)}</Text>}
      <Part head={CORRECT.toTurn} found={of('turn')} say />
      <Part head={CORRECT.notKnown} found={of('open')} why={CORRECT.notKnownWhy} />
    </CorrectFrame>
  )
}

interface PartProps {
  head: string
  found: readonly Found[]
  why?: string
  /** The advice beneath each; in the other groups the heading says it for all, except for what bends or has play. */
  say?: boolean
}

function Part({ head, found, why, say = false }: PartProps) {
  if (found.length === 0) return null
  return (
    <section class="correct-part" aria-label={head}>
      <h2 class="correct-head">{head}</h2>
      {why && <Text quiet>{why}</Text>}
      <div class="found">
        <Rows>
          {found.map(f => (
            <Row
              key={f.key}
              label={f.what}
              note={
                <>
                  <StateShape state={f.state} />
                  {(say || f.advice.kind === 'stiffen' || f.advice.kind === 'slack') && (
                    <span class={say ? 'advice' : 'advice-quiet'}>{f.says}</span>
                  )}
                </>
              }
            >
              {f.value}
            </Row>
          ))}
        </Rows>
      </div>
    </section>
  )
}
