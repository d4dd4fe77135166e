import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { placeInText, tooDeepAt, utf8Bytes, whereJsonBreaks } from '../../../src/core/records/jsontext.ts'

describe('utf8Bytes', () => {
  it('counts as the encoder does, for any string, lone surrogates included', () => {
    const encoder = new TextEncoder()
    fc.assert(
      fc.property(fc.string({ unit: fc.nat(0xffff).map(c => String.fromCharCode(c)) }), text => {
        expect(utf8Bytes(text)).toBe(encoder.encode(text).length)
      }),
      { seed: 1 },
    )
  })
})

describe('tooDeepAt', () => {
  it('finds the bracket that opens the fourth level when three are allowed', () => {
    expect(tooDeepAt('[[{"a":[1]}]]', 3)).toBe(7)
    expect(tooDeepAt('[[{"a":"[[[[\\"[["}],[[]]]', 3)).toBe(-1)
  })
})

describe('placeInText', () => {
  it('counts lines and columns from one', () => {
    expect(placeInText('ab\ncd\ne', 0)).toBe('line 1, column 1')
    expect(placeInText('ab\ncd\ne', 4)).toBe('line 2, column 2')
    expect(placeInText('ab\ncd\ne', 6)).toBe('line 3, column 1')
  })
})

describe('whereJsonBreaks', () => {
  it.each([
    ['{"a":1,}', 'not JSON: line 1, column 8: expected a key in double quotes, found "}"'],
    ['{"a":1\n"b":2}', 'not JSON: line 2, column 1: expected "," or "}", found "\'"'],
    ['{a:1}', 'not JSON: line 1, column 2: expected a key in double quotes or "}", found "a"'],
    ['{"a" 1}', 'not JSON: line 1, column 6: expected ":", found "1"'],
    ['[1 2]', 'not JSON: line 1, column 4: expected "," or "]", found "2"'],
    ['[1,]', 'not JSON: line 1, column 4: expected a value, found "]"'],
    ['{} x', 'not JSON: line 1, column 4: expected the end of the file, found "x"'],
    ['{"a":01}', 'not JSON: line 1, column 7: expected "," or "}", found "1"'],
    ['[NaN]', 'not JSON: line 1, column 2: expected a value or "]", found "N"'],
    ['["a\nb"]', 'not JSON: a control character inside a string at line 1, column 4'],
    ['["\\x"]', 'not JSON: an unknown escape in a string at line 1, column 3'],
    ['["\\u12"]', 'not JSON: an unknown escape in a string at line 1, column 3'],
    ['{"a":', 'the file is cut off: it ends at line 1, column 6, where a value should follow'],
    ['[1,2', 'the file is cut off: it ends at line 1, column 5, where "," or "]" should follow'],
    ['["ab', 'the file is cut off: it ends at line 1, column 5, inside a string'],
    ['["\\u12', 'the file is cut off: it ends at line 1, column 7, inside a string'],
    ['[tru', 'the file is cut off: it ends at line 1, column 5, inside a value'],
  ])('%j: %s', (text, says) => {
    expect(() => JSON.parse(text)).toThrow()
    expect(whereJsonBreaks(text)).toBe(says)
  })

  it('agrees with JSON.parse about what is whole: a good text with junk behind it breaks at the junk', () => {
    fc.assert(
      fc.property(fc.json(), fc.constantFrom('x', ']', '}', ',', ':'), (json, junk) => {
        expect(whereJsonBreaks(`${json}\n\n${junk}`)).toBe(
          `not JSON: ${placeInText(`${json}\n\n`, json.length + 2)}: expected the end of the file, found "${junk}"`,
        )
      }),
      { seed: 2 },
    )
  })
})
