import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sha256 } from '../../../src/core/handover/sha256.ts'

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')
const ascii = (text: string) => Uint8Array.from(text, letter => letter.charCodeAt(0))

describe('sha256', () => {
  // FIPS 180-2, appendix B: the published examples.
  it.each([
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ])('of %j is as published', (text, sum) => {
    expect(hex(sha256(ascii(text)))).toBe(sum)
  })

  it('is what Node makes of any bytes, all lengths about the ends of a block too', () => {
    for (let length = 0; length < 200; length++) {
      const bytes = Uint8Array.from({ length }, (_, k) => (k * 37 + length) & 255)
      expect(hex(sha256(bytes))).toBe(createHash('sha256').update(bytes).digest('hex'))
    }
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 3000 }), bytes => {
        expect(hex(sha256(bytes))).toBe(createHash('sha256').update(bytes).digest('hex'))
      }),
      { numRuns: 100 },
    )
  })
})
