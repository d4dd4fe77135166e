import { describe, expect, it } from 'vitest'
import { createWakeLock } from '../../src/device/wakelock.ts'

function phone(refuse = false) {
  let visible = true
  const listeners: (() => void)[] = []
  const locks: { released: boolean; drop: () => void }[] = []
  const device = {
    request: async () => {
      if (refuse) throw new DOMException('', 'NotAllowedError')
      let told = () => {}
      const lock = {
        released: false,
        release: async () => lock.drop(),
        addEventListener: (_: string, listener: () => void) => {
          told = listener
        },
        drop: () => {
          lock.released = true
          told()
        },
      }
      locks.push(lock)
      return lock
    },
    isVisible: () => visible,
    onVisibility: (listener: () => void) => void listeners.push(listener),
  }
  const show = (now: boolean) => {
    visible = now
    if (!now) for (const lock of locks) lock.drop()
    for (const listener of listeners) listener()
  }
  return { device, locks, show }
}
const soon = () => new Promise(resolve => setTimeout(resolve))

describe('the wake lock', () => {
  it('is held until the last holder lets go', async () => {
    const { device, locks } = phone()
    const wake = createWakeLock(device)
    const [one, two] = [wake.hold(), wake.hold()]
    await soon()
    expect([wake.state, locks.length]).toEqual(['held', 1])
    one()
    one()
    await soon()
    expect(wake.state).toBe('held')
    two()
    await soon()
    expect([wake.state, locks[0]!.released]).toEqual(['off', true])
  })

  it('is asked for again when the page comes back', async () => {
    const { device, locks, show } = phone()
    const wake = createWakeLock(device)
    wake.hold()
    await soon()
    show(false)
    await soon()
    expect(wake.state).toBe('refused')
    show(true)
    await soon()
    expect([wake.state, locks.length]).toEqual(['held', 2])
  })

  it('says refused and absent apart', async () => {
    const refused = createWakeLock(phone(true).device)
    refused.hold()
    await soon()
    expect(refused.state).toBe('refused')
    expect(createWakeLock({ ...phone().device, request: undefined }).state).toBe('absent')
  })
})
