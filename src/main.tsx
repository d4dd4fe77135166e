/** Start: styles, the book, the app. */
import './trusted.ts'
import { render } from 'preact'
import {
  applyUpdate,
  fellBack,
  firstScreenStands,
  measuring,
  mendOffline,
  offlineState,
  refused,
  sayAlive,
  startService,
  tryNewest,
  update,
} from './service.ts'
import { fieldBook } from './state/book.ts'
import { plugService } from './state/service.ts'
import { loadOtherPlaces } from './ui/places/places.ts'

// After the places: the other way round the builder cuts the code of the first screen in two files.

import { App } from './ui/App.tsx'
import './ui/kit/face.css'

const root = document.getElementById('app')
if (root) {
  sayAlive()
  fieldBook.start()
  const opened = fieldBook.load()
  plugService({ applyUpdate, fellBack, measuring, mendOffline, offlineState, refused, tryNewest, update })
  const drawn = () => {
    document.getElementById('not-started')?.remove()
    firstScreenStands(import.meta.url)
  }
  render(<App onDrawn={drawn} />, root)
  // Safari before 26 has no idle callback.
  const atRest = window.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 500))
  // Nothing competes with the first screen.
  void opened.finally(() =>
    atRest(() => {
      void startService()
      void loadOtherPlaces()
    }),
  )
}
