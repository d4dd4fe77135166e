/** The worker: a thin router over the core's one door. A question in, an answer out, plain JSON both ways. */
import * as questions from '../core/questions.ts'
import { answerTo } from './route.ts'

self.addEventListener('message', (event: MessageEvent) => {
  self.postMessage(answerTo(questions as never, event.data))
})
