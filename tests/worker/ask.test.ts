import { describe, expect, it } from 'vitest'
import { type Answering, createAsker } from '../../src/worker/ask.ts'
import { answerTo, type Question, type Reply } from '../../src/worker/route.ts'

/** A worker whose answers the test releases one by one. */
function bench() {
  const workers: (Answering & {
    got: Question[]
    ended: boolean
    reply: (answer: unknown) => void
    die: () => void
  })[] = []
  const start = () => {
    const worker = {
      got: [] as Question[],
      ended: false,
      onmessage: null as Answering['onmessage'],
      onerror: null as Answering['onerror'],
      onmessageerror: null,
      postMessage(message: Question) {
        this.got.push(message)
      },
      terminate() {
        this.ended = true
      },
      reply(answer: unknown) {
        this.onmessage?.({ data: { id: this.got.at(-1)!.id, answer } as Reply } as MessageEvent<Reply>)
      },
      die() {
        this.onerror?.({ message: 'gone' } as ErrorEvent)
      },
    }
    workers.push(worker)
    return worker
  }
  return { workers, start }
}

describe('ask', () => {
  it('gives the answer to the question', async () => {
    const { workers, start } = bench()
    const asked = createAsker(start).ask('solve', 'solve', [1, 'two'])
    expect(workers[0]!.got).toEqual([{ id: 1, question: 'solve', args: [1, 'two'] }])
    workers[0]!.reply(42)
    expect(await asked).toEqual({ kind: 'answer', value: 42 })
  })

  it('lets the latest of ten questions of a topic win: the worker works twice, not ten times', async () => {
    const { workers, start } = bench()
    const asker = createAsker(start)
    const asked = Array.from({ length: 10 }, (_, i) => asker.ask('solve', 'solve', [i]))
    workers[0]!.reply('first, outdated')
    workers[0]!.reply('last')
    const kinds = (await Promise.all(asked)).map(a => a.kind)
    expect(kinds).toEqual([...Array(9).fill('overtaken'), 'answer'])
    expect(await asked[9]).toEqual({ kind: 'answer', value: 'last' })
    expect(workers[0]!.got.map(q => q.args)).toEqual([[0], [9]])
  })

  it('does not let one topic overtake another', async () => {
    const { workers, start } = bench()
    const asker = createAsker(start)
    const one = asker.ask('solve', 'solve', [])
    const two = asker.ask('targets', 'targets', [])
    workers[0]!.reply(1)
    workers[0]!.reply(2)
    expect([await one, await two]).toEqual([
      { kind: 'answer', value: 1 },
      { kind: 'answer', value: 2 },
    ])
  })

  it('starts a dead worker again once with the same question', async () => {
    const { workers, start } = bench()
    const asked = createAsker(start).ask('solve', 'solve', ['x'])
    workers[0]!.die()
    expect(workers[0]!.ended).toBe(true)
    expect(workers[1]!.got[0]!.args).toEqual(['x'])
    workers[0]!.reply('a late voice is not heard')
    workers[1]!.reply('fine')
    expect(await asked).toEqual({ kind: 'answer', value: 'fine' })
  })

  it("says 'worker-lost' when it dies twice, and the next question gets a fresh worker", async () => {
    const { workers, start } = bench()
    const asker = createAsker(start)
    const asked = asker.ask('solve', 'solve', [])
    workers[0]!.die()
    workers[1]!.die()
    expect(await asked).toEqual({ kind: 'failed', why: 'worker-lost', message: 'gone' })
    const again = asker.ask('solve', 'solve', [])
    workers[2]!.reply(3)
    expect(await again).toEqual({ kind: 'answer', value: 3 })
  })

  it('does not wait for ever for a silent worker', async () => {
    const { workers, start } = bench()
    const asked = await createAsker(start, 10).ask('solve', 'solve', [])
    expect(asked).toMatchObject({ kind: 'failed', why: 'worker-lost' })
    expect(workers.map(w => w.ended)).toEqual([true, true])
  })

  it('answers even where no worker can be started', async () => {
    const asker = createAsker(() => {
      throw new Error('no workers here')
    })
    expect(await asker.ask('solve', 'solve', [])).toMatchObject({ kind: 'failed', why: 'worker-lost' })
  })
})

describe('answerTo', () => {
  const questions = { twice: (x: unknown) => 2 * (x as number), broken: () => JSON.parse('{') }

  it('routes by name', () => {
    expect(answerTo(questions, { id: 7, question: 'twice', args: [4] })).toEqual({ id: 7, answer: 8 })
  })
  it('turns an exception, and an unknown name, into a typed failure', () => {
    expect(answerTo(questions, { id: 1, question: 'broken', args: [] })).toMatchObject({
      failed: expect.stringMatching(/SyntaxError/),
    })
    expect(answerTo(questions, { id: 1, question: 'toString', args: [] })).toMatchObject({
      failed: expect.stringMatching(/no such question/),
    })
  })
})
