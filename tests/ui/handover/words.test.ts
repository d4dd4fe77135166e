import { describe, expect, it } from 'vitest'
import { isNoCamera, NO_CAMERA, SHOW } from '../../../src/ui/handover/words.ts'
import { plain } from '../../helpers/plain.ts'

describe('how much goes as codes', () => {
  it('is never said to be nothing, and to a tenth only while that tells', () => {
    expect(plain(SHOW.size(20, 1))).toContain('0.1 kB packed')
    expect(plain(SHOW.size(9_940, 40))).toContain('9.9 kB packed')
    expect(plain(SHOW.size(10_000, 40))).toContain('10 kB packed')
    expect(plain(SHOW.tooLong(312_400))).toContain('This is 312 kB packed')
  })

  it('counts two codes more than the parts, since some come twice, but one code is one', () => {
    expect(plain(SHOW.size(400, 1))).toContain('about 1 code,')
    expect(plain(SHOW.size(4_000, 9))).toContain('about 11 codes,')
  })

  it('says the rate, and where it goes no further', () => {
    expect(plain(SHOW.rate(1, 'slowest'))).toBe('1 code a second, the slowest')
    expect(plain(SHOW.rate(8, null))).toBe('8 codes a second')
  })
})

describe('isNoCamera', () => {
  it('has a sentence with a way on for each, and takes no other state for one', () => {
    for (const why of ['refused', 'none', 'busy', 'insecure', 'lost'] as const) {
      expect(isNoCamera(why), why).toBe(true)
      expect(NO_CAMERA[why], why).toMatch(/mport a file or a text|start it again/)
    }
    for (const state of ['off', 'on', 'toString'] as never[]) expect(isNoCamera(state), state).toBe(false)
  })
})
