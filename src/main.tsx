/** Start: styles, the book, the app. */
import './trusted.ts'
import { effect } from '@preact/signals'
import { render } from 'preact'
import { firstScreenStands, sayAlive } from './starting.ts'
import { fieldBook } from './state/book.ts'
import { waitingClock } from './state/rehearsalkept.ts'
import { plugService } from './state/service.ts'
import { App } from './ui/App.tsx'
import { loadOtherPlaces } from './ui/places/places.ts'
import './ui/kit/face.css'

/** Starts the service; tries once more a minute later where the host did not send that part. */
const serve = (): Promise<unknown> =>
  import('./service.ts').then(
    service => {
      plugService(service)
      return service.startService()
    },
    () => setTimeout(serve, 60_000),
  )

/** What only an invented station needs, loaded when one is shown: its own clock, the simulated dish. */
const followInvented = () =>
  effect(() => {
    const station = fieldBook.station.value
    waitingClock.show(station) // at once: the rest may be long in coming
    const { demo, rehearsal } = station ?? {}
    const later = demo
      ? import('./state/demotime.ts').then(time => time.followDemoTime())
      : rehearsal && import('./ui/rehearse/always.tsx').then(always => always.rehearse())
    if (later) later.catch(() => {})
  })

const root = document.getElementById('app')
if (root) {
  sayAlive()
  fieldBook.start()
  const opened = fieldBook.load()
  const drawn = () => {
    document.getElementById('not-started')?.remove()
    firstScreenStands(import.meta.url)
  }
  followInvented()
  render(<App onDrawn={drawn} />, root)
  // Safari before 26 has no idle callback.
  const atRest = window.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 500))
  // After the first screen, so that nothing competes with it.
  void opened.finally(() => {
    import('./store/writing.ts').catch(() => {}) // now: there may be no network later
    atRest(() => {
      void serve()
      void loadOtherPlaces()
    })
  })
}
