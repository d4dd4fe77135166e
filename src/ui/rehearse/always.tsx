/**
 * What every screen carries while a rehearsal is shown: the band, and the sheet of the dish at hand. Loaded with the first rehearsal
 * that is shown; a real station never loads it.
 */
import { effect } from '@preact/signals'
import { render } from 'preact'
import { fieldBook } from '../../state/book.ts'
import { waitingClock } from '../../state/rehearsalkept.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { IdsBeginWith } from '../kit/ids.ts'
import { saidEverywhere } from '../kit/Screen.tsx'
import { watchFields } from './filling.ts'
import { RehearsalBand } from './RehearsalBand.tsx'
import { Sheet } from './Sheet.tsx'
import './rehearse.css'

let begun = false

/** For as long as the page lives; once. */
export function rehearse(): void {
  if (begun) return
  begun = true
  waitingClock.take()
  effect(() => rehearsal.show(fieldBook.station.value))
  addEventListener('pagehide', rehearsal.save)
  document.addEventListener('visibilitychange', rehearsal.save)
  watchFields(document)
  const host = document.createElement('div')
  host.id = 'rehearsal'
  document.body.append(host)
  render(
    <IdsBeginWith value="rehearsal-">
      <Sheet />
    </IdsBeginWith>,
    host,
  )
  saidEverywhere.value = [...saidEverywhere.value, RehearsalBand]
}
