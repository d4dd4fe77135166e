import { effect, signal } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { type AskSolve, createAnswer } from '../../src/state/answer.ts'

const station = (id: string, name = id) => ({ id, name }) as StationRecord
const soon = () => new Promise(resolve => setTimeout(resolve, 5))

function bench() {
  const asked: { name: string; now: string; reply: (asked: Awaited<ReturnType<AskSolve>>) => void }[] = []
  const askSolve: AskSolve = (book, now) =>
    new Promise(reply => asked.push({ name: book.stations[0]!.name, now, reply }))
  const current = signal<StationRecord | null>(station('s'))
  const model = createAnswer(current, askSolve, () => 0)
  return { asked, current, model }
}
const solved = (name: string) => ({ kind: 'answer', value: { ok: true, value: { station: name } } }) as never

describe('answer', () => {
  it('asks only while something watches', async () => {
    const { asked, current, model } = bench()
    await soon()
    expect(asked).toHaveLength(0)
    const stop = effect(() => void model.answer.value)
    await soon()
    expect(asked.map(a => a.now)).toEqual(['1970-01-01T00:00:00.000Z'])
    stop()
    current.value = station('s', 'changed')
    await soon()
    expect(asked).toHaveLength(1)
  })

  it('keeps the old solution, marked stale, until the new one comes; the latest wins', async () => {
    const { asked, current, model } = bench()
    const stop = effect(() => void model.answer.value)
    await soon()
    asked[0]!.reply(solved('first'))
    await soon()
    expect(model.answer.value).toMatchObject({ stale: false, solution: { station: 'first' } })
    current.value = station('s', 'second')
    current.value = station('s', 'third')
    expect(model.answer.value).toMatchObject({ stale: true, solution: { station: 'first' } })
    asked[2]!.reply(solved('third'))
    await soon()
    asked[1]!.reply(solved('second, too late'))
    await soon()
    expect(model.answer.value).toMatchObject({ stale: false, solution: { station: 'third' } })
    stop()
  })

  it('does not ask the same again while the answer is young: going from screen to screen costs nothing', async () => {
    const { asked, current, model } = bench()
    const watch = async () => {
      const stop = effect(() => void model.answer.value)
      await soon()
      return stop
    }
    const first = await watch()
    asked[0]!.reply(solved('s'))
    await soon()
    first()
    const second = await watch()
    expect(asked).toHaveLength(1)
    expect(model.answer.value).toMatchObject({ stale: false, solution: { station: 's' } })
    model.refresh()
    expect(asked).toHaveLength(2)
    second()
    current.value = station('s', 'changed')
    await watch()
    expect(asked).toHaveLength(3)
  })

  it('never shows the solution of another station', async () => {
    const { asked, current, model } = bench()
    const stop = effect(() => void model.answer.value)
    await soon()
    asked[0]!.reply(solved('s'))
    await soon()
    current.value = station('t')
    expect(model.answer.value).toMatchObject({ station: 't', solution: null, stale: true })
    current.value = null
    expect(model.answer.value).toMatchObject({ station: null, stale: false })
    stop()
  })

  it('tells a fault of the book from a broken worker', async () => {
    const { asked, model } = bench()
    const stop = effect(() => void model.answer.value)
    await soon()
    asked[0]!.reply({ kind: 'answer', value: { ok: false, faults: [{ path: 'x', rule: 'y' }] } })
    await soon()
    expect(model.answer.value).toMatchObject({ stale: false, faults: [{ path: 'x' }], failure: null })
    model.refresh()
    asked[1]!.reply({ kind: 'failed', why: 'worker-lost', message: 'gone' })
    await soon()
    expect(model.answer.value.failure).toEqual({ why: 'worker-lost', message: 'gone' })
    stop()
  })
})
