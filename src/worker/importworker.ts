/** The worker that imports a field book. One for each book: ending it stops the import. */
import { createImporting } from './importing.ts'

const hear = createImporting(said => self.postMessage(said))
self.addEventListener('message', (event: MessageEvent) => {
  void hear(event.data)
})
