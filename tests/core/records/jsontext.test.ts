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
    ['{"a":1,}', 'the file is damaged at line 1, column 8: there is "}" where a key in double quotes should stand'],
    ['{"a":1\n"b":2}', 'the file is damaged at line 2, column 1: there is "\'" where "," or "}" should stand'],
    ['{a:1}', 'the file is damaged at line 1, column 2: there is "a" where a key in double quotes or "}" should stand'],
    ['{"a" 1}', 'the file is damaged at line 1, column 6: there is "1" where ":" should stand'],
    ['[1 2]', 'the file is damaged at line 1, column 4: there is "2" where "," or "]" should stand'],
    ['[1,]', 'the file is damaged at line 1, column 4: there is "]" where a value should stand'],
    ['{} x', 'the file is damaged at line 1, column 4: there is "x" where the end of the file should stand'],
    ['{"a":01}', 'the file is damaged at line 1, column 7: there is "1" where "," or "}" should stand'],
    ['[NaN]', 'the file is damaged at line 1, column 2: there is "N" where a value or "]" should stand'],
    ['["a\nb"]', 'the file is damaged at line 1, column 4: a control character inside a string'],
    ['["\\x"]', 'the file is damaged at line 1, column 3: an unknown escape in a string'],
    ['["\\u12"]', 'the file is damaged at line 1, column 3: an unknown escape in a string'],
    ['{"a":', 'the file is cut off at line 1, column 6, where a value should follow: take the whole file'],
    ['[1,2', 'the file is cut off at line 1, column 5, where "," or "]" should follow: take the whole file'],
    ['["ab', 'the file is cut off at line 1, column 5, inside a text in quotes: take the whole file'],
    ['["\\u12', 'the file is cut off at line 1, column 7, inside a text in quotes: take the whole file'],
    ['[tru', 'the file is cut off at line 1, column 5, inside a value: take the whole file'],
    [
      'hello, here is the book',
      'this is not a field book: it begins with "hello, here is the b", and a field book begins with "{"',
    ],
    [' \n', 'the file is empty: a field book begins with "{"'],
  ])('%j: %s', (text, says) => {
    expect(() => JSON.parse(text)).toThrow()
    expect(whereJsonBreaks(text)).toBe(says)
  })

  it('agrees with JSON.parse about what is whole: a good text with junk behind it breaks at the junk', () => {
    fc.assert(
      fc.property(fc.json(), fc.constantFrom('x', ']', '}', ',', ':'), (json, junk) => {
        expect(whereJsonBreaks(`${json}\n\n${junk}`)).toBe(
          `the file is damaged at ${placeInText(`${json}\n\n`, json.length + 2)}: there is "${junk}" where the end of the file should stand`,
        )
      }),
      { seed: 2 },
    )
  })
})
