import { describe, expect, it } from 'vitest'
import { heightFrom, passAfter, TO_DRIVE_MS } from '../../src/state/scanasks.ts'

describe('passAfter', () => {
  it('leaves time to drive there and two widths to listen before, and falls on a full minute', () => {
    const now = Date.UTC(2026, 5, 10, 10, 0, 1)
    const pass = passAfter(now, 1416)
    expect(pass % 60_000).toBe(0)
    expect(pass - now).toBeGreaterThanOrEqual(TO_DRIVE_MS + 2 * 1_416_000)
    expect(pass - now).toBeLessThan(TO_DRIVE_MS + 2 * 1_416_000 + 60_000)
  })
})

describe('heightFrom', () => {
  it('is the target alone: 3.01 dB over the sky is as much as the sky; 0.1 dB there is 4.6 % of it', () => {
    // d(10^(x/10)) = ln 10/10 · 10^(x/10) dx: 0.2303 · 2 · 0.1 = 0.046 of the sky.
    const { value, sigma } = heightFrom(5, { riseDb: 10 * Math.log10(2), sigmaDb: 0.1 })
    expect(value).toBeCloseTo(5, 9)
    expect(sigma).toBeCloseTo(5 * 0.04605, 4)
  })
})
