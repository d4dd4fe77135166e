/** Before the search: how far the Sun may be, how many steps that is, what should be heard, and what makes it shorter. */
import { isOffsetFed } from '../../core/records/guesses.ts'
import { chooseTarget } from '../../state/pointing.ts'
import { Action } from '../kit/buttons.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { isLong, type PlannedProps, SECONDS_KIND, stepsInside } from './form.ts'
import { SearchCaution } from './SearchCaution.tsx'
import { SearchPlot } from './SearchPlot.tsx'
import {
  extentWords,
  longSearchWords,
  lowWords,
  riseWhy,
  riseWords,
  SEARCH,
  skippedWords,
  TOO_WEAK,
  timeWords,
} from './words.ts'

export function SearchStart({ station, form, set, plan, onBegin }: PlannedProps & { onBegin: () => void }) {
  const count = stepsInside(plan).length
  const isSure = plan.state === 'search' && plan.steps.length === 1
  const canShadow = !isOffsetFed(station)
  const toSun = () => {
    chooseTarget({ type: 'sun' })
    go('sight')
  }
  return (
    <SunFrame
      station={station}
      title={MORE_WAYS.search}
      side={
        <>
          {plan.state === 'search' && !isSure && (
            <NumberField
              label={SEARCH.seconds}
              kind={SECONDS_KIND}
              text={form.seconds}
              hint={SEARCH.secondsHint}
              onText={seconds => set({ seconds })}
            />
          )}
          <HelpLine>
            {[...SEARCH.help, riseWhy(plan), SEARCH.moon[plan.moon]].filter(Boolean).map(text => (
              <p key={text}>{text}</p>
            ))}
          </HelpLine>
        </>
      }
      action={
        isSure ? (
          <Action onPress={toSun}>{SEARCH.toSun}</Action>
        ) : (
          <Action
            notNow={plan.state === 'sun-low' ? lowWords(plan) : plan.state === 'no-pose' ? SEARCH.noPose : null}
            onPress={onBegin}
          >
            {SEARCH.begin}
          </Action>
        )
      }
    >
      {isSure ? (
        <>
          <Sentence strong>{SEARCH.sure}</Sentence>
          <Text>{SEARCH.sureWhy}</Text>
        </>
      ) : (
        <>
          <Text>{SEARCH.why}</Text>
          {plan.state === 'no-pose' && <Notice state="look-out">{SEARCH.noPoseWhy}</Notice>}
          {plan.state === 'search' && (
            <>
              <BigNumber value={String(count)} unit={SEARCH.steps} size={2} beside={timeWords(plan)} />
              <Text>{extentWords(plan)}</Text>
              <SearchPlot steps={plan.steps} here={null} done={0} />
              {skippedWords(plan) && <Text quiet>{skippedWords(plan)}</Text>}
            </>
          )}
        </>
      )}
      <Text>{riseWords(plan)}</Text>
      {plan.rise.isHeard === false && <Notice state="look-out">{TOO_WEAK}</Notice>}
      {plan.state === 'search' && isLong(plan) && (
        <section class="correct-part" aria-label={SEARCH.quicker}>
          <Notice state="next" word={SEARCH.quicker}>
            {longSearchWords(plan, canShadow)}
          </Notice>
          <RowButton label={SEARCH.sunline} onPress={() => go('mount', 'sunline')} />
          <RowButton label={SEARCH.heading} onPress={() => go('mount', 'heading')} />
          {canShadow && <RowButton label={SEARCH.noon} onPress={() => go('sight', 'noon')} />}
        </section>
      )}
      <FeedInUse station={station} />
      <SearchCaution station={station} />
    </SunFrame>
  )
}
