/** The worker that reads codes out of a camera's pictures: one takes up to a tenth of a second on a phone. */
import { codeIn, type Picture } from '../core/handover/seen.ts'

self.addEventListener('message', ({ data }: MessageEvent<Picture>) => {
  self.postMessage(codeIn(data))
})
