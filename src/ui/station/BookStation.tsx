/** A station made or edited, step by step; nothing is stored before it is valid, and then in one transaction. */
import { useRef, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { installState } from '../../state/readiness.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { Overview } from './BookStationOver.tsx'
import { DishStep, FeedsStep } from './DishSteps.tsx'
import { draftFor, writeDraft } from './draft.ts'
import { type FormView, rowKeys } from './FormFields.tsx'
import { ASKED, STATION_STEPS, type StepId, stepOf } from './fields.ts'
import { readStationForm, withText } from './form.ts'
import { AllowStep, HorizonStep, KnownStep, NameStep } from './LastSteps.tsx'
import { AxisStep, kindOf, MountStep } from './MountSteps.tsx'
import { PlaceStep } from './PlaceStep.tsx'
import { STATION, stepTitle } from './words.ts'

export interface BookStationProps {
  /** The station to be changed; null to make one. */
  station: StationRecord | null
  /** The rest of the address: the step. */
  step: string | undefined
}

export function BookStation({ station, step }: BookStationProps) {
  const draft = draftFor(station)
  const [tried, setTried] = useState<ReadonlySet<string>>(new Set())
  const [triedRows, setTriedRows] = useState<ReadonlySet<string>>(new Set())
  const { form } = draft
  const read = readStationForm(form, station, draft.id)
  const present = STATION_STEPS.find(id => id === step) ?? (draft.isNew && step !== 'over' ? ASKED[0]! : null)
  const view: FormView = {
    form,
    read,
    seen: draft.seen === true,
    tried: present === null || tried.has(present),
    triedRows: present === null ? null : triedRows,
    write: (path, text) => writeDraft(draft, withText(form, path, text)),
    set: next => writeDraft(draft, next),
  }
  const goTo = (id: string) => go(...(station ? ['book', 'edit', station.id, id] : ['book', 'new', id]))
  // A new dish is asked for its first frequency on the same screen.
  const first = draft.isNew ? `feeds.${form.rows.feeds[0]?.key}.frequencyMHz` : null
  const shows = (id: StepId, path: string) => stepOf(path) === id || (id === 'dish' && path === first)
  const faultsOf = (id: StepId) => Object.keys(read.atField).filter(path => shows(id, path)).length
  if (present === null) return <Overview draft={draft} station={station} view={view} goTo={goTo} faultsOf={faultsOf} />
  return (
    <StationStep
      key={present}
      id={present}
      view={view}
      isNew={draft.isNew}
      faults={faultsOf(present)}
      onTried={() => {
        setTried(new Set([...tried, present]))
        setTriedRows(rowKeys(form))
      }}
      goTo={goTo}
      station={station}
    />
  )
}

interface StationStepProps {
  id: StepId
  view: FormView
  isNew: boolean
  faults: number
  onTried: () => void
  goTo: (id: string) => void
  station: StationRecord | null
}

function StationStep({ id, view, isNew, faults, onTried, goTo, station }: StationStepProps) {
  const body = useRef<HTMLDivElement>(null)
  // The three questions lead on; every other line leads back to the review.
  const asked = isNew && !view.seen ? ASKED.indexOf(id) : -1
  const following = asked < 0 ? null : (ASKED[asked + 1] ?? null)
  const kind = kindOf(view)
  const onward = () => goTo(following ?? 'over')
  const stuck = view.tried && faults > 0
  return (
    <Screen
      title={stepTitle(id, kind)}
      {...(asked >= 0 && { utc: STATION.stepOf(asked + 1, ASKED.length) })}
      present="book"
      onGo={place => go(place)}
      action={
        <Action
          onPress={() => {
            onTried()
            if (faults === 0) onward()
            // The first field that says "Not yet", after it has been drawn.
            else
              setTimeout(() => {
                const first = body.current?.querySelector<HTMLElement>('[data-fault] :is(input, textarea)')
                first?.focus()
              }, 0)
          }}
        >
          {following ? STATION.next(stepTitle(following, kind)) : STATION.toOverview}
        </Action>
      }
    >
      <DemoMark station={station} />
      <div class="book-form" ref={body}>
        {asked === 0 && installState() === 'ios-tab' && <Notice state="stop">{STATION.installFirst}</Notice>}
        <StepBody id={id} view={view} isNew={isNew} />
        {asked === 0 && <Text quiet>{STATION.howLong}</Text>}
        {stuck && isNew && <SecondaryButton onPress={onward}>{STATION.later}</SecondaryButton>}
      </div>
    </Screen>
  )
}

function StepBody({ id, view, isNew }: { id: StepId; view: FormView; isNew: boolean }) {
  switch (id) {
    case 'name':
      return <NameStep view={view} />
    case 'place':
      return <PlaceStep view={view} />
    case 'dish':
      return <DishStep view={view} isNew={isNew} />
    case 'feeds':
      return <FeedsStep view={view} />
    case 'mount':
      return <MountStep view={view} />
    case 'lower':
      return <AxisStep view={view} axis="lower" />
    case 'upper':
      return <AxisStep view={view} axis="upper" />
    case 'allow':
      return <AllowStep view={view} />
    case 'horizon':
      return <HorizonStep view={view} />
    case 'known':
      return <KnownStep view={view} />
  }
}
