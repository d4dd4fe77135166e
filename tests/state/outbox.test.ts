import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { putOutbox, takeOutbox, type Unsaved } from '../../src/state/outbox.ts'
import { memoryStorage } from '../helpers/memorystorage.ts'

const draft = { id: 'sighting:s/a', kind: 'sighting', station: 's', body: { id: 'a' } } as const
const waiting: Unsaved = {
  step: { kind: 'edit-sighting', place: 'sight', subject: { id: 'a', utcMs: 0 } },
  drafts: [draft],
  failure: { kind: 'unavailable', message: 'off' },
  expected: [[draft.id, 1]],
}

let phone: Storage
const keysOf = (storage: Storage) => Array.from({ length: storage.length }, (_, i) => storage.key(i)!)
beforeEach(() => {
  phone = memoryStorage()
  vi.stubGlobal('localStorage', phone)
})
afterEach(() => {
  putOutbox([]) // this tab's own outlasts a storage
  vi.unstubAllGlobals()
})

/** As a tab that was closed has left it. */
const left = (...entries: unknown[]) => phone.setItem('moonplumb.unsaved.closed', JSON.stringify(entries))

describe('the outbox', () => {
  it('gives back what was put in, and is empty once that is written', () => {
    putOutbox([waiting])
    expect(takeOutbox()).toEqual([waiting])
    putOutbox([])
    expect(takeOutbox()).toEqual([])
    expect(keysOf(phone).filter(key => key.includes('unsaved'))).toEqual([])
  })

  it('takes over what a closed tab has left, and keeps it as its own', () => {
    left(waiting)
    expect(takeOutbox()).toEqual([waiting])
    expect(keysOf(phone)).not.toContain('moonplumb.unsaved.closed')
    expect(takeOutbox()).toEqual([waiting])
  })

  it('keeps records whose step only another version knows', () => {
    left({ ...waiting, step: { kind: 'polish', place: 'dish', subject: {} } }, { ...waiting, step: undefined })
    expect(takeOutbox().map(one => [one.step.kind, one.drafts])).toEqual([
      ['polish', [draft]],
      ['unknown', [draft]],
    ])
  })

  it('passes over what could not be written, beside what can', () => {
    left(null, 5, { ...waiting, drafts: 5 }, { ...waiting, drafts: [{ body: 1 }] }, waiting)
    expect(takeOutbox()).toEqual([waiting])
    phone.setItem('moonplumb.unsaved.closed', '{')
    expect(takeOutbox()).toEqual([waiting])
  })
})
