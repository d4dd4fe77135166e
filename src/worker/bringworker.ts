/** The worker that brings a field book in. One for each book: stopping it is ending it. */
import { createBringing } from './bringing.ts'

const hear = createBringing(said => self.postMessage(said))
self.addEventListener('message', (event: MessageEvent) => {
  void hear(event.data)
})
