import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { base45, bytesIn, fromBase45 } from '../../../src/core/handover/base45.ts'

const ascii = (text: string) => Uint8Array.from(text, letter => letter.charCodeAt(0))

describe('base45', () => {
  // RFC 9285, sections 4.3 and 4.4: the published examples.
  it.each([
    ['AB', 'BB8'],
    ['Hello!!', '%69 VD92EX0'],
    ['base-45', 'UJCLQE7W581'],
    ['ietf!', 'QED8WEX0'],
  ])('of %j is %j, and back', (text, letters) => {
    expect(base45(ascii(text))).toBe(letters)
    expect(fromBase45(letters)).toEqual(ascii(text))
  })

  it('brings any bytes back, in as few letters as it says', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 600 }), bytes => {
        const text = base45(bytes)
        expect(fromBase45(text)).toEqual(bytes)
        expect(bytesIn(text.length)).toBe(bytes.length)
        expect(text).toMatch(/^[0-9A-Z $%*+\-./:]*$/)
      }),
    )
  })

  it('refuses what it never writes', () => {
    // RFC 9285, section 6: more than 65535, and more than 255 at the end.
    for (const text of ['GGW', 'a', 'ab', ':', ':::', 'A', '::', 'BB8A', 'bb8', 'BB8Ö0'])
      expect(fromBase45(text), text).toBe(null)
  })
})
