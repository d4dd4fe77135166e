/** The review of a station: each step with what it says, and the one action that keeps it all. */
import { useEffect, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isOffsetFed } from '../../core/records/guesses.ts'
import { recordId } from '../../core/records/kinds.ts'
import { locatorFromPlace } from '../../core/records/locator.ts'
import { fieldBook, stationEntry } from '../../state/book.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { countOf, decibels, fixed, NBSP, seenText } from '../kit/format.ts'
import { backToStep } from '../kit/guided.ts'
import { ifStillHere } from '../kit/keep.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { failureWords, MOUNT_WORDS } from '../kit/phrases.ts'
import { READOUT_WORDS } from '../kit/readoutwords.ts'
import { Screen } from '../kit/Screen.tsx'
import { FAILURE } from '../kit/storewords.ts'
import { FailureDetails, noteTry } from '../kit/TryAgain.tsx'
import { dropDraft, noteSeen, type StationDraft } from './draft.ts'
import type { FormView } from './FormFields.tsx'
import { STATION_STEPS, type StepId } from './fields.ts'
import { costOf, guessedWord } from './guesswords.ts'
import { kindOf } from './MountSteps.tsx'
import { DISH, placeOfFault, STATION, stepTitle } from './words.ts'

interface OverviewProps {
  draft: StationDraft
  station: StationRecord | null
  view: FormView
  goTo: (id: string) => void
  faultsOf: (id: StepId) => number
}

export function Overview({ draft, station, view, goTo, faultsOf }: OverviewProps) {
  const [busy, setBusy] = useState(false)
  const [refused, setRefused] = useState<string | null>(null)
  const { id, base } = draft
  useEffect(() => (base === undefined ? undefined : fieldBook.openForm(recordId('station', id), base)), [id, base])
  useEffect(() => {
    if (draft.touched) noteSeen(draft)
  }, [draft])
  const { read } = view
  const open = Object.keys(read.atField).length + read.elsewhere.length
  const { unsaved } = fieldBook
  const failed = unsaved.value.find(one => one.drafts.some(d => d.kind === 'station' && d.station === draft.id))
  const kind = kindOf(view)
  const name = draft.form.texts.name ?? ''

  const keep = async () => {
    setBusy(true)
    const where = location.hash
    // What failed before is written as it stands now: it may have been corrected since.
    if (failed) fieldBook.discardUnsaved(failed)
    const kept = await fieldBook.keep(
      { kind: draft.isNew ? 'make-station' : 'change-station', place: 'book', subject: { station: id, name } },
      [stationEntry(read.candidate)],
    )
    setBusy(false)
    if (kept.kind === 'done') {
      noteTry(null)
      fieldBook.chooseStation(draft.id)
      dropDraft()
      // A new station leads to its alignment; an edit that a step asked for leads back to that step.
      ifStillHere(where, draft.isNew ? () => go('align') : backToStep(() => go('book')))
    } else {
      setRefused(kept.kind === 'refused' ? failureWords(kept) : null)
      if (failed) noteTry(kept)
    }
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
      {refused !== null && (
        <Notice state="stop" live="alert">
          {refused}
        </Notice>
      )}
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
      {draft.isNew && open === 0 && <Text>{STATION.overGuesses}</Text>}
      <div>
        {STATION_STEPS.map(id => {
          const faults = faultsOf(id)
          const cost = faults > 0 ? null : costOf(read.candidate, id)
          return (
            <button key={id} type="button" class="row-button over-row" onClick={() => goTo(id)}>
              <span>{stepTitle(id, kind)}</span>
              <strong>
                {faults > 0
                  ? STATION.wrong(faults)
                  : `${summaryOf(read.candidate, id)}${cost === null ? '' : `, ${guessedWord(id)}`}`}
              </strong>
              {cost !== null && <small class="over-cost">{cost}</small>}
            </button>
          )
        })}
      </div>
      {draft.isNew ? <Text quiet>{STATION.dropped}</Text> : <Text quiet>{STATION.changedAtDish}</Text>}
      {draft.touched && (
        <SecondaryButton
          stop
          onPress={() => {
            dropDraft()
            go('book')
          }}
        >
          {STATION.drop}
        </SecondaryButton>
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
      return `${fixed(dish.diameterM, 2)}${NBSP}m, ${isOffsetFed(station) ? DISH.offset.toLowerCase() : `f/D${NBSP}${fixed(dish.focalRatio, 2)}`}`
    case 'feeds':
      return countOf(station.feeds.length, 'feed')
    case 'mount':
      return MOUNT_WORDS[mount.kind]
    case 'lower':
    case 'upper':
      return READOUT_WORDS[mount[id].readout.type].word
    case 'allow':
      return station.tolerance?.echoLossDb === undefined ? STATION.optional : decibels(station.tolerance.echoLossDb)
    case 'horizon':
      return station.horizonMask?.length ? countOf(station.horizonMask.length, 'point') : STATION.optional
    case 'known':
      return station.priors?.length ? countOf(station.priors.length, 'value') : STATION.optional
  }
}
