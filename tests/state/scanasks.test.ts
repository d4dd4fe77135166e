import { describe, expect, it } from 'vitest'
import { passAfter, TO_DRIVE_MS } from '../../src/state/scanasks.ts'

describe('passAfter', () => {
  it('leaves time to drive there and two widths to listen before, and falls on a full minute', () => {
    const now = Date.UTC(2026, 5, 10, 10, 0, 1)
    const pass = passAfter(now, 1416)
    expect(pass % 60_000).toBe(0)
    expect(pass - now).toBeGreaterThanOrEqual(TO_DRIVE_MS + 2 * 1_416_000)
    expect(pass - now).toBeLessThan(TO_DRIVE_MS + 2 * 1_416_000 + 60_000)
  })
})
