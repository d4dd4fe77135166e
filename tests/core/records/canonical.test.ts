import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonicalText, hashOfText } from '../../../src/core/records/canonical.ts'

describe('hashOfText', () => {
  it("is FNV-1a of 64 bits, by its authors' test vectors", () => {
    // Noll's published vectors (also RFC 9923, appendix C), from memory.
    expect(hashOfText('')).toBe('cbf29ce484222325')
    expect(hashOfText('a')).toBe('af63dc4c8601ec8c')
    expect(hashOfText('foobar')).toBe('85944171f73967e8')
  })

  it('agrees with the definition in whole numbers of any size, over the bytes of UTF-8', () => {
    const byDefinition = (text: string): string => {
      let h = 0xcbf29ce484222325n
      for (const byte of new TextEncoder().encode(text)) h = ((h ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn
      return h.toString(16).padStart(16, '0')
    }
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), text => {
        expect(hashOfText(text)).toBe(byDefinition(text))
      }),
      { seed: 11, numRuns: 60 },
    )
  })

  it('tells a lone half of a character from its replacement', () => {
    expect(hashOfText('\ud800')).not.toBe(hashOfText('\ufffd'))
  })
})

describe('canonicalText', () => {
  it('is the same for the same value in any order of keys, and another for another value', () => {
    const shuffled = (x: unknown): unknown =>
      Array.isArray(x)
        ? x.map(shuffled)
        : typeof x === 'object' && x !== null
          ? Object.fromEntries(
              Object.entries(x)
                .reverse()
                .map(([key, value]) => [key, shuffled(value)]),
            )
          : x
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (a, b) => {
        expect(canonicalText(shuffled(a))).toBe(canonicalText(a))
        expect(JSON.parse(canonicalText(a))).toEqual(JSON.parse(JSON.stringify(a)))
        if (canonicalText(a) === canonicalText(b))
          expect(JSON.parse(JSON.stringify(a))).toEqual(JSON.parse(JSON.stringify(b)))
      }),
      { seed: 12, numRuns: 300 },
    )
  })
  it('knows only what is in the value itself', () => {
    expect(canonicalText(JSON.parse('{"__proto__": {"b": 1, "a": 2}, "constructor": 1}'))).toBe(
      '{"__proto__":{"a":2,"b":1},"constructor":1}',
    )
    expect(canonicalText({ a: undefined, b: -0 })).toBe('{"b":0}')
  })
})
