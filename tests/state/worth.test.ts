/** Advice on the screens, with a worker that answers when the test lets it. */
import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import { effect } from '@preact/signals'
import { afterAll, expect, it, vi } from 'vitest'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { fieldBook } from '../../src/state/book.ts'
import { keepSighting } from '../../src/state/sightings.ts'
import { worth } from '../../src/state/worth.ts'
import { smallBook } from '../helpers/smallbook.ts'

type Asked = { id: number; question: string }
const asked: Asked[] = []
interface Stub {
  onmessage: ((event: { data: unknown }) => void) | null
  onerror: ((event: { message: string }) => void) | null
}
let worker: Stub | null = null
vi.stubGlobal(
  'Worker',
  class {
    onmessage: Stub['onmessage'] = null
    onerror: Stub['onerror'] = null
    constructor() {
      worker = this
    }
    postMessage(question: Asked) {
      asked.push(question)
    }
    terminate() {}
  },
)
vi.stubGlobal('document', {
  addEventListener: () => {},
  removeEventListener: () => {},
  visibilityState: 'visible',
  hidden: false,
})
afterAll(() => {
  vi.unstubAllGlobals()
  // All files of a process share the one that asks: it must not go on waiting for a worker that never answers.
  worker!.onerror!({ message: 'the test is over' })
})

const soon = () => new Promise(resolve => setTimeout(resolve, 20))
const askedTimes = (n: number) => vi.waitFor(() => expect(asked).toHaveLength(n), { timeout: 20_000 })
/** The worker answers what it was asked last. */
async function answers(head: string): Promise<void> {
  const { id } = asked.at(-1)!
  worker!.onmessage!({ data: { id, answer: { ok: true, value: { feed: head, hpbwDeg: 5, steps: [] } } } })
  await soon()
}

it('is none from the moment that a sighting is kept until it is worked out for it: what was done is not worth doing', async () => {
  await fieldBook.load()
  await bringIn(fieldBook, smallBook() as FieldBook)
  const shown: (string | null)[] = []
  const stop = effect(() => {
    shown.push(worth.value?.feed ?? null)
  })
  await askedTimes(1)
  await answers('first')
  expect(worth.value?.feed).toBe('first')
  const station = fieldBook.station.value!
  await keepSighting(station, { ...station.sightings[0]!, id: 'later', utc: '2026-11-25T13:00:00Z' })
  expect(fieldBook.station.value!.sightings).toHaveLength(station.sightings.length + 1)
  expect(worth.value).toBeNull()
  await askedTimes(2)
  expect(asked.map(a => a.question)).toEqual(['worth', 'worth'])
  expect(worth.value).toBeNull()
  await answers('second')
  expect(worth.value?.feed).toBe('second')
  expect(shown).toEqual([null, 'first', null, 'second'])
  stop()
})
