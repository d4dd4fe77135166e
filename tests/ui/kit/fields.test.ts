import { describe, expect, it } from 'vitest'
import { isSameName } from '../../../src/ui/kit/fields.tsx'

describe('the name typed before something is deleted', () => {
  it('is the same in either spelling of é, and with spaces round it', () => {
    expect(isSameName(' Cafe\u0301 dish ', 'Caf\u00e9 dish')).toBe(true)
    expect(isSameName('ridge dish', 'Ridge dish')).toBe(false)
    expect(isSameName('', 'Ridge dish')).toBe(false)
  })
  it('may be typed as it is shown where part of it cannot be seen', () => {
    expect(isSameName('a\ufffdb', 'a\u0007b')).toBe(true)
  })
})
