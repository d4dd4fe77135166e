/** The messages between page and worker, and the routing of one. */

export interface Question {
  id: number
  question: string
  args: unknown[]
}
/** `failed` is the text of an exception: a mistake of ours, not something that happens in the field. */
export type Reply = { id: number; answer: unknown } | { id: number; failed: string }

export function answerTo(questions: Record<string, (...args: unknown[]) => unknown>, asked: Question): Reply {
  const { id, question, args } = asked
  try {
    const answering = Object.hasOwn(questions, question) ? questions[question] : undefined
    if (typeof answering !== 'function') return { id, failed: `no such question: ${question}` }
    return { id, answer: answering(...args) }
  } catch (error) {
    return { id, failed: error instanceof Error ? `${error.name}: ${error.message}` : String(error) }
  }
}
