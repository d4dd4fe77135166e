import { afterEach, describe, expect, it, vi } from 'vitest'
import { askToPersist, persistence, roomLeft } from '../../src/store/room.ts'

const phone = (storage: object | undefined) => vi.stubGlobal('navigator', { storage })
afterEach(() => {
  vi.unstubAllGlobals()
})

describe('whether the data may be cleared', () => {
  it.each([
    [true, 'persistent'],
    [false, 'may-be-cleared'],
  ] as const)('is what the browser says: %s', async (granted, said) => {
    phone({ persist: async () => granted, persisted: async () => granted })
    expect([await askToPersist(), await persistence()]).toEqual([said, said])
  })

  it('is unknown where it does not say, or fails', async () => {
    const fails = () => Promise.reject(new Error('no'))
    for (const storage of [undefined, {}, { persist: fails, persisted: fails }]) {
      phone(storage)
      expect([await askToPersist(), await persistence()]).toEqual(['unknown', 'unknown'])
    }
  })
})

describe('roomLeft', () => {
  it('is bytes used and allowed, an empty phone too, and null where one of them is not said', async () => {
    phone({ estimate: async () => ({ usage: 0, quota: 100 }) })
    expect(await roomLeft()).toEqual({ usedBytes: 0, quotaBytes: 100 })
    for (const estimate of [undefined, async () => ({ usage: 5 }), () => Promise.reject(new Error('no'))]) {
      phone({ estimate })
      expect(await roomLeft()).toBeNull()
    }
  })
})
