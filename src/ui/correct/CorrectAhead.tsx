/** The sightings of the coming days, drawn along the paths: which bring most, when more no longer pays, when to come back. */
import { useMemo } from 'preact/hooks'
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { CampaignJson, CampaignStepJson } from '../../core/plan/campaignjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { trueNow } from '../../state/ask.ts'
import { campaign } from '../../state/campaign.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { bodiesNow, landscape } from '../../state/sky.ts'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { allowedDecibels, countOf } from '../kit/format.ts'
import { LOSS, lossDigits, lossWords } from '../kit/loss.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { goToStep } from '../kit/WorthBox.tsx'
import { fromTo, worthHead, worthWhere } from '../kit/worthwords.ts'
import { afterWords, backWords, enoughWords, leavesShort, paysWords } from './aheadwords.ts'
import { aheadOf, minuteOf } from './drawings.ts'
import { SkyDomePlot } from './SkyDomePlot.tsx'
import { CORRECT } from './words.ts'

export function CorrectAhead({ station }: { station: StationRecord }) {
  const plan = campaign.value?.feed === feedHere(station) ? campaign.value : null
  const land = landscape.value
  const bodies = bodiesNow.value
  const minute = minuteOf(bodies)
  const dome = useMemo(
    () => (land && plan ? aheadOf(station, land, bodies, plan) : null),
    [station, land, plan, minute],
  )
  const pays = plan && paysWords(plan)
  const back = plan && backWords(plan)
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.ahead}
      side={
        plan && (
          <>
            <Steps head={CORRECT.aheadToday} why={CORRECT.aheadTodayWhy} steps={plan.today} station={station} />
            <Steps head={CORRECT.aheadRanked} steps={plan.ranked} station={station} />
          </>
        )
      }
    >
      {plan === null && <Text>{SOLVING.computing}</Text>}
      {plan && <Head plan={plan} />}
      {plan && (
        <Text>
          {enoughWords(plan)} {pays}
        </Text>
      )}
      {back && (
        <section class="correct-part" aria-label={CORRECT.aheadBack}>
          {back.map(text => (
            <Text key={text}>{text}</Text>
          ))}
        </section>
      )}
      {dome && <SkyDomePlot dome={dome} />}
      {dome && <Text quiet>{CORRECT.aheadKey}</Text>}
    </CorrectFrame>
  )
}

/** What today's sightings leave together, large; beside what it is now, and what is allowed. */
function Head({ plan }: { plan: CampaignJson }) {
  const last = plan.today.at(-1)
  if (last === undefined) return <Sentence strong>{CORRECT.aheadNone}</Sentence>
  if (isBeamOffTarget(last.afterDb))
    return (
      <Sentence strong>
        {countOf(plan.today.length, 'sighting')}.{' '}
        {fromTo({ beforeDb: plan.nowDb, beforeDeg: plan.nowDeg, afterDb: last.afterDb, afterDeg: last.afterDeg })}
      </Sentence>
    )
  return (
    <div class="loss">
      <Sentence strong>{afterWords(plan)}</Sentence>
      <BigNumber
        size={2}
        value={lossDigits(last.afterDb, plan.allowedDb)}
        unit="dB"
        beside={
          <>
            now {lossWords(plan.nowDb, plan.allowedDb)}
            <br />
            {LOSS.allowed(allowedDecibels(plan.allowedDb))}
          </>
        }
      />
    </div>
  )
}

interface StepsProps {
  head: string
  why?: string
  steps: readonly CampaignStepJson[]
  station: StationRecord
}

function Steps({ head, why, steps, station }: StepsProps) {
  if (steps.length === 0) return null
  return (
    <section class="correct-part" aria-label={head}>
      <h2 class="correct-head">{head}</h2>
      {why && <Text quiet>{why}</Text>}
      <div>
        {steps.map(s => (
          <RowButton
            key={`${s.step.target} ${s.step.utc}`}
            label={
              <>
                <strong>{worthHead(station.mount, s.step)}</strong>
                <small class="book-small">{worthWhere(station.mount, s.step, trueNow.value)}</small>
              </>
            }
            value={leavesShort(s)}
            onPress={() => void goToStep(s.step)}
          />
        ))}
      </div>
    </section>
  )
}
