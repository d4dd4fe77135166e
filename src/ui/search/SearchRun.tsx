/** While the search runs: the two readings of the step, large; nothing here, or heard. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { trueNow } from '../../state/ask.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { askStep, heardSighting, keepScreenOn } from '../../state/search.ts'
import { faultsOfSighting, keepSighting } from '../../state/sightings.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { NONE } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Refused, useKeep } from '../kit/keep.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { capital, dialled, readingDecimals } from '../kit/phrases.ts'
import { readingLabel } from '../kit/readings.ts'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { emptySearch, type PlannedProps, presentStep, stepsInside } from './form.ts'
import { SearchCaution } from './SearchCaution.tsx'
import { SearchPlot } from './SearchPlot.tsx'
import { expectedRiseWords, riseWhy, SEARCH, searchStepWords, skippedWords, whereWords } from './words.ts'

/** The Sun moves a twentieth of a degree in that time. */
const FRESH_MS = 10_000

export function SearchRun({ station, form, set, plan, feed }: PlannedProps) {
  const steps = useMemo(() => stepsInside(plan), [plan])
  const step = presentStep(form, steps)
  const { keep, refused } = useKeep()
  const waits = fieldBook.unsaved.value.length > 0
  useEffect(keepScreenOn, [])
  const tick = Math.floor(trueNow.value / FRESH_MS)
  const solve = useSolveKey(station)
  const { told, value } = useAsked(step === null ? null : `${solve} ${feed} ${plan.startedUtc} ${step} ${tick}`, () =>
    askStep(station, { feed, startedUtc: plan.startedUtc, step: step! }),
  )
  const at = value?.step === step ? value : null
  const isLost = told?.kind === 'told' && told.value === null
  const [fault, setFault] = useState<string | null>(null)
  const heard = () => {
    if (at === null) return
    const id = newId()
    const shown = { lower: shownReading(station, 'lower', at.lower), upper: shownReading(station, 'upper', at.upper) }
    const sighting = heardSighting(station, feed, shown, plan.sigmaDeg, id, SEARCH.note)
    const [first] = faultsOfSighting(station, sighting)
    setFault(first?.rule ?? null)
    if (first === undefined) {
      set({ heard: id })
      void keep(() => keepSighting(station, sighting))
    }
  }
  if (step === null) return <SearchDone station={station} plan={plan} set={set} form={form} feed={feed} />
  return (
    <SunFrame
      station={station}
      title={searchStepWords(form.at, steps.length)}
      side={
        <>
          <SearchPlot steps={plan.steps} here={step} done={step} />
          <Text quiet>{capital(whereWords(plan.steps[step]!))}.</Text>
          <ButtonRow>
            {form.at > 0 && <SecondaryButton onPress={() => set({ at: form.at - 1 })}>{SEARCH.back}</SecondaryButton>}
            <SecondaryButton onPress={() => set({ ...emptySearch(), seconds: form.seconds })}>
              {SEARCH.stop}
            </SecondaryButton>
          </ButtonRow>
          <HelpLine>
            {[SEARCH.agc, ...SEARCH.help, riseWhy(plan), skippedWords(plan), SEARCH.moon[plan.moon]]
              .filter(text => text !== null && text !== '')
              .map(text => (
                <p key={text}>{text}</p>
              ))}
          </HelpLine>
        </>
      }
      action={<Action onPress={() => set({ at: form.at + 1 })}>{SEARCH.next}</Action>}
    >
      <div class="search-run">
        <Reading station={station} axis="lower" value={at?.lower} />
        <Reading station={station} axis="upper" value={at?.upper} />
        {isLost && <Notice state="look-out">{SEARCH.stepLost}</Notice>}
        {at && !at.isUp && <Notice state="look-out">{SEARCH.low}</Notice>}
        <Text>{expectedRiseWords(plan)}</Text>
        <Refused why={fault ?? refused} />
        <ButtonRow>
          <SecondaryButton disabled={at === null || waits} onPress={heard}>
            {SEARCH.heard}
          </SecondaryButton>
        </ButtonRow>
        <SearchCaution station={station} />
      </div>
    </SunFrame>
  )
}

function Reading({ station, axis, value }: { station: StationRecord; axis: Axis; value: number | undefined }) {
  const { mount } = station
  return (
    <BigNumber
      axis={axis}
      size={1}
      label={readingLabel(mount, axis)}
      value={value === undefined ? NONE : dialled(mount, axis, value).value}
    />
  )
}

/** Rounded as it was shown. */
const shownReading = ({ mount }: StationRecord, axis: Axis, value: number): number =>
  Number(value.toFixed(readingDecimals(mount, axis)))

/** Every step was looked at. */
function SearchDone({ station, form, set }: PlannedProps) {
  return (
    <SunFrame
      station={station}
      title={MORE_WAYS.search}
      action={<Action onPress={() => set({ ...emptySearch(), seconds: form.seconds })}>{SEARCH.again}</Action>}
    >
      <Sentence strong>{SEARCH.done}</Sentence>
      {SEARCH.doneWhy.map(text => (
        <Text key={text}>{text}</Text>
      ))}
      <ButtonRow>
        <SecondaryButton onPress={() => set({ at: form.at - 1 })}>{SEARCH.back}</SecondaryButton>
      </ButtonRow>
    </SunFrame>
  )
}
