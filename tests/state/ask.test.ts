import { effect, signal } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { type Told, trueNowMs, watched } from '../../src/state/ask.ts'

const station = (id: string, name = id) => ({ id, name }) as StationRecord
const soon = () => new Promise(resolve => setTimeout(resolve, 5))

function bench() {
  const asked: { name: string; feed: string; reply: (told: Told<string>) => void }[] = []
  const current = signal<StationRecord | null>(station('s'))
  const feed = signal('a')
  const { held, refresh } = watched({
    station: current,
    about: () => ({ feed: feed.value }),
    ask: ({ name }, about) => new Promise<Told<string>>(reply => asked.push({ name, ...about, reply })),
    ageMs: 600_000,
    clock: () => 0,
  })
  return { asked, current, feed, held, refresh }
}
const told = (value: string): Told<string> => ({ kind: 'told', value })

describe('a watched question', () => {
  it('asks only while something watches', async () => {
    const { asked, current, held } = bench()
    await soon()
    expect(asked).toHaveLength(0)
    const stop = effect(() => void held.value)
    await soon()
    expect(asked.map(a => a.name)).toEqual(['s'])
    stop()
    current.value = station('s', 'changed')
    await soon()
    expect(asked).toHaveLength(1)
  })

  it('keeps the old solution, marked stale, until the new one comes; the latest wins', async () => {
    const { asked, current, held } = bench()
    const stop = effect(() => void held.value)
    await soon()
    asked[0]!.reply(told('first'))
    await soon()
    expect(held.value).toMatchObject({ stale: false, value: 'first' })
    current.value = station('s', 'second')
    current.value = station('s', 'third')
    expect(held.value).toMatchObject({ stale: true, value: 'first' })
    asked[2]!.reply(told('third'))
    await soon()
    asked[1]!.reply(told('second, too late'))
    await soon()
    expect(held.value).toMatchObject({ stale: false, value: 'third' })
    stop()
  })

  it('does not ask the same again while the answer is young: going from screen to screen costs nothing', async () => {
    const { asked, current, held, refresh } = bench()
    const watch = async () => {
      const stop = effect(() => void held.value)
      await soon()
      return stop
    }
    const first = await watch()
    asked[0]!.reply(told('s'))
    await soon()
    first()
    const second = await watch()
    expect(asked).toHaveLength(1)
    expect(held.value).toMatchObject({ stale: false, value: 's' })
    refresh()
    expect(asked).toHaveLength(2)
    second()
    current.value = station('s', 'changed')
    await watch()
    expect(asked).toHaveLength(3)
  })

  it('never shows the solution of another station', async () => {
    const { asked, current, held } = bench()
    const stop = effect(() => void held.value)
    await soon()
    asked[0]!.reply(told('s'))
    await soon()
    current.value = station('t')
    expect(held.value).toMatchObject({ station: { id: 't' }, value: null, stale: true })
    current.value = null
    expect(held.value).toMatchObject({ station: null, stale: false })
    stop()
  })

  it('tells a fault of the book from a broken worker', async () => {
    const { asked, held, refresh } = bench()
    const stop = effect(() => void held.value)
    await soon()
    asked[0]!.reply({ kind: 'failed', why: 'refused', message: 'x: y', faults: [{ path: 'x', rule: 'y' }] })
    await soon()
    expect(held.value).toMatchObject({ stale: false, faults: [{ path: 'x' }], failure: null })
    refresh()
    asked[1]!.reply({ kind: 'failed', why: 'worker-lost', message: 'gone', faults: [] })
    await soon()
    expect(held.value.failure).toEqual({ why: 'worker-lost', message: 'gone' })
    stop()
  })

  it('is asked again for another feed, and the value says which feed it is for', async () => {
    const { asked, feed, held } = bench()
    const stop = effect(() => void held.value)
    await soon()
    asked[0]!.reply(told('through a'))
    await soon()
    feed.value = 'b'
    expect(asked.map(a => a.feed)).toEqual(['a', 'b'])
    expect(held.value).toMatchObject({ stale: true, value: 'through a', about: { feed: 'a' } })
    asked[1]!.reply(told('through b'))
    await soon()
    expect(held.value).toMatchObject({ stale: false, value: 'through b', about: { feed: 'b' } })
    stop()
  })
})

describe('trueNowMs', () => {
  it('is the clock’s own without a check, and 4 s earlier by a check that found the clock 4 s ahead, for a day', () => {
    const utc = '2026-05-01T10:00:00Z'
    const checked = { clockChecks: [{ id: 'c', utc, offsetS: 4, sigmaS: 0.2, by: 'typed' }] }
    const ms = Date.parse(utc) + 3_600_000
    expect(trueNowMs({}, ms)).toBe(ms)
    expect(trueNowMs(checked, ms)).toBe(ms - 4000)
    expect(trueNowMs(checked, ms + 24 * 3_600_000)).toBe(ms + 24 * 3_600_000)
  })
})

describe('a watched question with a tick', () => {
  it('is asked again at the tick after its answer has aged, and not again while that is on its way', async () => {
    let asked = 0
    let reply: (told: Told<string>) => void = () => {}
    let ms = 0
    let ageMs = 400
    const tick = signal(0)
    const { held } = watched({
      station: signal(station('s')),
      about: () => ({}),
      ask: () => {
        asked++
        return new Promise<Told<string>>(answer => {
          reply = answer
        })
      },
      ageMs: () => ageMs,
      tick,
      clock: () => ms,
    })
    const stop = effect(() => void held.value)
    await soon()
    reply(told('first'))
    await soon()
    ms = 399
    tick.value++
    expect(asked).toBe(1)
    ageMs = 300
    tick.value++
    expect(asked).toBe(2)
    ms = 5000
    tick.value++
    expect(asked).toBe(2)
    expect(held.value).toMatchObject({ stale: true, value: 'first' })
    stop()
    tick.value++
    expect(asked).toBe(2)
  })
})
