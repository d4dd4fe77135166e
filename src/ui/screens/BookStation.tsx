/** A station made or changed, step by step; nothing is stored before it is legal, and then in one transaction. */
import { useRef, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { locatorFromPlace } from '../../core/sky/locator.ts'
import { fieldBook, stationEntry } from '../../state/book.ts'
import { installState } from '../../state/readiness.ts'
import { countOf, decibels, fixed, NBSP, seenText } from '../format.ts'
import { go } from '../navigation.ts'
import { Action, Second } from '../parts/buttons.tsx'
import { DemoMark } from '../parts/DemoMark.tsx'
import { Notice } from '../parts/Notice.tsx'
import { RowButton, Text } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { DishStep, FeedsStep } from '../station/DishSteps.tsx'
import { draftFor, dropDraft, type StationDraft, writeDraft } from '../station/draft.ts'
import type { FormView } from '../station/FormFields.tsx'
import { STEPS, type StepId, stepOf } from '../station/fields.ts'
import { readForm, withText } from '../station/form.ts'
import { AllowStep, HorizonStep, KnownStep, NameStep } from '../station/LastSteps.tsx'
import { AxisStep, kindOf, MountStep } from '../station/MountSteps.tsx'
import { PlaceStep } from '../station/PlaceStep.tsx'
import { placeOfFault } from '../words/book.ts'
import { FAILURE, failureWords, MOUNT_WORDS } from '../words/common.ts'
import { READOUT, STATION, stepTitle } from '../words/station.ts'
import { FailureDetails, noteTry } from './TryAgain.tsx'

export interface BookStationProps {
  /** The station to be changed; null to make one. */
  station: StationRecord | null
  /** The rest of the address: the step. */
  step: string | undefined
}

export function BookStation({ station, step }: BookStationProps) {
  const draft = draftFor(station)
  const [tried, setTried] = useState<ReadonlySet<string>>(new Set())
  const { form } = draft
  const read = readForm(form, station, draft.id)
  const present = STEPS.find(id => id === step) ?? (draft.isNew && step !== 'over' ? 'name' : null)
  const view: FormView = {
    form,
    read,
    tried: present === null || tried.has(present),
    write: (path, text) => writeDraft(draft, withText(form, path, text)),
    set: next => writeDraft(draft, next),
  }
  const goTo = (id: string) => go(...(station ? ['book', 'edit', station.id, id] : ['book', 'new', id]))
  const faultsOf = (id: StepId) => Object.keys(read.atField).filter(path => stepOf(path) === id).length
  if (present === null) return <Overview draft={draft} station={station} view={view} goTo={goTo} faultsOf={faultsOf} />
  return (
    <Step
      key={present}
      id={present}
      view={view}
      isNew={draft.isNew}
      faults={faultsOf(present)}
      onTried={() => setTried(new Set([...tried, present]))}
      goTo={goTo}
      station={station}
    />
  )
}

interface StepProps {
  id: StepId
  view: FormView
  isNew: boolean
  faults: number
  onTried: () => void
  goTo: (id: string) => void
  station: StationRecord | null
}

function Step({ id, view, isNew, faults, onTried, goTo, station }: StepProps) {
  const body = useRef<HTMLDivElement>(null)
  const following = isNew ? (STEPS[STEPS.indexOf(id) + 1] ?? null) : null
  const kind = kindOf(view)
  const onward = () => goTo(following ?? 'over')
  const stuck = view.tried && faults > 0
  return (
    <Screen
      title={stepTitle(id, kind)}
      {...(isNew && { utc: STATION.stepOf(STEPS.indexOf(id) + 1, STEPS.length) })}
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
        {isNew && id === 'name' && installState() === 'ios-tab' && <Notice state="stop">{STATION.installFirst}</Notice>}
        <StepBody id={id} view={view} />
        {isNew && id === 'name' && <Text quiet>{STATION.howLong}</Text>}
        {stuck && isNew && <Second onPress={onward}>{STATION.later}</Second>}
      </div>
    </Screen>
  )
}

function StepBody({ id, view }: { id: StepId; view: FormView }) {
  switch (id) {
    case 'name':
      return <NameStep view={view} />
    case 'place':
      return <PlaceStep view={view} />
    case 'dish':
      return <DishStep view={view} />
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

interface OverviewProps {
  draft: StationDraft
  station: StationRecord | null
  view: FormView
  goTo: (id: string) => void
  faultsOf: (id: StepId) => number
}

function Overview({ draft, station, view, goTo, faultsOf }: OverviewProps) {
  const [busy, setBusy] = useState(false)
  const { read } = view
  const open = Object.keys(read.atField).length + read.elsewhere.length
  const { unsaved } = fieldBook
  const failed = unsaved.value.find(one => one.drafts.some(d => d.kind === 'station' && d.station === draft.id))
  const kind = kindOf(view)
  const name = seenText(draft.form.texts.name ?? '')

  const done = () => {
    fieldBook.chooseStation(draft.id)
    dropDraft()
    go('book')
  }
  const keep = async () => {
    setBusy(true)
    // What failed before is written as it stands now: something may have been put right since.
    if (failed) fieldBook.discardUnsaved(failed)
    const kept = await fieldBook.save(`${draft.isNew ? 'make' : 'change'} ${name}`, [stationEntry(read.candidate)])
    setBusy(false)
    if (kept.kind === 'done') {
      noteTry(null)
      done()
    } else if (failed) noteTry(kept)
  }
  return (
    <Screen
      title={draft.isNew ? STATION.over : STATION.change}
      present="book"
      onGo={place => go(place)}
      action={
        <Action onPress={() => void keep()} notNow={open > 0 ? STATION.open(open) : busy ? STATION.keeping : null}>
          {failed ? FAILURE.retry : STATION.keep}
        </Action>
      }
    >
      <DemoMark station={station} />
      {failed && (
        <Notice state="stop" live="alert">
          {failureWords(failed.failure)}
          <FailureDetails />
        </Notice>
      )}
      {read.elsewhere.length > 0 && (
        <Notice state="stop">
          {STATION.elsewhere}
          <ul class="book-list">
            {read.elsewhere.map(fault => (
              <li key={fault.path}>
                {placeOfFault(fault.path, read.candidate)}: {fault.rule}
              </li>
            ))}
          </ul>
        </Notice>
      )}
      <div>
        {STEPS.map(id => {
          const faults = faultsOf(id)
          return (
            <RowButton
              key={id}
              label={stepTitle(id, kind)}
              value={faults > 0 ? STATION.open(faults) : summaryOf(read.candidate, id)}
              onPress={() => goTo(id)}
            />
          )
        })}
      </div>
      {draft.isNew ? <Text quiet>{STATION.dropped}</Text> : <Text quiet>{STATION.changedAtDish}</Text>}
      {draft.touched && (
        <Second
          stop
          onPress={() => {
            dropDraft()
            go('book')
          }}
        >
          {STATION.drop}
        </Second>
      )}
    </Screen>
  )
}

/** What a step says now, in a few words. Only for a step without faults. */
function summaryOf(station: StationRecord, id: StepId): string {
  const { site, dish, mount } = station
  switch (id) {
    case 'name':
      return seenText(station.name)
    case 'place':
      return locatorFromPlace(site.latDeg, site.lonDeg)
    case 'dish':
      return `${fixed(dish.diameterM, 2)}${NBSP}m, f/D${NBSP}${fixed(dish.focalRatio, 2)}`
    case 'feeds':
      return countOf(station.feeds.length, 'feed')
    case 'mount':
      return MOUNT_WORDS[mount.kind]
    case 'lower':
    case 'upper':
      return READOUT.types[mount[id].readout.type]
    case 'allow':
      return station.tolerance?.echoLossDb === undefined ? STATION.optional : decibels(station.tolerance.echoLossDb)
    case 'horizon':
      return station.horizonMask?.length ? countOf(station.horizonMask.length, 'point') : STATION.optional
    case 'known':
      return station.priors?.length ? countOf(station.priors.length, 'thing') : STATION.optional
  }
}
